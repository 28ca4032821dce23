package system

import (
	"math"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Music is a score's measures, ready to be set in rows.
type Music struct {
	notation *paper.Notation
	bars     []bar
}

// Of works out what the measures of a notation ask for in width.
func Of(n *paper.Notation) *Music {
	m := &Music{notation: n, bars: make([]bar, len(n.Measures))}
	for i := range m.bars {
		m.bars[i] = newBar(&n.Measures[i], endOf(n.Measures, i))
	}
	return m
}

// Set draws a row: staff and tab, and all that stands above and below them. The
// left end of the staff's top line is the origin.
func (m *Music) Set(r Row) []drawing.Mark { return newSystem(m, r).all() }

// SetWithBoxes is Set, and returns the rectangle that each of the row's bars fills:
// from bar line to bar line and from the staff's top line to the tab's last.
func (m *Music) SetWithBoxes(r Row) ([]drawing.Mark, []drawing.Box) {
	s := newSystem(m, r)
	boxes := make([]drawing.Box, len(s.bars))
	for i := range boxes {
		boxes[i] = drawing.Box{Left: s.left[i], Top: 0, Right: s.end(i), Bottom: s.tabBottom()}
	}
	return s.all(), boxes
}

// room returns the width that a row's bars have in a row of a width.
func (m *Music) room(width float64, first int) float64 {
	return width - prefixWidth(m.notation.Score, first)
}

// A Row is measures that stand side by side.
type Row struct {
	First, Last int     // indexes of measures
	Stretch     float64 // of the room that notes have, 1 at its natural width
}

// What a division into rows costs. They should be about evenly full, four bars
// long if that fits, and begin where a section begins.
const (
	tightCost   = 6.0 // for each doubling of density, squared, below the natural width
	looseCost   = 1.0 // and above it
	notFourCost = 0.5 // each bar more or less than four, squared
	lonelyCost  = 3.0 // a row of one bar
	insideCost  = 2.0 // a section begins inside a row
	endingCost  = 1.5 // an ending is broken
)

// Break divides the music into rows of a width in staff spaces: a shortest path
// over all breaks, as for the lines of a paragraph. Thrift is what each row costs
// beside its looks. ok is false where a measure alone is too wide.
func (m *Music) Break(width, thrift float64) (rows []Row, ok bool) {
	bars, n := m.bars, len(m.bars)
	cost := make([]float64, n+1) // of the best division of bars i to n-1
	next := make([]int, n+1)
	for i := n - 1; i >= 0; i-- {
		cost[i] = math.Inf(1)
		least, natural := 0.0, 0.0
		penalty, room := 0.0, m.room(width, i)
		for j := i; j < n; j++ {
			least += bars[j].width(0)
			natural += bars[j].width(1)
			if least > room {
				break
			}
			if j > i && bars[j].Section != "" {
				penalty += insideCost
			}
			c := thrift + penalty + rowCost(bars, i, j, room/natural) + cost[j+1]
			if c < cost[i] {
				cost[i], next[i] = c, j+1
			}
		}
		if math.IsInf(cost[i], 1) {
			return nil, false
		}
	}
	for i := 0; i < n; i = next[i] {
		rows = append(rows, Row{First: i, Last: next[i] - 1})
	}
	m.Justify(rows, width)
	return rows, true
}

func rowCost(bars []bar, first, last int, fill float64) float64 {
	density := math.Log2(fill)
	cost := looseCost * density * density
	count, final := last-first+1, last == len(bars)-1
	switch {
	case density < 0:
		cost = tightCost * density * density
	case final && len(bars) > count:
		cost /= 4 // the last row may stay open
	}
	if len(bars) > 4 {
		cost += notFourCost * float64((count-4)*(count-4))
	}
	if count == 1 && len(bars) > 1 {
		cost += lonelyCost
	}
	if e := bars[last].Ending; e != nil && !e.Ends {
		cost += endingCost
	}
	return cost
}

// Justify stretches each row to a width. The last one stays shorter where it
// would be much looser than the others, and then so much shorter that it is seen
// to be meant.
func (m *Music) Justify(rows []Row, width float64) {
	const loosest, looser, shorter = 2.6, 1.35, 0.85
	for i := range rows {
		r := &rows[i]
		r.Stretch = stretchTo(m.of(*r), m.room(width, r.First))
	}
	others, last := rows[:len(rows)-1], &rows[len(rows)-1]
	most := loosest
	if len(others) > 0 {
		most = looser * meanStretch(others)
	}
	if widthOf(m.of(*last), most) < shorter*m.room(width, last.First) {
		last.Stretch = most
	}
}

// of returns a row's bars.
func (m *Music) of(r Row) []bar { return m.bars[r.First : r.Last+1] }

func meanStretch(rows []Row) float64 {
	sum := 0.0
	for _, r := range rows {
		sum += r.Stretch
	}
	return sum / float64(len(rows))
}

// widthOf returns the width of bars side by side at a stretch.
func widthOf(bars []bar, stretch float64) (sum float64) {
	for i := range bars {
		sum += bars[i].width(stretch)
	}
	return sum
}

// stretchTo returns the stretch at which bars have a width together.
func stretchTo(bars []bar, width float64) float64 {
	low, high := 0.0, 1.0
	for widthOf(bars, high) < width && high < 1e3 {
		high *= 2
	}
	for range 40 {
		middle := (low + high) / 2
		if widthOf(bars, middle) < width {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}
