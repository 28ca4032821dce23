// Package symbol sets chord symbols, as lead sheets do: the root large, what follows it
// smaller, and in parentheses what sounds where the hand plays another shape.
//
// In goes the span of a chord in a score; lengths are in staff spaces.
package symbol

import (
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// Sizes of fonts, as parts of the size of the root.
const (
	suffixSize   = 0.8
	soundingSize = 0.7
)

// A run is a part of a symbol in one size.
type run struct {
	text string
	size float64
}

// runsOf returns a chord symbol as what is set large and small.
func runsOf(span score.ChordSpan, size float64) []run {
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

// Width returns the width of a chord symbol at a font size.
func Width(size float64, span score.ChordSpan) float64 {
	width := 0.0
	for _, r := range runsOf(span, size) {
		width += drawing.Bold.Width(r.size, r.text)
	}
	return width
}

// Set sets a chord symbol at a font size, its left end at x.
func Set(x, y, size float64, span score.ChordSpan) drawing.Mark {
	g := drawing.Group{}
	for _, r := range runsOf(span, size) {
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
