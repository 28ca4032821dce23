package staff

import (
	"math"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Measures of beams in staff spaces.
const (
	beamThickness = 0.5
	beamDistance  = 0.75 // from one beam to the next
	stemThickness = 0.12
	leastStem     = 2.75 // from the nearest head to the outer edge of the beams
	steepest      = 1.0  // the most that a beam rises or falls
	steepness     = 0.2  // and per space that it is long
)

// A beamed group is the events under one beam.
type beamed struct {
	*paper.Measure
	first, last int // indexes of events
}

// SetBeams finds the beams' slopes and heights, and with them the ends of their
// stems, when the events stand at xs.
func (m *Measure) SetBeams(xs []float64) {
	for _, g := range m.groups {
		g.place(m.Figures, xs)
	}
}

// Beams draws the beams of events at xs, for which they have been set.
func (m *Measure) Beams(xs []float64) (marks []drawing.Mark) {
	for _, g := range m.groups {
		marks = append(marks, g.marks(m.Figures, xs)...)
	}
	return marks
}

// beamsOf returns the measure's beamed groups.
func beamsOf(m *paper.Measure) []beamed {
	var groups []beamed
	var first int
	for i, e := range m.Events {
		if len(e.Beams) == 0 {
			continue
		}
		switch e.Beams[0] {
		case paper.BeamBegins:
			first = i
		case paper.BeamEnds:
			groups = append(groups, beamed{m, first, i})
		}
	}
	return groups
}

// direct gives the group's stems one direction: away from the head that lies
// farthest from the middle line.
func (g beamed) direct(figures []Figure) {
	var above, below float64 // how far the farthest heads lie from the middle line
	for _, f := range figures[g.first : g.last+1] {
		above = max(above, MiddleLine-f.Upper)
		below = max(below, f.Lower-MiddleLine)
	}
	for i := g.first; i <= g.last; i++ {
		figures[i].Up = above < below
	}
}

// place finds the slope and height of the group's beam when its events stand at
// xs, and sets the stems' tips to the beam's outer edge. A beam follows its first
// and last heads, less steeply, and lies flat where a head between them is
// nearer to it than both.
func (g beamed) place(figures []Figure, xs []float64) {
	up := figures[g.first].Up
	// Heights are turned so that the beam lies at a greater one than the heads.
	turned := func(y float64) float64 {
		if up {
			return -y
		}
		return y
	}
	near := func(i int) float64 { // the head nearest to the beam
		if up {
			return turned(figures[i].Upper)
		}
		return turned(figures[i].Lower)
	}
	along := func(i int) float64 { return stemX(xs[i], up) - stemX(xs[g.first], up) }
	ends := [2]float64{near(g.first), near(g.last)}
	limit := min(steepest, steepness*along(g.last))
	rise := max(-limit, min(limit, (ends[1]-ends[0])/2))
	for i := g.first + 1; i < g.last; i++ {
		inner := near(i)
		if inner > max(ends[0], ends[1]) || ends == [2]float64{inner, inner} {
			rise = 0
		}
	}
	slope := rise / along(g.last)
	// The beam lies as near to the heads as the shortest stem allows, and never
	// short of the middle line.
	start := turned(MiddleLine) - min(rise, 0)
	for i := g.first; i <= g.last; i++ {
		flags := float64(g.Events[i].Value.Flags())
		least := leastStem + 0.5*(flags-1)
		if flags == 1 {
			least = 3
		}
		start = max(start, near(i)+least-slope*along(i))
	}
	// Beams sit on, hang from or straddle a line: quarter spaces.
	start = math.Ceil(start*4-0.01) / 4
	for i := g.first; i <= g.last; i++ {
		figures[i].tip = turned(start + slope*along(i))
	}
}

// stemX returns the middle of the stem of an event whose heads' left edge is at
// x.
func stemX(x float64, up bool) float64 {
	if up {
		return x + drawing.HeadWidth - stemThickness/2
	}
	return x + stemThickness/2
}

// marks draws the beams, level by level; stems and heads are drawn elsewhere.
func (g beamed) marks(figures []Figure, xs []float64) []drawing.Mark {
	up := figures[g.first].Up
	inward := 1.0
	if !up {
		inward = -1
	}
	x := func(i int) float64 { return stemX(xs[i], up) }
	slope := (figures[g.last].tip - figures[g.first].tip) / (x(g.last) - x(g.first))
	beam := func(level int, x1, x2 float64) drawing.Mark {
		y := func(at float64) float64 {
			return figures[g.first].tip + slope*(at-x(g.first)) + inward*beamDistance*float64(level)
		}
		depth := inward * beamThickness
		h := stemThickness / 2
		x1, x2 = x1-h, x2+h
		return drawing.Shape{Path: drawing.Polygon(
			drawing.Pt(x1, y(x1)), drawing.Pt(x2, y(x2)), drawing.Pt(x2, y(x2)+depth), drawing.Pt(x1, y(x1)+depth),
		)}
	}
	const stub = 1.1
	var marks []drawing.Mark
	begun := map[int]float64{} // by level
	for i := g.first; i <= g.last; i++ {
		for level, part := range g.Events[i].Beams {
			switch part {
			case paper.BeamBegins:
				begun[level] = x(i)
			case paper.BeamEnds:
				marks = append(marks, beam(level, begun[level], x(i)))
			case paper.HookForward:
				marks = append(marks, beam(level, x(i), x(i)+stub))
			case paper.HookBackward:
				marks = append(marks, beam(level, x(i)-stub, x(i)))
			}
		}
	}
	return marks
}
