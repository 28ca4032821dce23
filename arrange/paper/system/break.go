package system

import (
	"cmp"
	"math"
	"slices"

	"thirdwise/arrange/paper"
)

// What a division into rows costs. A row follows the phrase: it begins where a
// section begins, else with a line of the chart as the teacher wrote it, else four
// bars behind the one before; and rows should be about evenly full.
const (
	tightCost   = 10.0 // for each doubling of density, squared, below the natural width
	looseCost   = 1.0  // and above it
	unlikeCost  = 4.5  // for each doubling from one row of a section to the next, squared
	notFourCost = 0.5  // each bar more or less than four, squared
	lonelyCost  = 3.0  // a row of one bar
	joinCost    = 1.5  // a line of the chart begins inside a row
	halfCost    = 1.0  // a row begins with half a phrase, or another ending
	insideCost  = 4.0  // or with neither
	endingCost  = 1.5  // an ending is broken
)

// A way is a row and the best division of the bars behind it.
type way struct {
	Row
	density float64 // doublings of the room that its notes have, 0 at their natural width
	next    *way
	cost    float64 // of the row and all behind it
}

// Break divides the music into rows of a width in staff spaces: a shortest path
// over all breaks, as for the lines of a paragraph. A section begins a row, unless it
// or the one before is a single bar. Thrift is what each row costs beside its looks. ok
// is false where a measure alone is too wide.
func (m *Music) Break(width, thrift float64) (rows []Row, ok bool) {
	bars := m.bars
	begins := m.notation.Beginnings()
	ways := make([][]*way, len(bars)) // by the bar with which they begin
	for i := range slices.Backward(bars) {
		least, natural, room := 0.0, 0.0, m.room(width, i)
		for j := i; j < len(bars); j++ {
			least += bars[j].width(0)
			natural += bars[j].width(1)
			if least > room || j > i && m.mustBreak(j) {
				break
			}
			w := &way{Row: Row{First: i, Last: j}, density: math.Log2(room / natural)}
			w.cost = thrift + m.rowCost(begins, i, j, w.density)
			if j+1 < len(bars) {
				after := func(next *way) float64 { return next.cost + m.unlike(w, next) }
				w.next = cheapest(ways[j+1], after)
				w.cost += after(w.next)
			}
			ways[i] = append(ways[i], w)
		}
		if len(ways[i]) == 0 {
			return nil, false
		}
	}
	for w := cheapest(ways[0], func(w *way) float64 { return w.cost }); w != nil; w = w.next {
		rows = append(rows, w.Row)
	}
	m.Justify(rows, width)
	return rows, true
}

// cheapest returns the first of those ways that cost least.
func cheapest(ways []*way, cost func(*way) float64) *way {
	return slices.MinFunc(ways, func(a, b *way) int { return cmp.Compare(cost(a), cost(b)) })
}

// unlike returns what it costs that a row has another density than the one before it: the
// eye takes the same note for a longer one. Where one may stay open, it need not.
func (m *Music) unlike(before, w *way) float64 {
	if m.mayStayOpen(before.Last) || endsSection(m.bars, w.Last) && w.density > before.density {
		return 0
	}
	return unlikeCost * (w.density - before.density) * (w.density - before.density)
}

// rowCost returns what a row of bars first to last costs by itself.
func (m *Music) rowCost(begins []paper.Beginning, first, last int, density float64) (cost float64) {
	bars := m.bars
	count := last - first + 1
	if m.notation.FollowsPickup(first + 1) { // which is not counted
		count = max(1, count-1)
	}
	switch {
	case density < 0:
		cost = tightCost * density * density
	case m.staves == Chords: // no notes to hold together
	case endsSection(bars, last):
		cost = looseCost * density * density / 4 // it may stay open
	default:
		cost = looseCost * density * density
	}
	odd := notFourCost * float64((count-4)*(count-4))
	switch {
	case begins[first] == paper.PhraseBegins && (last == len(bars)-1 || begins[last+1] == paper.PhraseBegins):
		odd /= 2.5 // phrases as they are
	case count == 2 && begins[first] != paper.NothingBegins:
		odd /= 4 // half of one
	}
	cost += odd
	if count == 1 {
		cost += lonelyCost
	}
	cost += [...]float64{paper.PhraseBegins: 0, paper.HalfBegins: halfCost, paper.NothingBegins: insideCost}[begins[first]]
	for i := first + 1; i <= last; i++ {
		if begins[i] == paper.PhraseBegins && !m.notation.FollowsPickup(i) {
			cost += joinCost
		}
	}
	if e := bars[last].Ending; e != nil && !e.Ends {
		cost += endingCost
	}
	return cost
}

// mustBreak reports whether a bar must begin a row, for a section begins with it. One
// of a single bar shares a row.
func (m *Music) mustBreak(i int) bool {
	return m.bars[i].Section != "" && !m.notation.FollowsPickup(i) && !endsSection(m.bars, i) && m.bars[i-1].Section == ""
}

// endsSection reports whether a section, or the piece, ends with a bar.
func endsSection(bars []bar, i int) bool { return i == len(bars)-1 || bars[i].SectionEnds }

// mayStayOpen reports whether a row that ends with a bar may be shorter than others: the
// last of a section, and where chords stand alone each, so that bars stand below bars.
func (m *Music) mayStayOpen(last int) bool { return m.staves == Chords || endsSection(m.bars, last) }
