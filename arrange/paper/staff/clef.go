package staff

import (
	"fmt"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

// ClefX is where the clef stands, from the left end of the staff.
const ClefX = 0.7

// clefs holds each clef's sign, the height at which it stands, that of the 8 below,
// where the accidentals of key signatures stand below those of the treble clef, and
// the staff step that sounds on the bottom line: E3, E4, G1.
var clefs = [...]struct {
	sign       drawing.Glyph
	line       float64
	octave     string // below the clef
	eight      drawing.Point
	lower      float64
	bottomStep int
}{
	paper.GuitarClef: {drawing.TrebleClef, 3, "8", drawing.Pt(1.45, 6.85), 0, 23},
	paper.TrebleClef: {drawing.TrebleClef, 3, "", drawing.Pt(0, 0), 0, 30},
	paper.BassClef:   {drawing.BassClef, 1, "8", drawing.Pt(1.1, 5.2), 1, 11},
}

// HeightOf returns where a pitch stands on a staff with a clef.
func HeightOf(p theory.Pitch, c paper.Clef) float64 {
	return BottomLine - float64(p.Staff()-clefs[c].bottomStep)/2
}

const (
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
	w := signatureX + signatureWidth(s.Key.Fifths())
	if time {
		w += TimeWidth(s.Meter) + 0.7
	}
	return w
}

// signatureX is where the key signature stands: behind the widest clef.
var signatureX = ClefX + max(drawing.TrebleClef.Width(), drawing.BassClef.Width()*BassSize) + 0.7

// BassSize is the size of the bass's staff, that of a part which another player plays.
const BassSize = 0.75

// Prefix draws a clef with its 8; then the key signature, and where it is shown the
// time signature. On a staff of another size than 1, these stand below those of a
// staff of size 1. Lengths are in that staff's spaces.
func Prefix(c paper.Clef, s *score.Score, time bool, size float64) []drawing.Mark {
	of := clefs[c]
	marks := []drawing.Mark{of.sign.At(ClefX/size, of.line, 1)}
	if of.octave != "" {
		marks = append(marks, drawing.Text(ClefX/size+of.eight.X, of.eight.Y, 1.6, drawing.Italic, drawing.Centred, of.octave))
	}
	x := signatureX / size
	fifths := s.Key.Fifths()
	for i := range max(fifths, 0) {
		marks = append(marks, drawing.SharpSign.At(x+float64(i)*sharpAdvance, sharpHeights[i]+of.lower, 1))
	}
	for i := range max(-fifths, 0) {
		marks = append(marks, drawing.FlatSign.At(x+float64(i)*flatAdvance, flatHeights[i]+of.lower, 1))
	}
	if time {
		x += signatureWidth(fifths) / size
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
