package system

import (
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/symbol"
	"thirdwise/arrange/score"
)

// Sizes of fonts, and the distance of what stands above a chord.
const (
	symbolSize  = 2.2
	numeralSize = 1.45
	numeralLine = 1.9 // from the baseline of a symbol to that of its numeral
)

// numeral returns the Roman numeral that stands below a span's symbol, or "".
func numeral(s *score.Score, span score.ChordSpan) string {
	if !s.Handout.Numerals || span.None {
		return ""
	}
	return span.Numeral
}

// spanWidth returns the width of what stands above a span: its symbol, and its
// numeral where that is wider.
func spanWidth(s *score.Score, span score.ChordSpan) float64 {
	return max(symbol.Width(symbolSize, span), drawing.Regular.Width(numeralSize, numeral(s, span)))
}
