package system

import (
	"math"

	"thirdwise/arrange/paper"
)

// What a division into rows costs, beside what becomes of phrases in them: rows should be
// about evenly full, and hold four bars.
const (
	tightCost   = 10.0 // for each doubling of density, squared, below the natural width
	looseCost   = 1.0  // and above it
	unlikeCost  = 4.5  // for each doubling from one row of a section to the next, squared
	notFourCost = 0.5  // each bar more or less than four, squared
)

// A spacedRow is a row with the room that its notes have.
type spacedRow struct {
	Row
	density float64 // in doublings, 0 at their natural width
}

// Break divides the music into rows of a width in staff spaces. A section begins a row,
// unless it or the one before is a single bar. Thrift is what each row costs beside its
// looks; looks is what all rows cost without it. ok is false where a measure alone is too
// wide.
func (m *Music) Break(width, thrift float64) (rows []Row, looks float64, ok bool) {
	bars, phrases := m.bars, m.notation.Phrases()
	divided, cost, ok := paper.Divide(len(bars), func(i int) (choices []paper.Choice[spacedRow]) {
		least, natural, room := 0.0, 0.0, m.room(width, i)
		for j := i; j < len(bars); j++ {
			least += bars[j].width(0)
			natural += bars[j].width(1)
			if least > room || j > i && m.mustBreak(j) {
				break
			}
			r := spacedRow{Row: Row{First: i, Last: j}, density: math.Log2(room / natural)}
			choices = append(choices, paper.Choice[spacedRow]{Row: r, End: j + 1, Cost: thrift + m.rowCost(phrases, r)})
		}
		return choices
	}, m.unlike)
	for _, r := range divided {
		rows = append(rows, r.Row)
	}
	m.Justify(rows, width)
	return rows, cost - thrift*float64(len(rows)), ok
}

// unlike returns what it costs that a row has another density than the one before it: the
// eye takes the same note for a longer one. Where one may stay open, it need not.
func (m *Music) unlike(before, r spacedRow) float64 {
	if m.mayStayOpen(before.Last) || endsSection(m.bars, r.Last) && r.density > before.density {
		return 0
	}
	return unlikeCost * (r.density - before.density) * (r.density - before.density)
}

// rowCost returns what a row costs by itself.
func (m *Music) rowCost(phrases paper.Phrases, r spacedRow) float64 {
	cost := phrases.RowCost(r.First, r.Last)
	switch {
	case r.density < 0:
		cost += tightCost * r.density * r.density
	case m.staves == Chords: // no notes to hold together
	case endsSection(m.bars, r.Last):
		cost += looseCost * r.density * r.density / 4 // it may stay open
	default:
		cost += looseCost * r.density * r.density
	}
	count := phrases.Counted(r.First, r.Last)
	odd := notFourCost * float64((count-4)*(count-4))
	switch {
	case phrases.Begins(r.First) == paper.PhraseBegins && (r.Last == len(m.bars)-1 || phrases.Begins(r.Last+1) == paper.PhraseBegins):
		odd /= 2.5 // phrases as they are
	case count == 2 && phrases.Begins(r.First) != paper.NothingBegins:
		odd /= 4 // half of one
	}
	return cost + odd
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
