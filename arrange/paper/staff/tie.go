package staff

import (
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Measures of ties.
const (
	tieGap       = 0.12 // between a head and the tie's end
	tieDistance  = 0.55
	shortestTie  = 1.1
	shortestHalf = 1.6 // a tie that goes on in another row
)

// TieRoom is the least distance from the left edge of an event's heads to the
// next event, where it is tied to it.
func TieRoom(e *paper.Event) float64 { return headGlyph(e.Value).Width() + 2*tieGap + shortestTie }

// TieFrom draws the ties of event i, at x, to the next one, the left edge of whose
// heads is at next.
func (m *Measure) TieFrom(i int, x, next float64) []drawing.Mark {
	from := x + headGlyph(m.Events[i].Value).Width() + tieGap
	return ties(m.Figures[i], from, max(next-tieGap, from+shortestTie))
}

// TieToEnd draws the first halves of ties that go on in the next row: from event
// i, at x, to the end of this one.
func (m *Measure) TieToEnd(i int, x, end float64) []drawing.Mark {
	from := x + headGlyph(m.Events[i].Value).Width() + tieGap
	return ties(m.Figures[i], from, max(end, from+shortestTie))
}

// TieFromStart draws the second halves of ties that come from the row before:
// from where this one's notes begin to event i, at x.
func (m *Measure) TieFromStart(i int, start, x float64) []drawing.Mark {
	return ties(m.Figures[i], min(start, x-tieGap-shortestHalf), x-tieGap)
}

// ties draws a third's two ties: the upper bends up and the lower down. A single note
// has one, away from its stem.
func ties(f Figure, from, to float64) (marks []drawing.Mark) {
	height := min(1.1, 0.35+0.09*(to-from))
	if f.Lower > f.Upper || !f.Up {
		marks = append(marks, drawing.Shape{Path: drawing.Tie(from, to, f.Upper-tieDistance+0.1, height)})
	}
	if f.Lower > f.Upper || f.Up {
		marks = append(marks, drawing.Shape{Path: drawing.Tie(from, to, f.Lower+tieDistance-0.1, -height)})
	}
	return marks
}
