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

// Justify stretches each row to a width. One that may stay open and would be looser
// than the row before it, or than rows usually are, has the same spacing instead, where it
// is then so much shorter that it is seen to be meant.
func (m *Music) Justify(rows []Row, width float64) {
	const shorter, loosest = 0.85, 4.0
	var stretches []float64
	for i := range rows {
		r := &rows[i]
		r.Stretch = stretchTo(m.of(*r), m.room(width, r.First))
		if r.Last-r.First >= 2 || !endsSection(m.bars, r.Last) {
			stretches = append(stretches, r.Stretch)
		}
	}
	slices.Sort(stretches)
	usual := loosest
	if len(stretches) > 0 {
		usual = min(usual, stretches[(len(stretches)-1)/2])
	}
	for i := range rows {
		r, most := &rows[i], usual
		if i > 0 && !endsSection(m.bars, rows[i-1].Last) {
			most = rows[i-1].Stretch
		}
		most = max(most, 1)
		if m.mayStayOpen(r.Last) && widthOf(m.of(*r), most) < shorter*m.room(width, r.First) {
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

// stretchTo returns the stretch at which bars have a width together, 0 where they are
// wider at any.
func stretchTo(bars []bar, width float64) float64 {
	stretch := math.MaxFloat64
	for {
		room, natural := width, 0.0 // of the gaps that are wider than they must be
		for i := range bars {
			room -= bars[i].lead
			for _, g := range bars[i].gaps {
				if g.natural*stretch > g.least {
					natural += g.natural
				} else {
					room -= g.least
				}
			}
		}
		tighter := room / natural
		if !(tighter < stretch) {
			return max(stretch, 0)
		}
		stretch = tighter
	}
}
