package musicxml

import (
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
)

// repeating returns a notation of the line for all parts. Its repeats are kept
// where chords and bass look alike each time; otherwise all bars are written out,
// because one set of notes would not tell what is played.
func repeating(n *paper.Notation, chords Chords) *paper.Notation {
	for _, m := range n.Measures {
		for _, bar := range m.Bars[1:] {
			if !playedAlike(n.Score, chords, m.Bars[0], bar) {
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

// playedAlike reports whether chords and bass are written alike in two bars.
func playedAlike(s *score.Score, chords Chords, a, b int) bool {
	startA, startB := s.Bars[a].Tick, s.Bars[b].Tick
	strumTick := func(strum score.Strum) int { return strum.Tick }
	bassTick := func(n score.BassNote) int { return n.Tick }
	return slices.EqualFunc(
		within(s.Strums, strumTick, startA, s.Meter.Bar()),
		within(s.Strums, strumTick, startB, s.Meter.Bar()),
		func(x, y score.Strum) bool {
			signs := x.Up == y.Up && x.Accent == y.Accent && x.Damped == y.Damped && x.Picked == y.Picked
			return x.Tick-startA == y.Tick-startB && x.Length == y.Length && signs &&
				(chords.slashed(x) || slices.Equal(x.Notes, y.Notes))
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

// chordsPart writes the part of the strums, with a chord symbol where a chord begins.
func (d *document) chordsPart() {
	s := d.notation.Score
	played := make([]score.Third, len(s.Strums))
	for i, strum := range s.Strums {
		played[i] = score.Third{Tick: strum.Tick, Length: strum.Length}
	}
	part := accompaniment{id: chordsID, clef: clefs[paper.ClefOf(s.Neck)], symbols: true, played: played}
	if len(s.Strums) > 0 && d.written.slashed(s.Strums[0]) {
		part.clef = clefs[paper.TrebleClef] // readers do not agree where it leaves a slash
	}
	part.sounding = func(e *paper.Event, inForce *paper.Accidentals) ([]writtenNote, hand) {
		strum := s.Strums[e.Thirds[0]]
		if d.written.slashed(strum) {
			return []writtenNote{{slash: true}}, handOf(strum, e)
		}
		return strumNotes(strum, e, inForce), handOf(strum, e)
	}
	d.accompany(part)
}

// handOf returns the signs for the right hand at an event of a strum. What is plucked
// has none.
func handOf(strum score.Strum, e *paper.Event) hand {
	h := hand{damped: strum.Damped}
	switch {
	case e.TiedFrom:
		return h
	case strum.Picked:
	case strum.Up:
		h.bow = "up-bow"
	default:
		h.bow = "down-bow"
	}
	h.accent = strum.Accent
	return h
}

// bassPart writes the part of the bass.
func (d *document) bassPart() {
	s := d.notation.Score
	played := make([]score.Third, len(s.Bass))
	for i, n := range s.Bass {
		played[i] = score.Third{Tick: n.Tick, Length: n.Length}
	}
	part := accompaniment{id: bassID, clef: clefs[paper.BassClef], played: played}
	part.sounding = func(e *paper.Event, inForce *paper.Accidentals) ([]writtenNote, hand) {
		n := s.Bass[e.Thirds[0]]
		return []writtenNote{{pitch: n.Pitch, accidental: inForce.Before(n.Pitch, e.TiedFrom)}}, hand{}
	}
	d.accompany(part)
}

// An accompaniment is a part with one staff.
type accompaniment struct {
	id      string
	clef    clef
	symbols bool // chord symbols stand above it
	played  []score.Third
	// sounding returns the notes of an event that sounds, and what the right hand does
	// there. It is asked in the order in which events stand in their measure.
	sounding func(*paper.Event, *paper.Accidentals) ([]writtenNote, hand)
}

// accompany writes an accompaniment.
func (d *document) accompany(part accompaniment) {
	d.begin("part", "id", part.id)
	inForce := paper.NewAccidentals(d.notation.Score.Key)
	for i, m := range d.notation.With(part.played).Measures {
		inForce.BarLine()
		d.beginMeasure(i)
		if i == 0 {
			d.begin("attributes")
			d.keyAndTime()
			d.clef(part.clef)
			d.end()
		}
		symbols := harmonies{chords: m.Chords}
		for j := range m.Events {
			if part.symbols {
				symbols.before(d, &m, &m.Events[j], soleStaff)
			}
			if m.Events[j].Rest() {
				d.rest(&m, j, soleStaff)
				continue
			}
			sounding, right := part.sounding(&m.Events[j], inForce)
			d.event(&m, j, soleStaff, sounding, right)
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
