package system

import (
	"fmt"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/theory"
)

// Heights are in staff spaces from a staff's top line, down.
const (
	middleLine   = 2.0
	bottomLine   = 4.0
	bottomStep   = 23 // the staff step that sounds on the bottom line: E3, written an octave higher
	stemLength   = 3.5
	flagDistance = 0.75
)

// heightOf returns where a pitch stands on the staff.
func heightOf(p theory.Pitch) float64 { return bottomLine - float64(p.Staff()-bottomStep)/2 }

// A voice is how an event looks, wherever in the line it stands: its heads, its
// stem's direction and what it needs beside the left edge of its heads.
type voice struct {
	left, right  float64 // room to both sides of the heads' left edge
	lower, upper float64 // heights of the two heads
	head         paper.Value
	up           bool    // the stem's direction
	tip          float64 // the height at which the stem ends; beams move it
}

// voicesOf returns how a measure's events look.
func voicesOf(m *paper.Measure) []voice {
	voices := make([]voice, len(m.Events))
	for i := range m.Events {
		e := &m.Events[i]
		if e.Rest() {
			voices[i] = voice{right: restGlyph(e).Width() + dots(e.Dots)}
			continue
		}
		voices[i] = voice{
			lower: heightOf(e.Third.Notes.Lower), upper: heightOf(e.Third.Notes.Upper),
			head: e.Value,
		}
	}
	for _, g := range beamsOf(m) {
		g.direct(voices)
	}
	for i := range m.Events {
		if e := &m.Events[i]; !e.Rest() {
			if e.Beams == nil {
				voices[i].setStem(e)
			}
			voices[i].measure(e)
		}
	}
	return voices
}

// setStem gives an event without beams its stem: away from the middle line,
// down where both are as near, an octave long, and to the middle line at least.
func (v *voice) setStem(e *paper.Event) {
	v.up = middleLine-v.upper < v.lower-middleLine
	more := flagDistance * float64(max(0, e.Value.Flags()-2))
	if v.up {
		v.tip = min(v.upper-stemLength-more, middleLine)
	} else {
		v.tip = max(v.lower+stemLength+more, middleLine)
	}
}

// measure finds how far the event reaches to both sides.
func (v *voice) measure(e *paper.Event) {
	v.right = headGlyph(e.Value).Width() + dots(e.Dots)
	if e.Beams == nil && e.Value.Flags() > 0 && v.up {
		v.right = max(v.right, drawing.HeadWidth+drawing.UpFlag.Width()+0.1)
	}
	for i, p := range [2]theory.Pitch{e.Third.Notes.Lower, e.Third.Notes.Upper} {
		if e.Accidentals[i] {
			v.left += signGap + accidentalWidth(p.Alter)
		}
	}
	if e.TiedFrom {
		return
	}
	for _, place := range [2]int{e.Third.Places.Lower.Fret, e.Third.Places.Upper.Fret} {
		half := fretWidth(fmt.Sprint(place), e.Third.Role)/2 + 0.1
		v.left = max(v.left, half-drawing.HeadWidth/2)
		v.right = max(v.right, half+drawing.HeadWidth/2)
	}
}

func dots(n int) float64 { return float64(n) * (dotGap + dotWidth) }

func headGlyph(v paper.Value) drawing.Glyph {
	switch v {
	case 1:
		return drawing.WholeHead
	case 2:
		return drawing.HalfHead
	}
	return drawing.BlackHead
}

func restGlyph(e *paper.Event) drawing.Glyph {
	switch {
	case e.MeasureRest || e.Value == 1:
		return drawing.WholeRest
	case e.Value == 2:
		return drawing.HalfRest
	case e.Value == 4:
		return drawing.QuarterRest
	case e.Value == 8:
		return drawing.EighthRest
	case e.Value == 16:
		return drawing.SixteenthRest
	}
	return drawing.ThirtySecondRest
}

// accidentalGlyphs returns the signs that stand for an alteration: double flats
// are two flats, and so are triple alterations made up.
func accidentalGlyphs(alter int) []drawing.Glyph {
	switch alter {
	case 0:
		return []drawing.Glyph{drawing.NaturalSign}
	case 2:
		return []drawing.Glyph{drawing.DoubleSharpSign}
	case 3:
		return []drawing.Glyph{drawing.SharpSign, drawing.DoubleSharpSign}
	}
	sign := drawing.SharpSign
	if alter < 0 {
		sign, alter = drawing.FlatSign, -alter
	}
	signs := make([]drawing.Glyph, alter)
	for i := range signs {
		signs[i] = sign
	}
	return signs
}

func accidentalWidth(alter int) float64 {
	sum := 0.0
	for _, g := range accidentalGlyphs(alter) {
		sum += g.Width()
	}
	return sum
}
