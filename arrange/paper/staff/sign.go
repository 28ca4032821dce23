package staff

import (
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Distances of dots and accidentals.
const (
	dotGap   = 0.45 // between a head and its dot
	dotWidth = 0.35
	signGap  = 0.2 // between an accidental and what is right of it
)

func dots(n int) float64 { return float64(n) * (dotGap + dotWidth) }

func dotAt(x, y float64) drawing.Mark {
	return drawing.Shape{Path: drawing.Circle(x+dotWidth/2, y, dotWidth/2+0.03)}
}

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
	case e.Value == 1:
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
