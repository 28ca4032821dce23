package sheet

import (
	"cmp"
	"math"
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/system"
)

// A staff's height in millimetres: usually between the two sizes that handbooks
// advise for parts, 7.0 and 6.5; the larger ones of a rastrum, up to that of books
// for beginners, the largest first; and what is still comfortable to read on a
// stand (Gould, Behind Bars, from memory).
const usualStaff = 6.8

var (
	largerStaves  = []float64{9.2, 7.9, 7.4}
	smallerStaves = []float64{6.5, 6.2}
	fittingStaves = []float64{usualStaff, 6.5, 6.2, 5.9, 5.5} // where one page matters more
)

// roomy is the least stretch of a row that may have a larger staff, crowded that of one
// that is fuller than it looks best, to save a page.
const (
	roomy   = 0.9
	crowded = 0.75
)

// fewPages is up to how many pages it is worth saving one.
const fewPages = 4

// A try is a way to lay out a sheet: the height of a staff, how much a row costs,
// so that there are fewer and fuller ones, what part of the distances between rows
// is kept at least, and where the map stands.
type try struct {
	staff, thrift, closeness float64
	beside                   bool // the map, of the grips
}

// usual returns the ways to lay out a sheet, the best first. A later one is taken only
// where it saves one of a few pages.
func (o Options) usual() []try {
	if o.Large {
		large := largerStaves[0]
		return slices.Concat(either(large, 0, 1), either(large, 0, 0.6))
	}
	list := slices.Concat(either(usualStaff, 0, 1), either(usualStaff, 1, 1), either(usualStaff, 0, 0.6))
	for _, staff := range smallerStaves {
		list = append(append(list, either(staff, 0, 1)...), try{staff, 0, 0.6, true})
	}
	smallest := smallerStaves[len(smallerStaves)-1]
	list = append(append(list, try{smallest, 2, 0.5, true}), either(usualStaff, 4, 1)...)
	return append(list, try{usualStaff, 4, 0.6, true}, try{smallest, 5, 0.5, true})
}

// fitting returns the ways to lay out a sheet that is to be on one page, in any order: the
// one that costs least is taken.
func (o Options) fitting() (list []try) {
	if !o.Fit || o.Large {
		return nil
	}
	for _, staff := range fittingStaves {
		for _, thrift := range []float64{0, 1, 2, 4, 6, 8} {
			list = append(list, either(staff, thrift, 0.4)...)
		}
	}
	return list
}

// either returns the tries with the map below the music and beside the grips.
func either(staff, thrift, closeness float64) []try {
	return []try{{staff, thrift, closeness, false}, {staff, thrift, closeness, true}}
}

// What a sheet costs that is to be on one page, beside the looks of its rows.
const (
	smallCost  = 20.0 // for each halving of the staff
	closeCost  = 5.0  // for all of the distances between what stands on a page, less for a part
	crowdCost  = 5.0  // rows that are crowded
	unevenCost = 12.0 // for each doubling from the tightest row to the loosest, squared
)

func smallness(staff float64) float64 { return smallCost * math.Log2(usualStaff/staff) }

// fewestPages returns the layout, the division into rows and that into pages of the
// best try, no layout where a bar is too wide in all.
func fewestPages(n *paper.Notation, o Options, k kind) (*layout, []system.Row, division) {
	s, best := setter{notation: n, options: o, kind: k}, set{}
	for _, t := range o.usual() {
		made, ok := s.set(t)
		if !ok || best.layout != nil && (made.count() >= best.count() || t.thrift > 0 && made.tightest() < crowded) {
			continue
		}
		if best = made; best.count() == 1 || best.count() > fewPages {
			return best.layout, best.rows, best.pages
		}
	}
	fitted := best
	for _, t := range o.fitting() {
		if fitted.count() == 1 && smallness(t.staff) > fitted.cost {
			break // larger ones were tried before
		}
		made, ok := s.set(t)
		if !ok || fitted.layout != nil && made.count() > fitted.count() {
			continue
		}
		if fitted.layout == nil || made.count() < fitted.count() || fitted.count() < best.count() && made.cost < fitted.cost {
			fitted = made
		}
	}
	return fitted.layout, fitted.rows, fitted.pages
}

// A set is a sheet as a try has made it.
type set struct {
	layout *layout
	rows   []system.Row
	blocks []block
	pages  division
	cost   float64
}

func (s set) count() int { return len(s.pages.starts) }

// tightest and loosest return the least and the greatest stretch of a row.
func (s set) tightest() float64 { return slices.MinFunc(s.rows, byStretch).Stretch }
func (s set) loosest() float64  { return slices.MaxFunc(s.rows, byStretch).Stretch }

func byStretch(a, b system.Row) int { return cmp.Compare(a.Stretch, b.Stretch) }

// A setter makes tries. It keeps what is alike in several: what was measured in the staff
// of the last, and what was drawn in it.
type setter struct {
	notation *paper.Notation
	options  Options
	kind     kind
	measured *layout
	drawn    []set
}

// set makes a try; ok is false where a bar is too wide.
func (s *setter) set(t try) (made set, ok bool) {
	if s.kind == chordChart && !s.options.Fit { // four bars a line, on however many pages
		t.thrift = 0
	}
	if s.measured == nil || s.measured.staff != t.staff {
		s.measured, s.drawn = newLayout(s.notation, s.options, s.kind, t.staff), nil
	}
	rows, looks, ok := s.measured.music.Break(s.measured.width, t.thrift)
	if !ok {
		return set{}, false
	}
	i := slices.IndexFunc(s.drawn, func(d set) bool { return d.layout.mapBeside == t.beside && slices.Equal(d.rows, rows) })
	if i < 0 {
		l := *s.measured
		l.mapBeside = t.beside
		i = len(s.drawn)
		s.drawn = append(s.drawn, set{layout: &l, rows: rows, blocks: l.blocks(l.rows(rows))})
	}
	made = s.drawn[i]
	made.pages = made.layout.paginate(made.blocks, t.closeness)
	const least = 0.25 // where nothing can be tighter, a row of least widths has no stretch
	uneven := math.Log2(max(made.loosest(), least) / max(made.tightest(), least))
	made.cost = looks + smallness(t.staff) + closeCost*(1-made.layout.kept(made.pages)) + unevenCost*uneven*uneven
	if made.tightest() < crowded {
		made.cost += crowdCost
	}
	return made, true
}

// enlarged returns the layout of a single page with the largest staff that keeps
// its division into rows, or has one into rows of as many bars each.
func (l *layout) enlarged(rows []system.Row, page division) (*layout, division) {
	for _, staff := range largerStaves {
		larger := newLayout(l.notation, l.options, l.kind, staff)
		if page, ok := larger.onePage(rows); ok {
			return larger, page
		}
		others, _, ok := larger.music.Break(larger.width, 0)
		if !ok || !even(others) {
			continue
		}
		if page, ok := larger.onePage(others); ok {
			return larger, page
		}
	}
	return l, page
}

// even reports whether there are as many bars in each row.
func even(rows []system.Row) bool {
	further := func(r system.Row) int { return r.Last - r.First } // bars after the first
	return !slices.ContainsFunc(rows, func(r system.Row) bool { return further(r) != further(rows[0]) })
}

// onePage sets rows; ok is false where they would be crowded or need a second
// page.
func (l *layout) onePage(rows []system.Row) (page division, ok bool) {
	rows = slices.Clone(rows)
	l.music.Justify(rows, l.width)
	for _, row := range rows {
		if row.Stretch < roomy {
			return division{}, false
		}
	}
	page = l.paginate(l.blocks(l.rows(rows)), 1)
	return page, len(page.starts) == 1
}
