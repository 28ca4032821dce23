package system

import (
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// symbolSize is the font size of the letters of a chord symbol; what follows a
// root is smaller, and so is what sounds where the hand plays another shape.
const (
	symbolSize   = 2.2
	suffixSize   = 0.8  // of the size of the letters
	soundingSize = 0.7  // of the size of the letters
	numeralSize  = 1.45 // of a Roman numeral's font
	numeralLine  = 1.9  // from the baseline of a symbol to that of its numeral
)

// A run is a part of a symbol in one size.
type run struct {
	text string
	size float64
}

// symbolRuns returns a chord symbol as what is set large and small.
func symbolRuns(span score.ChordSpan, size float64) []run {
	switch {
	case span.None:
		return []run{{span.Symbol(), size}}
	case span.Shaped:
		sounding := chordRuns(span.Chord, size*soundingSize)
		runs := append(chordRuns(span.Shape, size), run{" (", size * soundingSize})
		return append(append(runs, sounding...), run{")", size * soundingSize})
	}
	return chordRuns(span.Chord, size)
}

func chordRuns(c theory.Chord, size float64) []run {
	runs := []run{{c.Root.String(), size}}
	if suffix := c.Quality.String(); suffix != "" {
		runs = append(runs, run{suffix, size * suffixSize})
	}
	if c.Bass != c.Root {
		runs = append(runs, run{"/" + c.Bass.String(), size})
	}
	return runs
}

// SymbolWidth returns the width of a chord symbol at a font size.
func SymbolWidth(size float64, span score.ChordSpan) float64 {
	width := 0.0
	for _, r := range symbolRuns(span, size) {
		width += drawing.Bold.Width(r.size, r.text)
	}
	return width
}

// Symbol sets a chord symbol at a font size, its left end at x.
func Symbol(x, y, size float64, span score.ChordSpan) drawing.Mark {
	g := drawing.Group{}
	for _, r := range symbolRuns(span, size) {
		g.Reads += r.text
		m := drawing.Text(x, y, r.size, drawing.Bold, drawing.FromLeft, r.text)
		if inner, ok := m.(drawing.Group); ok {
			g.Marks = append(g.Marks, inner.Marks...)
		} else {
			g.Marks = append(g.Marks, m)
		}
		x += drawing.Bold.Width(r.size, r.text)
	}
	return g
}

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
	return max(SymbolWidth(symbolSize, span), drawing.Regular.Width(numeralSize, numeral(s, span)))
}
