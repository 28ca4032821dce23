package paper

import (
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// A Notation is a score's line as it is written down.
type Notation struct {
	Score    *score.Score
	Measures []Measure // in the order in which they stand on the page

	wayBack *Event // the first that is not played the last time; nil where there is none
}

// A Measure is a bar as it stands on the page. Where a repeat plays it more
// than once, it stands for several bars of the score.
type Measure struct {
	score.WrittenBar

	Tick   int               // where it is first played, from the score's first bar
	Length int               // ticks
	Chords []score.ChordSpan // as first played, with ticks from the score's first bar

	Section     string // that begins before it, or ""
	SectionEnds bool   // another section begins behind it

	Events  []Event // they fill the measure
	Tuplets []Tuplet
}

// An Event is a third or a rest with a note value of its own. A third whose
// length is no single value, or would hide the beat, is several tied events.
type Event struct {
	Tick, Length int   // ticks as played straight, from the start of the measure
	Thirds       []int // indexes into Score.Line, one for each time the measure is played; nil for a rest
	Third        score.Third
	LeadsBack    bool // not played the last time

	Value       Value
	Dots        int
	MeasureRest bool // a rest that fills the measure, whatever its length; Value is a whole

	TiedFrom, TiedTo bool // to the event before, to the one after
	// Accidentals tells whether an accidental stands before the lower and the
	// upper note. Which one follows from the note's own alteration.
	Accidentals [2]bool

	Tuplet int        // index into the measure's Tuplets, or -1
	Beams  []BeamPart // one for each of its beams, the one farthest from the notehead first; nil where it has flags or none
}

// Rest reports whether the event is a rest.
func (e *Event) Rest() bool { return e.Thirds == nil }

// End returns the tick at which the event ends, from the start of the measure.
func (e *Event) End() int { return e.Tick + e.Length }

// A Value is a note value by what part of a whole note it is: 1 for a whole, 4
// for a quarter, 8 for an eighth.
type Value int

// Flags returns how many flags or beams a note of the value has.
func (v Value) Flags() int {
	n := 0
	for ; v > 4; v /= 2 {
		n++
	}
	return n
}

// A Tuplet is events that together last as long as another number of their
// value would.
type Tuplet struct {
	First, Last    int   // indexes into the measure's Events
	Actual, Normal int   // 3 in the time of 2 for a triplet
	Value          Value // of the notes that are counted
}

// A BeamPart is what one beam does at one event.
type BeamPart int

// The parts of a beam.
const (
	BeamBegins BeamPart = iota
	BeamContinues
	BeamEnds
	HookForward  // a stub towards the next event
	HookBackward // a stub towards the event before
)

// Notate works out how a score is written.
func Notate(s *score.Score) *Notation {
	n := &Notation{Score: s}
	for _, written := range s.WrittenBars() {
		first := s.Bars[written.Bars[0]]
		n.Measures = append(n.Measures, Measure{
			WrittenBar: written, Tick: first.Tick, Length: s.Meter.Bar(), Section: first.Section, Chords: first.Chords,
		})
	}
	for i := range n.Measures {
		m := &n.Measures[i]
		m.writeEvents(s)
		m.beam(s.Meter)
	}
	for i := range len(n.Measures) - 1 {
		n.Measures[i].SectionEnds = n.Measures[i+1].Section != ""
	}
	n.setAccidentals()
	n.wayBack = n.findWayBack()
	return n
}

// LastTime is what stands over the first third that leads back.
const LastTime = "last time: hold"

// BeginsWayBack reports whether an event is the first that leads back, which is
// not played the last time.
func (n *Notation) BeginsWayBack(e *Event) bool { return e == n.wayBack }

// findWayBack finds the first event that leads back.
func (n *Notation) findWayBack() *Event {
	for i := range n.Measures {
		for j := range n.Measures[i].Events {
			if e := &n.Measures[i].Events[j]; e.LeadsBack {
				return e
			}
		}
	}
	return nil
}

// With returns the notation with the same measures and another line in them.
// Chords and bass follow the rules of rhythm that the line does, so they are
// written as if they were thirds; an event's Thirds are indexes into line.
// Where a measure stands for several bars, line must be the same in each.
func (n *Notation) With(line []score.Third) *Notation {
	s := *n.Score
	s.Line = line
	out := &Notation{Score: &s, Measures: slices.Clone(n.Measures)}
	for i := range out.Measures {
		m := &out.Measures[i]
		m.Events, m.Tuplets = nil, nil
		m.writeEvents(&s)
		m.beam(s.Meter)
	}
	return out
}

// writeEvents fills the measure with the events of the bars that it stands for.
func (m *Measure) writeEvents(s *score.Score) {
	first := s.Stretches(m.Bars[0])
	if len(first) == 1 && first[0].Third < 0 {
		m.Events = []Event{{Length: m.Length, Value: 1, MeasureRest: true, Tuplet: -1}}
		return
	}
	thirds := make([][]int, len(first)) // by stretch
	for _, bar := range m.Bars {
		for i, st := range s.Stretches(bar) {
			if st.Third >= 0 {
				thirds[i] = append(thirds[i], st.Third)
			}
		}
	}
	units := rhythm(s.Meter, first)
	for i, st := range first {
		begun := len(m.Events)
		for _, u := range units {
			from, to := max(st.Start, u.start), min(st.End, u.end)
			if from >= to {
				continue
			}
			for _, p := range u.pieces(from, to, st.Third < 0) {
				m.Events = append(m.Events, Event{
					Tick: p.start, Length: p.end - p.start,
					Thirds: thirds[i],
					Value:  p.value, Dots: p.dots,
					Tuplet: -1,
				})
			}
		}
		if st.Third < 0 {
			continue
		}
		last := thirds[i][len(thirds[i])-1]
		for j := begun; j < len(m.Events); j++ {
			e := &m.Events[j]
			e.Third = s.Line[st.Third]
			e.LeadsBack = s.Line[last].LeadsBack
			e.TiedFrom = j > begun || st.Held
			e.TiedTo = j < len(m.Events)-1 || st.On
		}
	}
	m.bindTuplets(units)
}

// bindTuplets notes which events belong to which tuplet.
func (m *Measure) bindTuplets(units []unit) {
	for _, u := range units {
		if u.actual == 0 {
			continue
		}
		t := Tuplet{First: -1, Actual: u.actual, Normal: u.normal, Value: u.counted}
		for i := range m.Events {
			e := &m.Events[i]
			if e.Tick < u.start || e.Tick >= u.end {
				continue
			}
			if t.First < 0 {
				t.First = i
			}
			t.Last = i
			e.Tuplet = len(m.Tuplets)
		}
		m.Tuplets = append(m.Tuplets, t)
	}
}

// signatureOrder is the order of sharps in a key signature; flats come in the
// opposite order.
var signatureOrder = [7]theory.Letter{theory.F, theory.C, theory.G, theory.D, theory.A, theory.E, theory.B}

// signature returns the alteration that a key signature gives each letter.
func signature(fifths int) (alters [7]int) {
	for i := 0; i < fifths && i < 7; i++ {
		alters[signatureOrder[i]] = 1
	}
	for i := 0; i > fifths && i > -7; i-- {
		alters[signatureOrder[6+i]] = -1
	}
	return alters
}

// setAccidentals decides where accidentals stand. A note tied to the one before
// needs none, and what it has from the measure before does not hold for the
// notes after it.
func (n *Notation) setAccidentals() {
	for i := range n.Measures {
		inForce := NewAccidentals(n.Score.Key)
		for j := range n.Measures[i].Events {
			e := &n.Measures[i].Events[j]
			if e.Rest() || e.TiedFrom {
				continue
			}
			e.Accidentals[0] = inForce.Needs(e.Third.Notes.Lower)
			e.Accidentals[1] = inForce.Needs(e.Third.Notes.Upper)
		}
	}
}

// Accidentals follows what is in force through a measure: the key signature, and
// each accidental for its line or space to the end of the measure.
type Accidentals struct {
	signature [7]int      // alteration by letter
	set       map[int]int // alteration by staff step, where the measure has set one
}

// NewAccidentals returns what is in force where a measure begins.
func NewAccidentals(k theory.Key) Accidentals {
	return Accidentals{signature(k.Fifths()), map[int]int{}}
}

// Needs reports whether an accidental must stand before the next note, and takes
// note of it.
func (a Accidentals) Needs(p theory.Pitch) bool {
	alter, ok := a.set[p.Staff()]
	if !ok {
		alter = a.signature[p.Letter]
	}
	a.set[p.Staff()] = p.Alter
	return alter != p.Alter
}
