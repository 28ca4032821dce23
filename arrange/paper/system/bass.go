package system

import (
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/staff"
)

// bassClearance is the room between what stands above the bass's staff and what its
// notes reach to.
const bassClearance = 1.2

// drawBass draws the bass on a smaller staff of its own below all others, each note
// under what sounds with it.
func (s *system) drawBass() {
	if s.bars[0].bass == nil {
		return
	}
	marks := staff.Prefix(paper.BassClef, s.notation.Score, s.first == 0, staff.BassSize)
	for i := range s.bars {
		marks = append(marks, s.bassBar(i)...)
	}
	for y := range 5 {
		marks = append(marks, drawing.Stroke(0, float64(y), s.width/staff.BassSize, float64(y), staffLine/staff.BassSize))
	}
	marks = drawing.Scaled(marks, staff.BassSize)
	s.bassTop = s.contentBounds().Bottom + bassClearance - drawing.BoundsOf(marks).Top
	s.add(drawing.Moved(marks, 0, s.bassTop)...)
}

// bassBar draws what the bass plays in a bar, in spaces of its own staff from the
// staff's top line.
func (s *system) bassBar(i int) []drawing.Mark {
	b := s.bars[i].bass
	xs := make([]float64, len(b.Events))
	for j := range b.Events {
		xs[j] = s.xAt(i, b.Events[j].Tick) / staff.BassSize
	}
	b.SetBeams(xs)
	marks := b.Beams(xs)
	for j := range b.Events {
		if e := &b.Events[j]; e.Rest() {
			marks = append(marks, b.Rest(j, xs[j], s.left[i]/staff.BassSize, s.end(i)/staff.BassSize)...)
			continue
		}
		marks = append(append(marks, b.Ledgers(j, xs[j])...), b.Note(j, xs[j])...)
		if b.Events[j].TiedTo { // the bass begins anew with each chord, and so with each bar
			marks = append(marks, b.TieFrom(j, xs[j], xs[j+1])...)
		}
	}
	return append(marks, b.TupletMarks(xs)...)
}
