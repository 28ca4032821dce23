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
	fingerRoom  = 0.72 // right of a fret for its finger, as a part of the size of its number
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
// stand below them, and by fingers' numbers of a size. What is tied on has none.
func (b *bar) makeRoomForFrets(finger float64) {
	for i := range b.Events {
		e, f := &b.Events[i], &b.Figures[i]
		if e.Rest() || e.TiedFrom {
			continue
		}
		for _, fret := range []int{e.Third.Places.Lower.Fret, e.Third.Places.Upper.Fret} {
			half := fretWidth(fmt.Sprint(fret), e.Third.Role)/2 + 0.1
			f.Left = max(f.Left, half-drawing.HeadWidth/2)
			f.Right = max(f.Right, half+drawing.HeadWidth/2)
			if e.Fingered {
				f.Right = max(f.Right, half+drawing.HeadWidth/2+fingerRoom*finger)
			}
		}
	}
}

// An opening is a stretch of a string's line that makes room for a number.
type opening struct{ left, right float64 }

// drawTab draws the tab: the frets of each third, and a line for each string. What is
// tied on is not struck again, so it has no frets.
func (s *system) drawTab() {
	openings := make([][]opening, s.notation.Score.Neck.Strings()) // by string, the highest first
	for _, t := range s.thirds {
		if t.event.TiedFrom {
			continue
		}
		middle, role := t.x+drawing.HeadWidth/2, t.event.Third.Role
		lower, upper := t.event.Third.Places.Fingers(t.event.Third.Hand)
		for i, place := range []neck.Place{t.event.Third.Places.Lower, t.event.Third.Places.Upper} {
			fret := fmt.Sprint(place.Fret)
			y := s.stringHeight(place.String) + fretSize*drawing.CapHeight/2
			t.add(drawing.Text(middle, y, fretSize, fretFont(role), drawing.Centred, fret))
			half := fretWidth(fret, role)/2 + 0.18
			right := middle + half
			if finger := []int{lower, upper}[i]; t.event.Fingered && finger > 0 {
				t.add(fingerNumber(right, y, s.finger, finger))
				right += fingerRoom * s.finger
			}
			openings[place.String-1] = append(openings[place.String-1], opening{middle - half, right})
		}
	}
	for i, o := range openings {
		s.drawString(s.stringHeight(i+1), o)
	}
	s.drawTabLetters()
}

// fingerNumber sets the number of a finger of the left hand behind a fret, whose
// number stands on a baseline, a little higher.
func fingerNumber(x, y, size float64, finger int) drawing.Mark {
	const lift = 0.42
	return drawing.Text(x, y-lift, size, drawing.Italic, drawing.FromLeft, fmt.Sprint(finger))
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

// drawArrivals draws a mark below each third where the line arrives, below all that
// hangs from the staff.
func (s *system) drawArrivals() {
	y := s.bottom()
	if s.staves == Tab || s.staves == Notation {
		y = max(y, s.contentBounds().Bottom)
	}
	for _, t := range s.thirds {
		if t.event.Third.Role == score.Arrival && !t.event.TiedFrom {
			t.add(ArrivalSign(t.x+drawing.HeadWidth/2, y+0.95))
		}
	}
}

// bottom returns the height of the lowest line of the system's staves.
func (s *system) bottom() float64 {
	if s.bassTop != 0 {
		return s.bassTop + staff.BottomLine*staff.BassSize
	}
	if s.staves == Notation || s.staves == Chords {
		return s.staffBottom()
	}
	return s.tabBottom()
}

// staffBottom returns the height of the staff's lowest line, or of the foot of the
// bar lines where chords stand alone.
func (s *system) staffBottom() float64 {
	if s.staves == Chords && s.notation.Score.Handout.Numerals {
		return staff.BottomLine + numeralLine
	}
	return staff.BottomLine
}

func (s *system) tabBottom() float64 { return s.stringHeight(s.notation.Score.Neck.Strings()) }
