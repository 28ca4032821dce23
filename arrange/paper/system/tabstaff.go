package system

import (
	"fmt"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/staff"
	"thirdwise/arrange/score"
	"thirdwise/theory/neck"
)

const (
	fretSize    = 1.75 // of the font of a fret's number
	tabLetter   = 2.1  // of the font of the letters TAB, at most
	arrivalHalf = 0.55 // half the width of the mark below an arrival
)

// fretFont is bold where the line arrives.
func fretFont(r score.Role) drawing.Font {
	if r == score.Arrival {
		return drawing.Bold
	}
	return drawing.Regular
}

func fretWidth(fret string, r score.Role) float64 { return fretFont(r).Width(fretSize, fret) }

// makeRoomForFrets widens what events ask for to both sides by the frets that
// stand below them. What is tied on has none.
func (b *bar) makeRoomForFrets() {
	for i := range b.Events {
		e, f := &b.Events[i], &b.Figures[i]
		if e.Rest() || e.TiedFrom {
			continue
		}
		for _, fret := range [2]int{e.Third.Places.Lower.Fret, e.Third.Places.Upper.Fret} {
			half := fretWidth(fmt.Sprint(fret), e.Third.Role)/2 + 0.1
			f.Left = max(f.Left, half-drawing.HeadWidth/2)
			f.Right = max(f.Right, half+drawing.HeadWidth/2)
		}
	}
}

// An opening is a stretch of a string's line that makes room for a number.
type opening struct{ left, right float64 }

// drawTab draws the tab: the frets of each third, a mark below those where the
// line arrives, and a line for each string. What is tied on is not struck again,
// so it has no frets.
func (s *system) drawTab() {
	openings := make([][]opening, s.notation.Score.Neck.Strings()) // by string, the highest first
	for _, t := range s.thirds {
		if t.event.TiedFrom {
			continue
		}
		middle, role := t.x+drawing.HeadWidth/2, t.event.Third.Role
		for _, place := range [2]neck.Place{t.event.Third.Places.Lower, t.event.Third.Places.Upper} {
			fret := fmt.Sprint(place.Fret)
			y := s.stringHeight(place.String) + fretSize*drawing.CapHeight/2
			t.add(drawing.Text(middle, y, fretSize, fretFont(role), drawing.Centred, fret))
			half := fretWidth(fret, role)/2 + 0.18
			openings[place.String-1] = append(openings[place.String-1], opening{middle - half, middle + half})
		}
		if role == score.Arrival {
			t.add(ArrivalSign(middle, s.tabBottom()+0.95))
		}
	}
	for i, o := range openings {
		s.drawString(s.stringHeight(i+1), o)
	}
	s.drawTabLetters()
}

// drawString draws a string's line from end to end, but for its openings, which
// rise from left to right.
func (s *system) drawString(y float64, openings []opening) {
	x := 0.0
	for _, o := range append(openings, opening{s.width, s.width}) {
		s.add(drawing.Stroke(x, y, o.left, y, stringLine))
		x = o.right
	}
}

// drawTabLetters draws the clef of the tab: TAB, one letter below the other.
func (s *system) drawTabLetters() {
	height := s.tabBottom() - s.tabTop
	size, step := 0.28*height, 0.265*height
	if size > tabLetter {
		size, step = tabLetter, tabLetter*0.95
	}
	middle := (s.tabTop + s.tabBottom()) / 2
	for i, letter := range []string{"T", "A", "B"} {
		s.add(drawing.Text(staff.ClefX+1.2, middle+float64(i-1)*step+size*drawing.CapHeight/2, size, drawing.Bold, drawing.Centred, letter))
	}
}

// ArrivalSign draws the mark of an arrival: a triangle that points up to a place.
func ArrivalSign(x, y float64) drawing.Mark {
	return drawing.Shape{Path: drawing.Polygon(drawing.Pt(x, y), drawing.Pt(x+arrivalHalf, y+0.95), drawing.Pt(x-arrivalHalf, y+0.95))}
}

func (s *system) stringHeight(str int) float64 { return s.tabTop + float64(str-1)*stringSpace }

func (s *system) tabBottom() float64 { return s.stringHeight(s.notation.Score.Neck.Strings()) }
