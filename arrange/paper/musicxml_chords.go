package paper

import (
	"slices"

	"thirdwise/arrange"
	"thirdwise/theory"
)

// repeating returns the notation of a score for both parts. The line's repeats
// are kept where the chords are held alike each time; otherwise all bars are
// written out, because one set of notes would not tell what is played.
func repeating(s *arrange.Score) *Notation {
	n := Notate(s)
	for _, m := range n.Measures {
		for _, bar := range m.Bars[1:] {
			if !slices.EqualFunc(strumsIn(s, m.Bars[0]), strumsIn(s, bar), struckAlike) {
				return Notate(writtenOut(s))
			}
		}
	}
	return n
}

// writtenOut returns the score with every bar of its chart written for itself.
func writtenOut(s *arrange.Score) *arrange.Score {
	out := *s
	out.Bars = slices.Clone(s.Bars)
	for i := range out.Bars {
		out.Bars[i].Written = i
	}
	return &out
}

// strumsIn returns the strums that begin in a bar, with ticks from its start.
func strumsIn(s *arrange.Score, bar int) []arrange.Strum {
	start := s.Bars[bar].Tick
	byTick := func(strum arrange.Strum, tick int) int { return strum.Tick - tick }
	from, _ := slices.BinarySearchFunc(s.Strums, start, byTick)
	to, _ := slices.BinarySearchFunc(s.Strums, start+s.Meter.Bar(), byTick)
	strums := slices.Clone(s.Strums[from:to])
	for i := range strums {
		strums[i].Tick -= start
	}
	return strums
}

func struckAlike(a, b arrange.Strum) bool {
	return a.Tick == b.Tick && a.Length == b.Length && a.Up == b.Up && slices.Equal(a.Notes, b.Notes)
}

// strumMeasures returns the notation's measures with strums for events: an
// event's Thirds are then indexes of Score.Strums. Strums follow the same rules
// of rhythm as the line does, so they are notated as if each were a third.
func strumMeasures(n *Notation) []Measure {
	asLine := *n.Score
	asLine.Line = make([]arrange.Third, len(n.Score.Strums))
	for i, strum := range n.Score.Strums {
		asLine.Line[i] = arrange.Third{Tick: strum.Tick, Length: strum.Length}
	}
	measures := slices.Clone(n.Measures)
	for i := range measures {
		m := &measures[i]
		m.Events, m.Tuplets = nil, nil
		m.writeEvents(&asLine)
		m.beam(n.Score.Meter)
	}
	return measures
}

// chordsMeasure writes one measure of the chords part.
func (d *document) chordsMeasure(i int) {
	s := d.notation.Score
	m := &d.strums[i]
	d.beginMeasure(i)
	if i == 0 {
		d.begin("attributes")
		d.keyAndTime()
		d.guitarClef()
		d.end()
	}
	signs := newAccidentalRun(s.Key)
	for j := range m.Events {
		e := &m.Events[j]
		if e.Rest() {
			d.event(m, j, soleStaff, nil, "")
			continue
		}
		strum := s.Strums[e.Thirds[0]]
		stroke := "down-bow"
		if strum.Up {
			stroke = "up-bow"
		}
		if e.TiedFrom {
			stroke = ""
		}
		d.event(m, j, soleStaff, strumNotes(strum, e, signs), stroke)
	}
	d.rightBarline(i)
	d.end()
}

// strumNotes returns the notes of a strum as notation has them: from the lowest
// up, one that sounds on two strings once for each.
func strumNotes(strum arrange.Strum, e *Event, signs accidentalRun) []writtenNote {
	notes := make([]writtenNote, len(strum.Notes))
	for i, n := range strum.Notes {
		notes[i] = writtenNote{pitch: n.Pitch, place: n.Place}
	}
	slices.SortStableFunc(notes, func(a, b writtenNote) int { return a.pitch.MIDI() - b.pitch.MIDI() })
	for i := range notes {
		notes[i].accidental = !e.TiedFrom && signs.needs(notes[i].pitch)
	}
	return notes
}

// An accidentalRun follows the accidentals in force through a measure.
type accidentalRun struct {
	signature [7]int
	now       map[int]int // alteration by staff step, where it was set in the measure
}

func newAccidentalRun(k theory.Key) accidentalRun {
	return accidentalRun{signature(k.Fifths()), map[int]int{}}
}

// needs reports whether an accidental must stand before a pitch, and takes note
// of it.
func (r accidentalRun) needs(p theory.Pitch) bool {
	alter, ok := r.now[p.Staff()]
	if !ok {
		alter = r.signature[p.Letter]
	}
	r.now[p.Staff()] = p.Alter
	return alter != p.Alter
}
