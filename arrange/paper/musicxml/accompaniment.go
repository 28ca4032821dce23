package musicxml

import (
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
)

// repeating returns a notation of the line for all parts. Its repeats are kept
// where chords and bass play alike each time; otherwise all bars are written out,
// because one set of notes would not tell what is played.
func repeating(n *paper.Notation) *paper.Notation {
	for _, m := range n.Measures {
		for _, bar := range m.Bars[1:] {
			if !playedAlike(n.Score, m.Bars[0], bar) {
				return paper.Notate(writtenOut(n.Score))
			}
		}
	}
	return n
}

// writtenOut returns the score with every bar of its chart written for itself.
func writtenOut(s *score.Score) *score.Score {
	out := *s
	out.Bars = slices.Clone(s.Bars)
	for i := range out.Bars {
		out.Bars[i].Written = i
	}
	return &out
}

// playedAlike reports whether chords and bass play the same in two bars.
func playedAlike(s *score.Score, a, b int) bool {
	startA, startB := s.Bars[a].Tick, s.Bars[b].Tick
	strumTick := func(strum score.Strum) int { return strum.Tick }
	bassTick := func(n score.BassNote) int { return n.Tick }
	return slices.EqualFunc(
		within(s.Strums, strumTick, startA, s.Meter.Bar()),
		within(s.Strums, strumTick, startB, s.Meter.Bar()),
		func(x, y score.Strum) bool {
			return x.Tick-startA == y.Tick-startB && x.Length == y.Length && x.Up == y.Up && slices.Equal(x.Notes, y.Notes)
		},
	) && slices.EqualFunc(
		within(s.Bass, bassTick, startA, s.Meter.Bar()),
		within(s.Bass, bassTick, startB, s.Meter.Bar()),
		func(x, y score.BassNote) bool {
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

// chords writes the part of the strums.
func (d *document) chords() {
	s := d.notation.Score
	played := make([]score.Third, len(s.Strums))
	for i, strum := range s.Strums {
		played[i] = score.Third{Tick: strum.Tick, Length: strum.Length}
	}
	d.accompaniment(chordsPart, "G", 2, played, func(e *paper.Event, inForce *paper.Accidentals) (notes []writtenNote, stroke string) {
		strum := s.Strums[e.Thirds[0]]
		switch {
		case e.TiedFrom:
		case strum.Up:
			stroke = "up-bow"
		default:
			stroke = "down-bow"
		}
		return strumNotes(strum, e, inForce), stroke
	})
}

// bass writes the part of the bass.
func (d *document) bass() {
	s := d.notation.Score
	played := make([]score.Third, len(s.Bass))
	for i, n := range s.Bass {
		played[i] = score.Third{Tick: n.Tick, Length: n.Length}
	}
	d.accompaniment(bassPart, "F", 4, played, func(e *paper.Event, inForce *paper.Accidentals) (notes []writtenNote, stroke string) {
		n := s.Bass[e.Thirds[0]]
		return []writtenNote{{pitch: n.Pitch, accidental: inForce.Before(n.Pitch, e.TiedFrom)}}, ""
	})
}

// accompaniment writes a part with one staff, its clef and what is played. The
// notes of an event that sounds, and the sign for the hand at it, are asked for
// in the order in which they stand in their measure.
func (d *document) accompaniment(id, clefSign string, clefLine int, played []score.Third,
	notes func(*paper.Event, *paper.Accidentals) (notes []writtenNote, stroke string)) {
	d.begin("part", "id", id)
	inForce := paper.NewAccidentals(d.notation.Score.Key)
	for i, m := range d.notation.With(played).Measures {
		inForce.BarLine()
		d.beginMeasure(i)
		if i == 0 {
			d.begin("attributes")
			d.keyAndTime()
			d.clef(clefSign, clefLine)
			d.end()
		}
		for j := range m.Events {
			if m.Events[j].Rest() {
				d.rest(&m, j, soleStaff)
				continue
			}
			sounding, stroke := notes(&m.Events[j], inForce)
			d.event(&m, j, soleStaff, sounding, stroke)
		}
		d.rightBarline(i)
		d.end()
	}
	d.end()
}

// strumNotes returns the notes of a strum as notation has them: from the lowest
// up, one that sounds on two strings once.
func strumNotes(strum score.Strum, e *paper.Event, inForce *paper.Accidentals) []writtenNote {
	notes := make([]writtenNote, len(strum.Notes))
	for i, n := range strum.Notes {
		notes[i] = writtenNote{pitch: n.Pitch}
	}
	slices.SortFunc(notes, func(a, b writtenNote) int { return a.pitch.MIDI() - b.pitch.MIDI() })
	notes = slices.Compact(notes)
	for i := range notes {
		notes[i].accidental = inForce.Before(notes[i].pitch, e.TiedFrom)
	}
	return notes
}
