package system

import (
	"fmt"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/theory/meter"
)

const (
	clefX        = 0.7
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

func timeWidth(m meter.Meter) float64 {
	return max(digitsWidth(m.Beats), digitsWidth(m.Unit))
}

func digitsWidth(n int) float64 {
	sum := 0.0
	for _, d := range fmt.Sprint(n) {
		sum += (drawing.Time0 + drawing.Glyph(d-'0')).Width() + 0.08
	}
	return sum
}

// drawPrefix draws the clef with the 8 below that guitar notation uses, for it
// sounds an octave lower than written; then the key signature, and in the first
// system the time signature.
func (s *system) drawPrefix() {
	score := s.notation.Score
	s.add(
		drawing.TrebleClef.At(clefX, gLine, 1),
		drawing.Text(clefX+1.45, gLine+3.85, 1.6, drawing.Italic, drawing.Centred, "8"),
	)
	x := clefX + drawing.TrebleClef.Width() + 0.7
	fifths := score.Key.Fifths()
	for i := range max(fifths, -fifths) {
		if fifths > 0 {
			s.add(drawing.SharpSign.At(x+float64(i)*sharpAdvance, sharpHeights[i], 1))
		} else {
			s.add(drawing.FlatSign.At(x+float64(i)*flatAdvance, flatHeights[i], 1))
		}
	}
	if s.first == 0 {
		x += signatureWidth(fifths)
		s.add(digits(x+timeWidth(score.Meter)/2, 1, score.Meter.Beats)...)
		s.add(digits(x+timeWidth(score.Meter)/2, 3, score.Meter.Unit)...)
	} else {
		s.add(drawing.Text(0, -1.9, 1.5, drawing.Italic, drawing.FromLeft, fmt.Sprint(s.bars[0].Number)))
	}
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
