package system

import (
	"fmt"
	"slices"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/staff"
	"thirdwise/arrange/paper/symbol"
)

// Sizes of the fonts of what stands above the chord symbols, and the thickness of
// the line over an ending.
const (
	sectionSize    = 1.9
	sectionPadding = 0.45 // of its box
	remarkSize     = 1.6
	endingLine     = 0.14
)

// drawBarLines draws the bar lines through staff and tab, repeat signs and the
// line that joins the two at the left. Where a repeat closes and the next one
// opens, both share the thick line.
func (s *system) drawBarLines() {
	s.add(drawing.Stroke(0, 0, 0, s.bottom(), thinBar))
	for i := range s.bars {
		x, opens := s.end(i), i+1 < len(s.bars) && s.bars[i+1].RepeatOpens
		if i == 0 && s.bars[0].RepeatOpens {
			s.barLine(s.left[0]+0.15+thickBar/2, thickBar)
			s.drawRepeat(s.left[0]+0.15+thickBar, 1)
		}
		switch end := s.bars[i].end; {
		case end == repeatEnd:
			s.barLine(x-thickBar/2, thickBar)
			s.drawRepeat(x-thickBar, -1)
		case end == finalEnd:
			s.barLine(x-thickBar/2, thickBar)
			s.barLine(x-thickBar-lineGap, thinBar)
		case end == doubleEnd:
			s.barLine(x, thinBar)
			s.barLine(x-doubleWidth, thinBar)
		case end == openEnd && opens:
			s.barLine(x-thickBar/2, thickBar)
		default:
			s.barLine(x, thinBar)
		}
		if opens {
			s.drawRepeat(x, 1)
		}
	}
}

func (s *system) barLine(x, thickness float64) {
	if s.staves != Tab {
		s.add(drawing.Stroke(x, 0, x, s.staffBottom(), thickness))
	}
	if s.staves != Notation && s.staves != Chords {
		s.add(drawing.Stroke(x, s.tabTop, x, s.tabBottom(), thickness))
	}
	if s.bassTop != 0 {
		s.add(drawing.Stroke(x, s.bassTop, x, s.bottom(), thickness))
	}
}

// drawRepeat draws the thin line and the dots of a repeat sign, right of its
// thick line's edge at x where direction is 1, left of it where it is -1. The
// dots stand in the spaces nearest to the middle that are alike on both sides.
func (s *system) drawRepeat(x, direction float64) {
	s.barLine(x+direction*lineGap, thinBar)
	middle, apart := (s.tabTop+s.tabBottom())/2, stringSpace
	if s.notation.Score.Neck.Strings()%2 == 1 { // a string runs through the middle
		apart /= 2
	}
	heights := []float64{staff.MiddleLine - 0.5, staff.MiddleLine + 0.5, middle - apart, middle + apart}
	switch s.staves {
	case Tab:
		heights = heights[2:]
	case Notation:
		heights = heights[:2]
	case Chords:
		middle := s.staffBottom() / 2
		heights = []float64{middle - 0.5, middle + 0.5}
	}
	if s.bassTop != 0 {
		middle := (s.bassTop + s.bottom()) / 2
		heights = append(heights, middle-0.5*staff.BassSize, middle+0.5*staff.BassSize)
	}
	for _, y := range heights {
		s.add(drawing.Shape{Path: drawing.Circle(x+direction*1.0, y, 0.22)})
	}
}

// drawAbove draws what stands above the staff: the chord symbols in one row, their
// Roman numerals below them, and above them section names, endings and remarks where
// there are any.
func (s *system) drawAbove() {
	chords := s.symbolsAt()
	numerals := chords
	switch {
	case !s.notation.Score.Handout.Numerals:
	case s.staves == Chords:
		numerals += numeralLine
	default:
		chords -= numeralLine
	}
	row := min(-1.1, chords-symbolSize*drawing.CapHeight-1.1) // the bottom of the row above
	for i := range s.bars {
		b := &s.bars[i]
		for _, span := range b.Chords {
			x := s.xAt(i, span.Tick-b.Tick)
			s.add(symbol.Set(x, chords, symbolSize, span))
			if text := numeral(s.notation.Score, span); text != "" {
				s.add(drawing.Text(x, numerals, numeralSize, drawing.Regular, drawing.FromLeft, text))
			}
		}
		if b.Section != "" {
			s.addSection(i, chords, row)
		}
		if b.Ending != nil && (i == 0 || b.Ending.Begins) {
			s.addAbove(s.endingMarks(i, row))
		}
		if b.RepeatTimes > 2 && b.Ending == nil {
			s.drawTimes(s.end(i), b.RepeatTimes)
		}
	}
	s.drawLastTime(row)
}

// addSection sets the name of a section. Where all names are short it stands at the left
// end of a system as near to the clef as there is room, left of the chord symbols;
// elsewhere above them.
func (s *system) addSection(i int, chords, row float64) {
	const lift = 0.2
	for y := chords; i == 0 && s.shortNames && y > row; y -= lift {
		marks := s.sectionMarks(0, y)
		if box := drawing.BoundsOf(marks); !s.inTheWay(box) {
			s.above = append(s.above, box)
			s.add(marks...)
			return
		}
	}
	s.addAbove(s.sectionMarks(i, row))
}

// drawTimes says over a repeat sign how often what it closes is played, as near to
// the staff as there is room.
func (s *system) drawTimes(x float64, times int) {
	const nearest, lift = -1.0, 0.4
	marks := []drawing.Mark{drawing.Text(x, nearest, remarkSize, drawing.Italic, drawing.FromRight, fmt.Sprintf("%d times", times))}
	for s.inTheWay(drawing.BoundsOf(marks)) {
		marks = drawing.Moved(marks, 0, -lift)
	}
	s.above = append(s.above, drawing.BoundsOf(marks))
	s.add(marks...)
}

// inTheWay reports whether a box would stand on something that is drawn, or close
// to it.
func (s *system) inTheWay(box drawing.Box) bool {
	const space = 0.3
	box = drawing.Box{Left: box.Left - space, Top: box.Top - space, Right: box.Right + space, Bottom: box.Bottom + space}
	meets := func(m drawing.Mark) bool { return box.Overlaps(m.Bounds()) }
	return slices.ContainsFunc(s.marks, meets) || slices.ContainsFunc(s.thirds, func(t *third) bool {
		return slices.ContainsFunc(t.group.Marks, meets)
	})
}

// addAbove adds marks above the chord symbols, lifted until they are clear of
// those that are there.
func (s *system) addAbove(marks []drawing.Mark) {
	const lift, space = 2.6, 0.3
	for {
		box := drawing.BoundsOf(marks)
		box.Left, box.Right = box.Left-space, box.Right+space
		if !slices.ContainsFunc(s.above, box.Overlaps) {
			s.above = append(s.above, drawing.BoundsOf(marks))
			s.add(marks...)
			return
		}
		marks = drawing.Moved(marks, 0, -lift)
	}
}

// contentAbove returns the height of the highest mark right of the clef, which
// chord symbols need not clear.
func (s *system) contentAbove() float64 {
	top := 0.0
	prefix := s.prefix()
	for _, m := range s.all() {
		if b := m.Bounds(); b.Right > prefix {
			top = min(top, b.Top)
		}
	}
	return top
}

// xAt returns where a tick of a bar stands: at its event, or between two where
// none begins there.
func (s *system) xAt(i, tick int) float64 {
	b := &s.bars[i]
	for j, e := range slices.Backward(b.Events) {
		if e.Tick > tick {
			continue
		}
		from, to := s.xs[i][j], s.end(i)-b.end.width()
		if j+1 < len(b.Events) {
			to = s.xs[i][j+1]
		}
		return from + (to-from)*float64(tick-e.Tick)/float64(e.Length)
	}
	return s.xs[i][0]
}

// sectionMarks sets the name of a section in a box over the left bar line, or at
// the left end of the system; smaller where the row is too short for it.
func (s *system) sectionMarks(i int, y float64) []drawing.Mark {
	const padding = sectionPadding
	x, size, name := 0.0, sectionSize, drawing.Typeset(s.bars[i].Section)
	if i > 0 {
		x = s.left[i]
	}
	size *= min(1, (s.width-2*padding)/drawing.Bold.Width(size, name))
	width := padding + drawing.Bold.Width(size, name) + padding
	x = min(x, s.width-width)
	top := y - size*drawing.CapHeight
	return []drawing.Mark{
		drawing.Text(x+padding, y, size, drawing.Bold, drawing.FromLeft, name),
		drawing.Shape{Thickness: 0.15, Path: drawing.Polygon(
			drawing.Pt(x, top-padding), drawing.Pt(x+width, top-padding),
			drawing.Pt(x+width, y+padding), drawing.Pt(x, y+padding),
		)},
	}
}

// endingMarks draws the bracket over the bars of an ending that stand in the system,
// from bar i on: with its number where it begins, closed where a repeat sign closes
// it.
func (s *system) endingMarks(i int, row float64) []drawing.Mark {
	last := i
	for last+1 < len(s.bars) && s.bars[last+1].Ending != nil && !s.bars[last+1].Ending.Begins {
		last++
	}
	begins, ends := s.bars[i].Ending.Begins, s.bars[last].Ending.Ends
	left, right, top := s.left[i], s.end(last), row-1.5
	if begins {
		left += 0.2
	}
	if i == 0 && s.staves == Chords { // behind the number
		left += drawing.Italic.Width(numberSize, s.number()) + 0.2
	}
	if ends {
		right -= 0.3
	}
	marks := []drawing.Mark{drawing.Stroke(left, top, right, top, endingLine)}
	if begins {
		marks = append(marks,
			drawing.Stroke(left, top, left, row+0.4, endingLine),
			drawing.Text(left+0.5, row, remarkSize, drawing.Regular, drawing.FromLeft, s.bars[i].Ending.String()))
	}
	if ends && s.bars[last].RepeatTimes != 0 {
		marks = append(marks, drawing.Stroke(right, top, right, row+0.4, endingLine))
	}
	return marks
}

// drawLastTime sets a fermata over the third that is held to the end the last time.
func (s *system) drawLastTime(row float64) {
	const words, space = "last time", 0.6
	for _, t := range s.thirds {
		if s.notation.HeldLastTime(t.event) {
			x := min(t.x-0.6, s.width-drawing.Fermata.Width()-space-drawing.Italic.Width(remarkSize, words))
			s.addAbove([]drawing.Mark{
				drawing.Fermata.At(x, row, 1),
				drawing.Text(x+drawing.Fermata.Width()+space, row, remarkSize, drawing.Italic, drawing.FromLeft, words),
			})
		}
	}
}
