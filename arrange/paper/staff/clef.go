package staff

import (
	"fmt"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// ClefX is where the clef stands, from the left end of the staff.
const ClefX = 0.7

const (
	gLine        = 3.0 // the height of the G line, on which the clef stands
	sharpAdvance = 1.05
	flatAdvance  = 0.95
)

// Heights of the accidentals of a key signature in the treble clef, in the
// order in which they stand (common practice).
var (
	sharpHeights = [7]float64{0, 1.5, -0.5, 1, 2.5, 0.5, 2}
	flatHeights  = [7]float64{2, 0.5, 2.5, 1, 3, 1.5, 3.5}
)

func signatureWidth(fifths int) float64 {
	if fifths == 0 {
		return 0
	}
	return max(float64(fifths)*sharpAdvance, float64(-fifths)*flatAdvance) + 0.4
}

// TimeWidth returns the width of a time signature.
func TimeWidth(m meter.Meter) float64 {
	return max(digitsWidth(m.Beats), digitsWidth(m.Unit))
}

func digitsWidth(n int) float64 {
	sum := 0.0
	for _, d := range fmt.Sprint(n) {
		sum += (drawing.Time0 + drawing.Glyph(d-'0')).Width() + 0.08
	}
	return sum
}

// PrefixWidth returns how much room clef, key signature and, where it is shown,
// time signature take.
func PrefixWidth(s *score.Score, time bool) float64 {
	w := ClefX + drawing.TrebleClef.Width() + 0.7 + signatureWidth(s.Key.Fifths())
	if time {
		w += TimeWidth(s.Meter) + 0.7
	}
	return w
}

// Prefix draws the clef with the 8 below that guitar notation uses, for it sounds
// an octave lower than written; then the key signature, and where it is shown the
// time signature.
func Prefix(s *score.Score, time bool) []drawing.Mark {
	marks := []drawing.Mark{
		drawing.TrebleClef.At(ClefX, gLine, 1),
		drawing.Text(ClefX+1.45, gLine+3.85, 1.6, drawing.Italic, drawing.Centred, "8"),
	}
	x := ClefX + drawing.TrebleClef.Width() + 0.7
	fifths := s.Key.Fifths()
	for i := range max(fifths, -fifths) {
		if fifths > 0 {
			marks = append(marks, drawing.SharpSign.At(x+float64(i)*sharpAdvance, sharpHeights[i], 1))
		} else {
			marks = append(marks, drawing.FlatSign.At(x+float64(i)*flatAdvance, flatHeights[i], 1))
		}
	}
	if time {
		x += signatureWidth(fifths)
		marks = append(marks, drawing.Moved(Time(s.Meter), x, 0)...)
	}
	return marks
}

// Time draws a time signature, its left edge at the origin.
func Time(m meter.Meter) []drawing.Mark {
	middle := TimeWidth(m) / 2
	return append(digits(middle, 1, m.Beats), digits(middle, 3, m.Unit)...)
}

// digits sets a number in the digits of a time signature, its middle at a place.
func digits(x, y float64, n int) []drawing.Mark {
	var marks []drawing.Mark
	x -= digitsWidth(n) / 2
	for _, d := range fmt.Sprint(n) {
		g := drawing.Time0 + drawing.Glyph(d-'0')
		marks = append(marks, g.At(x, y, 1))
		x += g.Width() + 0.08
	}
	return marks
}
