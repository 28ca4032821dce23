package system

import (
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
)

// symbolSize is the font size of the letters of a chord symbol; what follows a
// root is smaller.
const (
	symbolSize = 2.2
	suffixSize = 0.8 // of the size of the letters
)

// symbolParts returns a chord symbol as what is set large, small and large.
func symbolParts(span score.ChordSpan) (root, suffix, bass string) {
	if span.None {
		return span.Symbol(), "", ""
	}
	c := span.Chord
	if c.Bass != c.Root {
		bass = "/" + c.Bass.String()
	}
	return c.Root.String(), c.Quality.String(), bass
}

// SymbolWidth returns the width of a chord symbol at a font size.
func SymbolWidth(size float64, span score.ChordSpan) float64 {
	root, suffix, bass := symbolParts(span)
	return drawing.Bold.Width(size, root+bass) + drawing.Bold.Width(size*suffixSize, suffix)
}

// Symbol sets a chord symbol at a font size, its left end at x.
func Symbol(x, y, size float64, span score.ChordSpan) drawing.Mark {
	root, suffix, bass := symbolParts(span)
	g := drawing.Group{Reads: root + suffix + bass}
	add := func(s string, size float64) {
		if s == "" {
			return
		}
		m := drawing.Text(x, y, size, drawing.Bold, drawing.FromLeft, s)
		if inner, ok := m.(drawing.Group); ok {
			g.Marks = append(g.Marks, inner.Marks...)
		} else {
			g.Marks = append(g.Marks, m)
		}
		x += drawing.Bold.Width(size, s)
	}
	add(root, size)
	add(suffix, size*suffixSize)
	add(bass, size)
	return g
}
