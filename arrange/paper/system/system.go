package system

import (
	"fmt"
	"strconv"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
)

// Thicknesses and distances of a system, in staff spaces. Staff lines are an
// eighth of a space, stems and thin bar lines a little more or less, thick bar
// lines and beams half a space (Ross; Gould).
const (
	staffLine    = 0.13
	stringLine   = 0.10
	thinBar      = 0.16
	thickBar     = 0.5
	lineGap      = 0.45 // from the edge of a thick bar line to the middle of a thin one
	ledgerLine   = 0.18
	ledgerReach  = 0.35 // of a ledger line beyond the head
	stringSpace  = 1.5  // between two lines of the tab
	staffToTab   = 3.4  // least distance from the staff to the tab
	tabClearance = 1.6  // between what hangs below the staff and the tab
)

// A system is one line of music: staff and tab, with all that belongs to them.
// Heights are counted from the staff's top line until the system is placed.
type system struct {
	notation *paper.Notation
	bars     []bar
	first    int       // index of its first measure
	width    float64   // from the left end of the staff to the right
	left     []float64 // x of each bar's left bar line
	xs       [][]float64

	marks  []drawing.Mark // of the notation
	thirds []*third       // in order
	above  []drawing.Box  // what stands above the chord symbols
	tabTop float64
}

// A third is what the system draws of one event: it becomes a group.
type third struct {
	group drawing.Group
	event *paper.Event
	x     float64
}

// prefixWidth returns how much room clef, key signature and, in the system that
// begins with the first measure, the time signature take.
func prefixWidth(s *score.Score, first int) float64 {
	w := clefX + drawing.TrebleClef.Width() + 0.7 + signatureWidth(s.Key.Fifths())
	if first == 0 {
		w += timeWidth(s.Meter) + 0.7
	}
	return w
}

// newSystem draws a row of bars.
func newSystem(m *Music, r Row) *system {
	bars := m.of(r)
	s := &system{notation: m.notation, bars: bars, first: r.First}
	x := prefixWidth(m.notation.Score, r.First)
	for i := range bars {
		b := &bars[i]
		s.left = append(s.left, x)
		at := x + b.lead
		xs := make([]float64, len(b.Events))
		for j, g := range b.gaps {
			xs[j] = at
			at += g.at(r.Stretch)
		}
		s.xs = append(s.xs, xs)
		x = at
	}
	s.width = x
	s.drawPrefix()
	for i := range bars {
		s.drawBar(i)
	}
	s.drawTies()
	s.tabTop = max(bottomLine+staffToTab, s.contentBounds().Bottom+tabClearance)
	s.drawTab()
	s.drawBarLines()
	s.drawAbove()
	s.drawStaff()
	return s
}

func (s *system) add(m ...drawing.Mark) { s.marks = append(s.marks, m...) }

// contentBounds returns the rectangle that holds all that is drawn so far.
func (s *system) contentBounds() drawing.Box {
	b := drawing.BoundsOf(s.marks)
	for _, t := range s.thirds {
		b = b.With(t.group.Bounds())
	}
	return b
}

// all returns the system's marks, each third as a group.
func (s *system) all() []drawing.Mark {
	marks := s.marks
	for _, t := range s.thirds {
		marks = append(marks, t.group)
	}
	return marks
}

// end returns the x of the bar's right bar line.
func (s *system) end(i int) float64 {
	if i+1 < len(s.left) {
		return s.left[i+1]
	}
	return s.width
}

// drawStaff draws the five lines.
func (s *system) drawStaff() {
	for i := range 5 {
		y := float64(i)
		s.add(drawing.Stroke(0, y, s.width, y, staffLine))
	}
}

// newThird begins the group of an event, with the attributes by which a page
// finds it: its bar on the page, and the ticks and passes at which it is played,
// each counted from 1, 0 and 1. Only the first of tied events has the id.
func (s *system) newThird(b *bar, e *paper.Event, x float64) *third {
	of := s.notation.Score
	index := e.Thirds[0]
	var ticks, passes []string
	for _, t := range e.Thirds {
		ticks = append(ticks, strconv.Itoa(of.Line[t].Tick))
	}
	for pass := 1; pass <= of.Passes; pass++ {
		if !e.LeadsBack || pass < of.Passes {
			passes = append(passes, strconv.Itoa(pass))
		}
	}
	t := &third{event: e, x: x, group: drawing.Group{Attributes: []drawing.Attribute{
		{Name: "third", Value: strconv.Itoa(index + 1)},
		{Name: "bar", Value: strconv.Itoa(b.Number)},
		{Name: "tick", Value: strings.Join(ticks, " ")},
		{Name: "pass", Value: strings.Join(passes, " ")},
		{Name: "role", Value: e.Third.Role.String()},
	}}}
	if !e.TiedFrom {
		t.group.ID = fmt.Sprintf("third-%d", index+1)
	}
	s.thirds = append(s.thirds, t)
	return t
}

func (t *third) add(m ...drawing.Mark) { t.group.Marks = append(t.group.Marks, m...) }

// drawBar draws a bar's heads, stems, beams, rests and tuplets.
func (s *system) drawBar(i int) {
	b, xs := &s.bars[i], s.xs[i]
	for _, g := range beamsOf(b.Measure) {
		g.place(b.voices, xs)
		s.add(g.marks(b.voices, xs)...)
	}
	for j := range b.Events {
		e := &b.Events[j]
		if e.Rest() {
			s.drawRest(i, j)
			continue
		}
		t := s.newThird(b, e, xs[j])
		s.drawLedgers(b.voices[j], xs[j])
		t.drawHeads(b.voices[j], xs[j])
		t.drawAccidentals(b.voices[j], xs[j])
		t.drawStem(b.voices[j], xs[j])
	}
	for _, t := range b.Tuplets {
		s.add(tuplet{b, t}.marks(xs)...)
	}
}

// drawRest draws a rest; one that fills the bar stands in its middle.
func (s *system) drawRest(i, j int) {
	e := &s.bars[i].Events[j]
	glyph, x := restGlyph(e), s.xs[i][j]
	if e.MeasureRest {
		x = (s.left[i]+s.end(i))/2 - glyph.Width()/2
		s.add(glyph.At(x, middleLine, 1))
		return
	}
	s.add(glyph.At(x, middleLine, 1))
	for d := range e.Dots {
		s.add(dotAt(x+glyph.Width()+dotGap+float64(d)*(dotGap+dotWidth), middleLine-0.5))
	}
}

func dotAt(x, y float64) drawing.Mark {
	return drawing.Shape{Path: drawing.Circle(x+dotWidth/2, y, dotWidth/2+0.03)}
}

// drawLedgers draws the short lines that carry heads above or below the staff.
func (s *system) drawLedgers(v voice, x float64) {
	wide := headGlyph(v.head).Width()
	ledger := func(y float64) {
		s.add(drawing.Stroke(x-ledgerReach, y, x+wide+ledgerReach, y, ledgerLine))
	}
	for y := bottomLine + 1; y <= v.lower; y++ {
		ledger(y)
	}
	for y := -1.0; y >= v.upper; y-- {
		ledger(y)
	}
}

func (t *third) drawHeads(v voice, x float64) {
	glyph := headGlyph(v.head)
	for _, y := range [2]float64{v.lower, v.upper} {
		t.add(glyph.At(x, y, 1))
		at := y
		if y == float64(int(y)) { // a dot never stands on a line
			at -= 0.5
		}
		for d := range t.event.Dots {
			t.add(dotAt(x+glyph.Width()+dotGap+float64(d)*(dotGap+dotWidth), at))
		}
	}
}

// drawAccidentals draws the upper note's accidental next to the heads and the
// lower one's to the left of it, for a third leaves no room for one above the
// other.
func (t *third) drawAccidentals(v voice, x float64) {
	pair := t.event.Third.Notes
	for _, note := range []struct {
		alter int
		shown bool
		y     float64
	}{
		{pair.Upper.Alter, t.event.Accidentals[1], v.upper},
		{pair.Lower.Alter, t.event.Accidentals[0], v.lower},
	} {
		if !note.shown {
			continue
		}
		x -= signGap + accidentalWidth(note.alter)
		at := x
		for _, g := range accidentalGlyphs(note.alter) {
			t.add(g.At(at, note.y, 1))
			at += g.Width()
		}
	}
}

// drawStem draws the stem, and the flags of a note without beams.
func (t *third) drawStem(v voice, x float64) {
	if t.event.Value == 1 {
		return
	}
	from := v.lower - 0.15 // the heads' outline leans towards the stem
	if !v.up {
		from = v.upper + 0.15
	}
	at := stemX(x, v.up)
	t.add(drawing.Stroke(at, from, at, v.tip, stemThickness))
	if t.event.Beams != nil {
		return
	}
	first, more, step := drawing.UpFlag, drawing.UpFlagMore, flagDistance
	if !v.up {
		first, more, step = drawing.DownFlag, drawing.DownFlagMore, -flagDistance
	}
	for i := range t.event.Value.Flags() {
		glyph := more
		if i == t.event.Value.Flags()-1 {
			glyph = first // the longest flag is the one nearest to the heads
		}
		t.add(glyph.At(at-stemThickness/2, v.tip+float64(i)*step, 1))
	}
}
