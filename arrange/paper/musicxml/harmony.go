package musicxml

import (
	"strconv"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// Tones of a chord above its root, as kinds of harmony are made of them.
var (
	root            = theory.Interval{Steps: 0, Semitones: 0}
	majorSecond     = theory.Interval{Steps: 1, Semitones: 2}
	minorThird      = theory.Interval{Steps: 2, Semitones: 3}
	majorThird      = theory.Interval{Steps: 2, Semitones: 4}
	fourth          = theory.Interval{Steps: 3, Semitones: 5}
	diminishedFifth = theory.Interval{Steps: 4, Semitones: 6}
	fifth           = theory.Interval{Steps: 4, Semitones: 7}
	augmentedFifth  = theory.Interval{Steps: 4, Semitones: 8}
	sixth           = theory.Interval{Steps: 5, Semitones: 9}
	diminished7th   = theory.Interval{Steps: 6, Semitones: 9}
	minorSeventh    = theory.Interval{Steps: 6, Semitones: 10}
	majorSeventh    = theory.Interval{Steps: 6, Semitones: 11}
	ninth           = theory.Interval{Steps: 8, Semitones: 14}
	eleventh        = theory.Interval{Steps: 10, Semitones: 17}
	thirteenth      = theory.Interval{Steps: 12, Semitones: 21}
)

// harmonyKinds holds the kinds of harmony and what they are made of, the
// simplest first: MusicXML 4.0, kind-value.
var harmonyKinds = [...]struct {
	name  string
	tones []theory.Interval
}{
	{"major", []theory.Interval{root, majorThird, fifth}},
	{"minor", []theory.Interval{root, minorThird, fifth}},
	{"augmented", []theory.Interval{root, majorThird, augmentedFifth}},
	{"diminished", []theory.Interval{root, minorThird, diminishedFifth}},
	{"suspended-second", []theory.Interval{root, majorSecond, fifth}},
	{"suspended-fourth", []theory.Interval{root, fourth, fifth}},
	{"power", []theory.Interval{root, fifth}},
	{"major-sixth", []theory.Interval{root, majorThird, fifth, sixth}},
	{"minor-sixth", []theory.Interval{root, minorThird, fifth, sixth}},
	{"dominant", []theory.Interval{root, majorThird, fifth, minorSeventh}},
	{"major-seventh", []theory.Interval{root, majorThird, fifth, majorSeventh}},
	{"minor-seventh", []theory.Interval{root, minorThird, fifth, minorSeventh}},
	{"diminished-seventh", []theory.Interval{root, minorThird, diminishedFifth, diminished7th}},
	{"augmented-seventh", []theory.Interval{root, majorThird, augmentedFifth, minorSeventh}},
	{"half-diminished", []theory.Interval{root, minorThird, diminishedFifth, minorSeventh}},
	{"major-minor", []theory.Interval{root, minorThird, fifth, majorSeventh}},
	{"dominant-ninth", []theory.Interval{root, majorThird, fifth, minorSeventh, ninth}},
	{"major-ninth", []theory.Interval{root, majorThird, fifth, majorSeventh, ninth}},
	{"minor-ninth", []theory.Interval{root, minorThird, fifth, minorSeventh, ninth}},
	{"dominant-11th", []theory.Interval{root, majorThird, fifth, minorSeventh, ninth, eleventh}},
	{"major-11th", []theory.Interval{root, majorThird, fifth, majorSeventh, ninth, eleventh}},
	{"minor-11th", []theory.Interval{root, minorThird, fifth, minorSeventh, ninth, eleventh}},
	{"dominant-13th", []theory.Interval{root, majorThird, fifth, minorSeventh, ninth, eleventh, thirteenth}},
	{"major-13th", []theory.Interval{root, majorThird, fifth, majorSeventh, ninth, eleventh, thirteenth}},
	{"minor-13th", []theory.Interval{root, minorThird, fifth, minorSeventh, ninth, eleventh, thirteenth}},
}

// A harmonyDegree says how a chord departs from its kind.
type harmonyDegree struct {
	value, alter int
	how          string // "add", "alter" or "subtract"
}

// harmonyCost weighs departures from a kind. A thirteenth chord is played
// without its eleventh (common practice), so leaving that out costs least.
func harmonyCost(d harmonyDegree) int {
	switch {
	case d.how == "subtract" && d.value == 11:
		return 1
	case d.how == "subtract":
		return 3
	}
	return 2
}

// kindOf returns the kind that a chord quality departs from least, and how.
func kindOf(q theory.Quality) (kind string, degrees []harmonyDegree) {
	least := -1
	for _, k := range harmonyKinds {
		cost, departures := 0, departuresFrom(k.tones, q.Intervals())
		for _, d := range departures {
			cost += harmonyCost(d)
		}
		if least < 0 || cost < least {
			least, kind, degrees = cost, k.name, departures
		}
	}
	return kind, degrees
}

// departuresFrom returns what must be done to a kind's tones to have the wanted
// ones. The alteration of an added degree is counted from where it lies in a
// dominant chord: major and perfect intervals, but a minor seventh.
func departuresFrom(kind, wanted []theory.Interval) []harmonyDegree {
	at := map[int]int{} // semitones by steps, of the kind's tones not yet met
	for _, tone := range kind {
		at[tone.Steps] = tone.Semitones
	}
	var degrees []harmonyDegree
	for _, tone := range wanted {
		semitones, ok := at[tone.Steps]
		delete(at, tone.Steps)
		switch {
		case !ok:
			degrees = append(degrees, harmonyDegree{tone.Steps + 1, tone.Semitones - dominantTone(tone.Steps), "add"})
		case semitones != tone.Semitones:
			degrees = append(degrees, harmonyDegree{tone.Steps + 1, tone.Semitones - semitones, "alter"})
		}
	}
	for _, tone := range kind {
		if _, left := at[tone.Steps]; left {
			degrees = append(degrees, harmonyDegree{tone.Steps + 1, 0, "subtract"})
		}
	}
	return degrees
}

// dominantTone returns the semitones of a tone above the root where the steps of
// the mixolydian scale on the root put it.
func dominantTone(steps int) int {
	scale := theory.Key{Mode: theory.Mixolydian}.Scale()
	return scale.At(steps).MIDI() - scale.At(0).MIDI()
}

// harmonies are the chord symbols of a measure that are still to be written.
type harmonies struct{ chords []score.ChordSpan }

// before writes the symbols of the chords that begin before an event of the measure
// ends. Grips stand above the guide alone.
func (h *harmonies) before(d *document, m *paper.Measure, e *paper.Event, staff staffNumber) {
	for len(h.chords) > 0 && h.chords[0].Tick-m.Tick < e.End() {
		d.harmony(h.chords[0], h.chords[0].Tick-m.Tick-e.Tick, staff)
		h.chords = h.chords[1:]
	}
}

// harmony writes a chord symbol, so many ticks behind the note that follows, and on
// the guide's staff the chord's grip. The symbol is that of the chord as it sounds;
// behind a capo words tell the shape that the hand plays.
func (d *document) harmony(span score.ChordSpan, offset int, staff staffNumber) {
	if span.None {
		d.noChord(span.Symbol(), offset, staff)
		return
	}
	if span.Shaped {
		d.words("as "+span.Shape.String(), offset, staff)
	}
	d.begin("harmony")
	d.chordSymbol(span.Chord)
	if staff == notationStaff {
		d.frame(span.Grip)
	}
	d.placed(offset, staff)
	d.end()
}

// noChord writes that no chord sounds. The standard wants a root or a numeral for that
// too, to be passed over in silence, which some readers do not do: so the symbol is
// words, and the harmony is hidden.
func (d *document) noChord(symbol string, offset int, staff staffNumber) {
	d.words(symbol, offset, staff)
	d.begin("harmony", "print-object", "no")
	d.begin("numeral")
	d.leaf("numeral-root", 1, "text", "")
	d.end()
	d.leaf("kind", "none", "text", symbol)
	d.placed(offset, staff)
	d.end()
}

// placed writes where something stands: so many ticks behind the note that follows, and
// on which staff, where its part has several.
func (d *document) placed(offset int, staff staffNumber) {
	if offset != 0 {
		d.leaf("offset", offset)
	}
	d.staff(staff)
}

func (d *document) chordSymbol(c theory.Chord) {
	d.begin("root")
	d.tone("root-", c.Root)
	d.end()
	kind, degrees := kindOf(c.Quality)
	d.leaf("kind", kind, "text", c.Quality.String())
	if c.Bass != c.Root {
		d.begin("bass")
		d.tone("bass-", c.Bass)
		d.end()
	}
	for _, degree := range degrees {
		d.begin("degree", "print-object", "no") // the kind's text has it
		d.leaf("degree-value", degree.value)
		d.leaf("degree-alter", degree.alter)
		d.leaf("degree-type", degree.how)
		d.end()
	}
}

// frameFrets is how many frets a frame shows at the least.
const frameFrets = 4

// fretting writes the finger on a string of a grip and, where a finger lies across
// several, whether its barre starts there, on the lowest, or stops, on the highest.
func (d *document) fretting(f neck.Fingers, str, finger, fret int) {
	if finger > 0 {
		d.leaf("fingering", finger)
	}
	for _, b := range f.Barres {
		switch {
		case b.Fret != fret:
		case b.From == str:
			d.empty("barre", "type", "start")
		case b.To == str:
			d.empty("barre", "type", "stop")
		}
	}
}

// frame writes a grip as a frame: from the nut, or from the grip's own lowest
// fret where it would not fit below the nut.
func (d *document) frame(g neck.Grip) {
	lowest, highest, _ := g.Stopped()
	first := 1
	if highest > frameFrets {
		first = lowest
	}
	fingers, held := g.Fingers()
	d.begin("frame", "unplayed", "x")
	d.leaf("frame-strings", len(g))
	d.leaf("frame-frets", max(frameFrets, highest-first+1))
	if first > 1 {
		d.leaf("first-fret", first, "text", strconv.Itoa(first), "location", "right")
	}
	for str, fret := range g.Strings() {
		if fret == neck.NotPlayed {
			continue
		}
		d.begin("frame-note")
		d.leaf("string", str)
		d.leaf("fret", fret)
		if held {
			d.fretting(fingers, str, fingers.Of[len(g)-str], fret)
		}
		d.end()
	}
	d.end()
}
