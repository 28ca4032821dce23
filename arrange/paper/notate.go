package paper

import (
	"fmt"
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// A Notation is a score's line as it is written down.
type Notation struct {
	Score    *score.Score
	Measures []Measure // in the order in which they stand on the page

	heldLast *Event // to the end the last time; nil where nothing leads back
}

// A Measure is a bar as it stands on the page. Where a repeat plays it more
// than once, it stands for several bars of the score.
type Measure struct {
	score.WrittenBar

	Tick   int               // where its bar is first played, from the score's first bar
	Start  int               // ticks of the bar that are left out before it: the silence of a pickup
	Length int               // ticks
	Chords []score.ChordSpan // as first played, with ticks from the score's first bar

	Section     string // that begins before it, or ""
	SectionEnds bool   // another section begins behind it
	LineBegins  bool   // a line of the chart, as the teacher wrote it, begins before it

	Events  []Event // they fill the measure
	Tuplets []Tuplet
}

// ByChord returns the measure with a rest for each of its chords in place of its events.
func (m Measure) ByChord() *Measure {
	m.Events, m.Tuplets = nil, nil
	for _, span := range m.Chords {
		m.Events = append(m.Events, Event{Tick: span.Tick - m.Tick, Length: span.Length, Value: 1, Tuplet: -1})
	}
	return &m
}

// An Event is a third or a rest with a note value of its own. A third whose
// length is no single value, or would hide the beat, is several tied events.
type Event struct {
	Tick, Length int   // ticks as played straight, from the start of the bar
	Thirds       []int // indexes into Score.Line, one for each time the measure is played; nil for a rest
	Third        score.Third
	Pitches      []theory.Pitch // that stand on the staff, from the lowest up: a third's two, or one of the bass
	LeadsBack    bool           // not played the last time
	Fingered     bool           // the fingers of the left hand are told: where the line arrives, the hand moves or a finger stretches

	Value       Value
	Dots        int
	MeasureRest bool // a rest that fills the measure, whatever its length; Value is a whole

	TiedFrom, TiedTo bool          // to the event before, to the one after
	Accidentals      [2]Accidental // before each of the pitches

	Tuplet int        // index into the measure's Tuplets, or -1
	Beams  []BeamPart // one for each of its beams, the one farthest from the notehead first; nil where it has flags or none
}

// Rest reports whether the event is a rest.
func (e *Event) Rest() bool { return e.Thirds == nil }

// End returns the tick at which the event ends, from the start of the bar.
func (e *Event) End() int { return e.Tick + e.Length }

// A Value is a note value by what part of a whole note it is: 1 for a whole, 4
// for a quarter, 8 for an eighth.
type Value int

// Flags returns how many flags or beams a note of the value has.
func (v Value) Flags() int {
	n := 0
	for ; v >= 8; v /= 2 {
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

// Label returns the tuplet's number, as a ratio where it is not what a reader
// expects: the number alone stands in the time of the next lower power of two.
func (t Tuplet) Label() string {
	expected := 1
	for 2*expected < t.Actual {
		expected *= 2
	}
	if t.Normal == expected {
		return fmt.Sprint(t.Actual)
	}
	return fmt.Sprintf("%d:%d", t.Actual, t.Normal)
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
		m := Measure{
			WrittenBar: written, Tick: first.Tick, Length: s.Meter.Bar(), Section: first.Section, LineBegins: first.LineBegins, Chords: first.Chords,
		}
		if m.Again {
			m.Section = ""
		}
		n.Measures = append(n.Measures, m)
	}
	if s.Pickup {
		n.Measures[0].shorten(s)
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
	n.heldLast = n.findHeldLast()
	return n
}

// shorten leaves out what is silent before a pickup, the first measure, so that it is as
// long as it sounds (Gould, Behind Bars, from memory).
func (m *Measure) shorten(s *score.Score) {
	for len(m.Chords) > 1 && m.Chords[0].None {
		m.Chords = m.Chords[1:]
	}
	m.Start = m.Chords[0].Tick
	if len(s.Line) > 0 {
		m.Start = min(m.Start, max(0, s.Line[0].Tick))
	}
	m.Length -= m.Start
}

// HeldLastTime reports whether an event is the one to mark of the third that is held to
// the end the last time, when what leads back from it is not played: where it begins, or
// if it is tied over a bar line, as a pushed one is, where the bar behind that does.
func (n *Notation) HeldLastTime(e *Event) bool { return e == n.heldLast }

// findHeldLast finds the third before the first that leads back; it returns nil
// where none does.
func (n *Notation) findHeldLast() (held *Event) {
	for i := range n.Measures {
		for j := range n.Measures[i].Events {
			switch e := &n.Measures[i].Events[j]; {
			case e.LeadsBack:
				return held
			case !e.Rest() && (!e.TiedFrom || j == 0):
				held = e
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

// Bass returns the notation with the bass's notes in its measures, or nil where no
// bass plays. An event's Thirds are indexes into Score.Bass.
func (n *Notation) Bass() *Notation {
	bass := n.Score.Bass
	if len(bass) == 0 {
		return nil
	}
	lengths := make([]score.Third, len(bass))
	for i, note := range bass {
		lengths[i] = score.Third{Tick: note.Tick, Length: note.Length}
	}
	out := n.With(lengths)
	for i := range out.Measures {
		for j := range out.Measures[i].Events {
			if e := &out.Measures[i].Events[j]; !e.Rest() {
				e.Pitches = []theory.Pitch{bass[e.Thirds[0]].Pitch}
			}
		}
	}
	out.setAccidentals()
	return out
}

// writeEvents fills the measure with the events of the bars that it stands for.
func (m *Measure) writeEvents(s *score.Score) {
	first := s.Stretches(m.Bars[0])
	if len(first) == 1 && first[0].Third < 0 {
		m.Events = []Event{{Tick: m.Start, Length: m.Length, Value: 1, MeasureRest: true, Tuplet: -1}}
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
	units := unitsOf(s.Meter, first)
	for i, st := range first {
		begun := len(m.Events)
		for _, u := range units {
			from, to := max(st.Start, u.start, m.Start), min(st.End, u.end)
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
			e.Pitches = []theory.Pitch{e.Third.Notes.Lower, e.Third.Notes.Upper}
			e.LeadsBack = s.Line[last].LeadsBack
			e.TiedFrom = j > begun || st.Held
			e.Fingered = !e.TiedFrom && fingered(s, st.Third) && !m.fingeredBefore(j)
			e.TiedTo = j < len(m.Events)-1 || st.On
		}
	}
	m.bindTuplets(units)
}

// fingeredBefore reports whether the fingers of an event's third have been told in
// the measure, where the hand has stayed since.
func (m *Measure) fingeredBefore(i int) bool {
	of := m.Events[i].Third
	return of.Role != score.Arrival && slices.ContainsFunc(m.Events[:i], func(e Event) bool {
		return e.Fingered && e.Third.Places == of.Places && e.Third.Hand == of.Hand
	})
}

// fingered reports whether the fingers of a third are told. A hand in its place has
// four frets under its fingers.
func fingered(s *score.Score, i int) bool {
	t := s.Line[i]
	stretched := func(fret int) bool { return fret > 0 && (fret < t.Hand || fret > t.Hand+3) }
	moved := i > 0 && s.Line[i-1].Hand != t.Hand
	return t.Hand > 0 && (t.Role == score.Arrival || moved || stretched(t.Places.Lower.Fret) || stretched(t.Places.Upper.Fret))
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
