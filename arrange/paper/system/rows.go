package system

import (
	"math"
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Music is a score's measures, ready to be set in rows.
type Music struct {
	notation *paper.Notation
	staves   Staves
	bars     []bar
	finger   float64 // size of fingers' numbers

	// Names of sections are so short that they have room over the clef.
	shortNames bool
}

// UsualFinger is the size of the font of fingers' numbers in staff spaces: 7 points on a
// staff of 6.8 mm.
const UsualFinger = 1.45

// Of works out what the measures of a notation ask for in width, with fingers' numbers of
// a size in staff spaces.
func Of(n *paper.Notation, v Staves, finger float64) *Music {
	m := &Music{notation: n, staves: v, finger: finger, bars: make([]bar, len(n.Measures))}
	var bass *paper.Notation
	if v == Both || v == Notation {
		bass = n.Bass()
	}
	for i := range m.bars {
		var below *paper.Measure
		if bass != nil {
			below = &bass.Measures[i]
		}
		m.bars[i] = newBar(n.Score, v, &n.Measures[i], below, endOf(n.Measures, i), finger)
		if v == Chords && m.bars[i].width(0) > evenAtMost {
			m.bars[i] = newBar(n.Score, v, n.Measures[i].ByChord(), nil, endOf(n.Measures, i), finger)
		}
	}
	m.shortNames = m.hasShortNames()
	return m
}

// hasShortNames reports whether all names of sections have room between the left end of
// a row and its first note.
func (m *Music) hasShortNames() bool {
	const space = 0.8
	room := m.staves.prefixWidth(m.notation.Score, len(m.bars)) + barPadding - space
	return !slices.ContainsFunc(m.bars, func(b bar) bool {
		return drawing.Bold.Width(sectionSize, b.Section)+2*sectionPadding > room
	})
}

// Set draws a row: staff and tab, and all that stands above and below them. The
// left end of the staff's top line is the origin.
func (m *Music) Set(r Row) []drawing.Mark { return newSystem(m, r).all() }

// An Alone is a row that is drawn on its own, as [Music.Set] draws it.
type Alone struct {
	Marks []drawing.Mark // in which the row's thirds are numbered from 1
	Third int            // how many thirds of the line go before them
	// Bars are the rectangles that the row's bars fill: from bar line to bar line and
	// from the first staff's top line to the last one's last.
	Bars []drawing.Box
	// Onsets are where the events of each bar begin: in the bar's time and on the row.
	Onsets [][]Onset
	// Strings are the heights of the tab's strings, the highest string first; none
	// without a tab.
	Strings []float64
}

// An Onset is where an event of a bar begins.
type Onset struct {
	Tick int     // from the start of the bar
	X    float64 // of the middle of what stands there
}

// SetAlone draws a row on its own.
func (m *Music) SetAlone(r Row) Alone {
	var alone Alone
	for _, b := range m.of(r) {
		if i := slices.IndexFunc(b.Events, func(e paper.Event) bool { return !e.Rest() }); i >= 0 {
			alone.Third = b.Events[i].Thirds[0]
			break
		}
	}
	s := newSystemFrom(m, r, alone.Third)
	for i := range s.bars {
		alone.Bars = append(alone.Bars, drawing.Box{Left: s.left[i], Top: 0, Right: s.end(i), Bottom: s.bottom()})
	}
	for i, b := range s.bars {
		var onsets []Onset
		for j, e := range b.Events {
			onsets = append(onsets, Onset{e.Tick, s.xs[i][j] + drawing.HeadWidth/2})
		}
		alone.Onsets = append(alone.Onsets, onsets)
	}
	if m.staves == Both || m.staves == Tab {
		for i := range m.notation.Score.Neck.Strings() {
			alone.Strings = append(alone.Strings, s.stringHeight(i+1))
		}
	}
	alone.Marks = s.all()
	return alone
}

// room returns the width that a row's bars have in a row of a width.
func (m *Music) room(width float64, first int) float64 {
	return width - m.staves.prefixWidth(m.notation.Score, first)
}

// A Row is measures that stand side by side.
type Row struct {
	First, Last int     // indexes of measures
	Stretch     float64 // of the room that notes have, 1 at its natural width
}

// What a division into rows costs. A row follows the phrase: it begins where a
// section begins, else with a line of the chart as the teacher wrote it, else four
// bars behind the one before; and rows should be about evenly full.
const (
	tightCost   = 6.0 // for each doubling of density, squared, below the natural width
	looseCost   = 1.0 // and above it
	notFourCost = 0.5 // each bar more or less than four, squared
	lonelyCost  = 3.0 // a row of one bar
	joinCost    = 1.5 // a line of the chart begins inside a row
	halfCost    = 2.5 // a row begins two bars into a phrase
	insideCost  = 4.0 // or one or three
	endingCost  = 1.5 // an ending is broken
)

// Break divides the music into rows of a width in staff spaces: a shortest path
// over all breaks, as for the lines of a paragraph. A section begins a row, unless it
// or the one before is a single bar. Thrift is what each row costs beside its looks. ok
// is false where a measure alone is too wide.
func (m *Music) Break(width, thrift float64) (rows []Row, ok bool) {
	bars, n := m.bars, len(m.bars)
	phrase := phrasesOf(bars)
	cost := make([]float64, n+1) // of the best division of bars i to n-1
	next := make([]int, n)
	for i := n - 1; i >= 0; i-- {
		cost[i] = math.Inf(1)
		least, natural := 0.0, 0.0
		room := m.room(width, i)
		for j := i; j < n; j++ {
			least += bars[j].width(0)
			natural += bars[j].width(1)
			if least > room || j > i && mustBreak(bars, j) {
				break
			}
			c := thrift + rowCost(bars, phrase, i, j, room/natural) + cost[j+1]
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

// phrasesOf returns for each bar how many bars of its phrase stand before it.
func phrasesOf(bars []bar) []int {
	phrase := make([]int, len(bars))
	for i := range bars {
		if i > 0 && bars[i].Section == "" && !bars[i].LineBegins {
			phrase[i] = (phrase[i-1] + 1) % 4
		}
	}
	return phrase
}

func rowCost(bars []bar, phrase []int, first, last int, fill float64) float64 {
	density := math.Log2(fill)
	cost := looseCost * density * density
	count := last - first + 1
	if followsPickup(bars, first+1) { // which is not counted
		count = max(1, count-1)
	}
	switch {
	case density < 0:
		cost = tightCost * density * density
	case endsSection(bars, last) && len(bars) > count:
		cost /= 4 // the last row of a section may stay open
	}
	if len(bars) > 4 {
		odd := notFourCost * float64((count-4)*(count-4))
		if phrase[first] == 0 && (last == len(bars)-1 || phrase[last+1] == 0) {
			odd /= 2.5 // phrases as they are
		}
		cost += odd
	}
	if count == 1 && len(bars) > 1 {
		cost += lonelyCost
	}
	cost += [4]float64{0, insideCost, halfCost, insideCost}[phrase[first]]
	for i := first + 1; i <= last; i++ {
		if phrase[i] == 0 && !followsPickup(bars, i) {
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
func mustBreak(bars []bar, i int) bool {
	return bars[i].Section != "" && !followsPickup(bars, i) && !endsSection(bars, i) && bars[i-1].Section == ""
}

// followsPickup reports whether a bar is the first behind a pickup, with which it
// shares a row.
func followsPickup(bars []bar, i int) bool { return i == 1 && len(bars) > 1 && bars[0].Number == 0 }

// endsSection reports whether a section, or the piece, ends with a bar.
func endsSection(bars []bar, i int) bool { return i == len(bars)-1 || bars[i].SectionEnds }

// Justify stretches each row to a width. The last one of a section stays shorter
// where it would be much looser than rows usually are, and then so much shorter
// that it is seen to be meant.
func (m *Music) Justify(rows []Row, width float64) {
	const loosest, looser, shorter = 2.6, 1.35, 0.85
	var stretches []float64
	for i := range rows {
		r := &rows[i]
		r.Stretch = stretchTo(m.of(*r), m.room(width, r.First))
		if r.Last-r.First >= 2 || !endsSection(m.bars, r.Last) {
			stretches = append(stretches, r.Stretch)
		}
	}
	most := loosest
	if len(stretches) > 0 {
		slices.Sort(stretches)
		most = min(most, looser*stretches[(len(stretches)-1)/3])
	}
	for i := range rows {
		r := &rows[i]
		if r.Stretch > most && endsSection(m.bars, r.Last) && widthOf(m.of(*r), most) < shorter*m.room(width, r.First) {
			r.Stretch = most
		}
	}
}

// of returns a row's bars.
func (m *Music) of(r Row) []bar { return m.bars[r.First : r.Last+1] }

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
