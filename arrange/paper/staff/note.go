package staff

import (
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

const (
	ledgerLine  = 0.18
	ledgerReach = 0.35 // of a ledger line beyond the head
)

// Note draws the heads, accidentals, dots, stem and flags of event i, the left
// edge of its heads at x. Where it is beamed, [Measure.SetBeams] comes before.
func (m *Measure) Note(i int, x float64) []drawing.Mark {
	n := note{&m.Events[i], m.Figures[i], m.clef, x}
	marks := append(n.heads(), n.accidentals()...)
	return append(marks, n.stem()...)
}

// RestSign returns the sign of the rest that is event i.
func (m *Measure) RestSign(i int) drawing.Glyph { return restGlyph(&m.Events[i]) }

// Rest draws the rest that is event i at x; one that fills the measure stands in
// its middle, between two bar lines.
func (m *Measure) Rest(i int, x, left, right float64) []drawing.Mark {
	e := &m.Events[i]
	glyph := restGlyph(e)
	if e.MeasureRest {
		return []drawing.Mark{glyph.At((left+right)/2-glyph.Width()/2, MiddleLine, 1)}
	}
	marks := []drawing.Mark{glyph.At(x, MiddleLine, 1)}
	for d := range e.Dots {
		marks = append(marks, dotAt(x+glyph.Width()+dotGap+float64(d)*(dotGap+dotWidth), MiddleLine-0.5))
	}
	return marks
}

// Ledgers draws the short lines that carry the heads of event i above or below
// the staff.
func (m *Measure) Ledgers(i int, x float64) (marks []drawing.Mark) {
	f := m.Figures[i]
	wide := headGlyph(m.Events[i].Value).Width()
	ledger := func(y float64) {
		marks = append(marks, drawing.Stroke(x-ledgerReach, y, x+wide+ledgerReach, y, ledgerLine))
	}
	for y := BottomLine + 1; y <= f.Lower; y++ {
		ledger(y)
	}
	for y := -1.0; y >= f.Upper; y-- {
		ledger(y)
	}
	return marks
}

// A note is an event on its way to the page.
type note struct {
	*paper.Event
	Figure
	clef paper.Clef
	x    float64
}

func (n note) heads() (marks []drawing.Mark) {
	glyph := headGlyph(n.Value)
	for _, p := range n.Pitches {
		y := HeightOf(p, n.clef)
		marks = append(marks, glyph.At(n.x, y, 1))
		at := y
		if y == float64(int(y)) { // a dot never stands on a line
			at -= 0.5
		}
		for d := range n.Dots {
			marks = append(marks, dotAt(n.x+glyph.Width()+dotGap+float64(d)*(dotGap+dotWidth), at))
		}
	}
	return marks
}

// accidentals draws the upper note's accidental next to the heads and the lower
// one's to the left of it, for a third leaves no room for one above the other.
func (n note) accidentals() (marks []drawing.Mark) {
	x := n.x
	for i, p := range slices.Backward(n.Pitches) {
		if n.Accidentals[i] == paper.NoAccidental {
			continue
		}
		x -= signGap + accidentalWidth(p.Alter)
		at := x
		for _, g := range accidentalGlyphs(p.Alter) {
			marks = append(marks, g.At(at, HeightOf(p, n.clef), 1))
			at += g.Width()
		}
	}
	return marks
}

// stem draws the stem, and the flags of a note without beams.
func (n note) stem() []drawing.Mark {
	if n.Value == 1 {
		return nil
	}
	from := n.Lower - 0.15 // the heads' outline leans towards the stem
	if !n.Up {
		from = n.Upper + 0.15
	}
	at := stemX(n.x, n.Up)
	marks := []drawing.Mark{drawing.Stroke(at, from, at, n.tip, stemThickness)}
	if n.Beams != nil {
		return marks
	}
	first, more, step := drawing.UpFlag, drawing.UpFlagMore, flagDistance
	if !n.Up {
		first, more, step = drawing.DownFlag, drawing.DownFlagMore, -flagDistance
	}
	for i := range n.Value.Flags() {
		glyph := more
		if i == n.Value.Flags()-1 {
			glyph = first // the longest flag is the one nearest to the heads
		}
		marks = append(marks, glyph.At(at-stemThickness/2, n.tip+float64(i)*step, 1))
	}
	return marks
}
