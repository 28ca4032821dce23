package exercise

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/exercise/strum"
	"thirdwise/theory"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
)

// rhythmSigns says which signs there are in a rhythm.
const rhythmSigns = "use x where a third begins, - where it is held, . where the line rests"

// rhythmSignOf is what is written for the signs of a rhythm.
var rhythmSignOf = map[rune]rhythm.Sign{
	'x': rhythm.Begin, 'X': rhythm.Begin, '×': rhythm.Begin,
	'-': rhythm.Hold, '–': rhythm.Hold, '—': rhythm.Hold, '−': rhythm.Hold,
	'.': rhythm.Rest, '·': rhythm.Rest,
}

// An OwnSlot is one slot of a bar that the teacher writes: its sign, and the lower
// note of the third that begins, where it is written too.
type OwnSlot struct {
	Sign  rhythm.Sign
	Lower *theory.Pitch
	At    source.Span
}

// readRhythm reads the rhythms of bars, one sign a slot, with | between them.
func readRhythm(t source.Text, m meter.Meter) [][]rhythm.Sign {
	var bars [][]rhythm.Sign
	for _, bar := range t.Fields(func(r rune) bool { return r == '|' }) {
		var signs []rhythm.Sign
		for _, word := range bar.Words() {
			for i := range word.Len() {
				sign, ok := rhythmSignOf[word.Rune(i)]
				if !ok {
					oddSign(word, i)
					return nil
				}
				signs = append(signs, sign)
			}
		}
		if len(signs) > 0 {
			checkSlots(bar, signs, m)
			bars = append(bars, signs)
		}
	}
	if !slices.ContainsFunc(bars, func(signs []rhythm.Sign) bool { return slices.Contains(signs, rhythm.Begin) }) {
		t.Mistake("in this rhythm no third begins", rhythmSigns)
	}
	return bars
}

// oddSign notes a character of a rhythm that is no sign of it. A note belongs elsewhere.
func oddSign(word source.Text, i int) {
	if _, err := theory.ParsePitch(word.String()); err == nil {
		word.Mistake("a rhythm has no notes", "write x in its place; bars with notes stand under own:, each with its number")
		return
	}
	odd := word.Part(i, i+1)
	odd.Mistake(odd.Quoted()+" is not a sign of a rhythm", rhythmSigns)
}

// checkSlots notes a bar whose slots are not those of the meter, and a hold behind a
// rest.
func checkSlots(t source.Text, signs []rhythm.Sign, m meter.Meter) {
	if m.Unit > 0 && !strum.IsSlot(m, len(signs)) {
		eighths := m.Bar() / (meter.Quarter / 2)
		t.Mistake(fmt.Sprintf("%d signs do not divide a bar of %s evenly", len(signs), m),
			fmt.Sprintf("write %d signs, one for each eighth, or %d, one for each sixteenth", eighths, 2*eighths))
	}
	if strings.Contains(string(signs), string([]rhythm.Sign{rhythm.Rest, rhythm.Hold})) {
		t.Mistake("after a rest there is nothing to hold", "write . for as long as the rest lasts")
	}
}

// readPush reads whether arrivals come early.
func readPush(t source.Text) bool {
	i, _ := choose(t, "a way to push", []string{"off", "on"}, map[string]string{
		"no": "off", "false": "off", "none": "off", "yes": "on", "true": "on",
	})
	return i == 1
}

// readOwn reads the bars that the teacher writes, by the number of the bar. They are
// returned by the bar's index in the chart.
func readOwn(s setting, bars []chart.Bar, m meter.Meter) map[int][]OwnSlot {
	if s.Kind != source.Group {
		s.Mistake("own holds bars, each with its number", "indent a line below it, as in 3: C4 - - . E4 F4 G4 A4")
		return nil
	}
	own := map[int][]OwnSlot{}
	for _, written := range s.Group {
		bar, ok := ownBar(written.Name, bars)
		switch {
		case !ok:
		case own[bar] != nil:
			written.Name.Mistake("bar "+written.Name.String()+" is written twice", "keep one of the two")
		case written.Value.Kind != source.One || written.Value.String() == "":
			written.Name.Mistake("bar "+written.Name.String()+" has no notes", "write them behind the colon, as in 3: C4 - - . E4 F4 G4 A4")
		default:
			own[bar] = readSlots(written.Value.Text, m)
		}
	}
	return own
}

// ownBar returns the index of the bar that a number names. Where the chart begins
// with a pickup, that is bar 0.
func ownBar(name source.Text, bars []chart.Bar) (index int, ok bool) {
	first := 1
	if len(bars) > 0 && bars[0].Pickup {
		first = 0
	}
	n, err := strconv.Atoi(name.String())
	last := first + len(bars) - 1
	switch {
	case err != nil:
		name.Mistake(name.Quoted()+" is not the number of a bar", fmt.Sprintf("use a number from %d to %d", first, last))
	case len(bars) == 0: // what is wrong with the chart has been told
	case n < first || n > last:
		name.Mistake(fmt.Sprintf("the chart has no bar %d", n), fmt.Sprintf("use a number from %d to %d", first, last))
	case !slices.ContainsFunc(bars[n-first].Chords, func(c chart.Chord) bool { return !c.None }):
		name.Mistake(fmt.Sprintf("in bar %d no chord sounds", n), "write a chord there, or take the bar out here")
	default:
		return n - first, true
	}
	return 0, false
}

// readSlots reads the slots of a bar: a lower note or a sign for each.
func readSlots(t source.Text, m meter.Meter) []OwnSlot {
	var slots []OwnSlot
	var signs []rhythm.Sign
	add := func(sign rhythm.Sign, lower *theory.Pitch, at source.Text) {
		slots = append(slots, OwnSlot{sign, lower, at.Span()})
		signs = append(signs, sign)
	}
	for _, word := range t.Words() {
		if _, ok := rhythmSignOf[word.Rune(0)]; ok {
			for i := range word.Len() {
				sign, ok := rhythmSignOf[word.Rune(i)]
				if !ok {
					word.Mistake(word.Quoted()+" is neither a note nor a sign of a rhythm", "write a note such as C4; "+rhythmSigns)
					return nil
				}
				add(sign, nil, word.Part(i, i+1))
			}
			continue
		}
		if pair.MatchString(word.String()) {
			word.Mistake("each third is written as its lower note alone", "leave its upper note and any brackets out, as in C4 - - . E4 F4 G4 A4")
			return nil
		}
		lower := readPitch(word)
		if lower == nil {
			return nil
		}
		add(rhythm.Begin, lower, word)
	}
	checkSlots(t, signs, m)
	return slots
}

// pair matches a third that is written with both its notes, or begins so: C4-E4, (C4.
var pair = regexp.MustCompile(`^\(|^[A-Ga-g][#b♯♭]?\d?[-–/+&,][A-Ga-g][#b♯♭]?\d?$|^[A-Ga-g][#b♯♭]?\d[A-Ga-g][#b♯♭]?\d$`)

// transposeOwn moves written notes by an interval, up or down, whichever is nearer.
func transposeOwn(own map[int][]OwnSlot, step theory.Interval) map[int][]OwnSlot {
	switch octave := (theory.Interval{Steps: 7, Semitones: 12}); {
	case step.Semitones > 6:
		step = theory.Interval{Steps: step.Steps - octave.Steps, Semitones: step.Semitones - octave.Semitones}
	case step.Semitones < -6:
		step = theory.Interval{Steps: step.Steps + octave.Steps, Semitones: step.Semitones + octave.Semitones}
	}
	moved := map[int][]OwnSlot{}
	for bar, slots := range own {
		moved[bar] = slices.Clone(slots)
		for i, slot := range slots {
			if slot.Lower != nil {
				lower := slot.Lower.Up(step)
				moved[bar][i].Lower = &lower
			}
		}
	}
	return moved
}
