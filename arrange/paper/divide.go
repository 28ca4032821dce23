package paper

import (
	"cmp"
	"slices"
)

// A Choice is bars that can stand in one row, after which another begins.
type Choice[R any] struct {
	Row  R       // the row that they make
	End  int     // index of the bar behind them
	Cost float64 // of the row by itself
}

// Divide divides so many bars, one at least, into the rows that cost least: a shortest
// path over all breaks, as for the lines of a paragraph.
//
//	bar 0 ──row──▶ bar 3 ──row──▶ bar 7 ──row──▶ end
//	   └──────row─────▶ bar 4 ──────row───────▶ end
//
// From lists what can stand in a row that begins with a bar; of those that come to the
// same, the first is taken. Unlike returns what it costs that a row stands below another.
// Cost is what all of it costs; ok is false where the rows do not reach the end.
func Divide[R any](bars int, from func(first int) []Choice[R], unlike func(above, below R) float64) (rows []R, cost float64, ok bool) {
	type way struct {
		row  R
		cost float64 // of the row and all below it
		next *way
	}
	ways := make([][]*way, bars) // by the bar with which they begin
	best := func(first int, cost func(*way) float64) *way {
		return slices.MinFunc(ways[first], func(a, b *way) int { return cmp.Compare(cost(a), cost(b)) })
	}
	for first := range slices.Backward(ways) {
		for _, c := range from(first) {
			w := &way{row: c.Row, cost: c.Cost}
			if c.End < bars {
				if len(ways[c.End]) == 0 {
					continue
				}
				after := func(below *way) float64 { return below.cost + unlike(w.row, below.row) }
				w.next = best(c.End, after)
				w.cost += after(w.next)
			}
			ways[first] = append(ways[first], w)
		}
	}
	if len(ways[0]) == 0 {
		return nil, 0, false
	}
	least := best(0, func(w *way) float64 { return w.cost })
	for w := least; w != nil; w = w.next {
		rows = append(rows, w.row)
	}
	return rows, least.cost, true
}
