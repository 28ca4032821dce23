package paper

import (
	"slices"

	"thirdwise/arrange"
	"thirdwise/theory"
)

// repeating returns the notation of a score for all parts. The line's repeats
// are kept where chords and bass play alike each time; otherwise all bars are
// written out, because one set of notes would not tell what is played.
func repeating(s *arrange.Score) *Notation {
	n := Notate(s)
	for _, m := range n.Measures {
		for _, bar := range m.Bars[1:] {
			if !playedAlike(s, m.Bars[0], bar) {
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

// playedAlike reports whether chords and bass play the same in two bars.
func playedAlike(s *arrange.Score, a, b int) bool {
	startA, startB := s.Bars[a].Tick, s.Bars[b].Tick
	strumTick := func(strum arrange.Strum) int { return strum.Tick }
	bassTick := func(n arrange.BassNote) int { return n.Tick }
	return slices.EqualFunc(
		within(s.Strums, strumTick, startA, s.Meter.Bar()),
		within(s.Strums, strumTick, startB, s.Meter.Bar()),
		func(x, y arrange.Strum) bool {
			return x.Tick-startA == y.Tick-startB && x.Length == y.Length && x.Up == y.Up && slices.Equal(x.Notes, y.Notes)
		},
	) && slices.EqualFunc(
		within(s.Bass, bassTick, startA, s.Meter.Bar()),
		within(s.Bass, bassTick, startB, s.Meter.Bar()),
		func(x, y arrange.BassNote) bool {
			return x.Tick-startA == y.Tick-startB && x.Length == y.Length && x.Pitch == y.Pitch && x.Place == y.Place
		},
	)
}

// within returns what begins in a stretch of time. Ticks rise.
func within[E any](all []E, tick func(E) int, start, length int) []E {
	byTick := func(e E, at int) int { return tick(e) - at }
	from, _ := slices.BinarySearchFunc(all, start, byTick)
	to, _ := slices.BinarySearchFunc(all, start+length, byTick)
	return all[from:to]
}

// measuresOf returns the notation's measures with other events. Chords and bass
// follow the same rules of rhythm as the line does, so what they play is given
// as if it were thirds; an event's Thirds are indexes into it.
func measuresOf(n *Notation, played []arrange.Third) []Measure {
	asLine := *n.Score
	asLine.Line = played
	measures := slices.Clone(n.Measures)
	for i := range measures {
		m := &measures[i]
		m.Events, m.Tuplets = nil, nil
		m.writeEvents(&asLine)
		m.beam(n.Score.Meter)
	}
	return measures
}

func strumMeasures(n *Notation) []Measure {
	played := make([]arrange.Third, len(n.Score.Strums))
	for i, strum := range n.Score.Strums {
		played[i] = arrange.Third{Tick: strum.Tick, Length: strum.Length}
	}
	return measuresOf(n, played)
}

func bassMeasures(n *Notation) []Measure {
	played := make([]arrange.Third, len(n.Score.Bass))
	for i, note := range n.Score.Bass {
		played[i] = arrange.Third{Tick: note.Tick, Length: note.Length}
	}
	return measuresOf(n, played)
}

// chordsMeasure writes one measure of the chords part.
func (d *document) chordsMeasure(i int, m *Measure) {
	s := d.notation.Score
	d.beginMeasure(i)
	if i == 0 {
		d.begin("attributes")
		d.keyAndTime()
		d.clef("G", 2)
		d.end()
	}
	signs := newAccidentalRun(s.Key)
	for j := range m.Events {
		e := &m.Events[j]
		if e.Rest() {
			d.rest(m, j, soleStaff)
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

// bassMeasure writes one measure of the bass part, which reads an octave higher
// than it sounds.
func (d *document) bassMeasure(i int, m *Measure) {
	s := d.notation.Score
	d.beginMeasure(i)
	if i == 0 {
		d.begin("attributes")
		d.keyAndTime()
		d.clef("F", 4)
		d.end()
	}
	signs := newAccidentalRun(s.Key)
	for j := range m.Events {
		e := &m.Events[j]
		if e.Rest() {
			d.rest(m, j, soleStaff)
			continue
		}
		n := s.Bass[e.Thirds[0]]
		accidental := !e.TiedFrom && signs.needs(n.Pitch)
		d.event(m, j, soleStaff, []writtenNote{{n.Pitch, n.Place, accidental}}, "")
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
