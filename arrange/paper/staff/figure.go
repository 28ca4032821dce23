package staff

import (
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// The heights of lines.
const (
	MiddleLine = 2.0
	BottomLine = 4.0
)

const (
	stemLength   = 3.5
	flagDistance = 0.75
)

// A Measure is a measure as it looks on a staff.
type Measure struct {
	*paper.Measure
	Figures []Figure // of the events
	clef    paper.Clef
	groups  []beamed
}

// A Figure is how an event looks, wherever in the row it stands: its heads, its
// stem's direction and what it needs to both sides of its heads' left edge.
type Figure struct {
	Left, Right  float64 // room to both sides of the heads' left edge
	Lower, Upper float64 // heights of the lowest head and the highest
	Up           bool    // the stem's direction
	tip          float64 // the height at which the stem ends; beams move it
}

// Of works out how a measure's events look on a staff with a clef.
func Of(m *paper.Measure, c paper.Clef) *Measure {
	out := &Measure{Measure: m, clef: c, Figures: make([]Figure, len(m.Events)), groups: beamsOf(m)}
	for i := range m.Events {
		e := &m.Events[i]
		if e.Rest() {
			out.Figures[i] = Figure{Right: restGlyph(e).Width() + dots(e.Dots)}
			continue
		}
		out.Figures[i] = Figure{Lower: HeightOf(e.Pitches[0], c), Upper: HeightOf(e.Pitches[len(e.Pitches)-1], c)}
	}
	for _, g := range out.groups {
		g.direct(out.Figures)
	}
	for i := range m.Events {
		if e := &m.Events[i]; !e.Rest() {
			if e.Beams == nil {
				out.Figures[i].setStem(e)
			}
			out.Figures[i].measure(e)
		}
	}
	return out
}

// setStem gives an event without beams its stem: away from the middle line,
// down where both are as near, an octave long, and to the middle line at least.
func (f *Figure) setStem(e *paper.Event) {
	f.Up = MiddleLine-f.Upper < f.Lower-MiddleLine
	more := flagDistance * float64(max(0, e.Value.Flags()-2))
	if f.Up {
		f.tip = min(f.Upper-stemLength-more, MiddleLine)
	} else {
		f.tip = max(f.Lower+stemLength+more, MiddleLine)
	}
}

// measure finds how far the event reaches to both sides.
func (f *Figure) measure(e *paper.Event) {
	f.Right = headGlyph(e.Value).Width() + dots(e.Dots)
	if e.Beams == nil && e.Value.Flags() > 0 && f.Up {
		f.Right = max(f.Right, drawing.HeadWidth+drawing.UpFlag.Width()+0.1)
	}
	for i, p := range e.Pitches {
		if e.Accidentals[i] != paper.NoAccidental {
			f.Left += signGap + accidentalWidth(p.Alter)
		}
	}
}
