package drawing

import (
	"strings"
	"unicode"
)

// An Align says which part of a text stands at the place that is given.
type Align int

// The alignments.
const (
	FromLeft Align = iota
	Centred
	FromRight
)

// Text sets a text in one line. Accidentals in it are set from outlines, and
// then the whole is a group that reads as the text. For a character that
// the font lacks stands a box.
func Text(x, y, size float64, f Font, a Align, s string) Mark {
	set := strings.Map(func(r rune) rune {
		if _, ok := inlineSigns[r]; ok || f.has(r) {
			return r
		}
		return missing
	}, s)
	switch a {
	case Centred:
		x -= f.Width(size, set) / 2
	case FromRight:
		x -= f.Width(size, set)
	}
	if !strings.ContainsAny(set, "♯♭♮") && set == s {
		return Words{X: x, Y: y, Size: size, Font: f, Text: set}
	}
	g := Group{Reads: s}
	run := ""
	flush := func() {
		// A reader of SVG may drop spaces at the ends.
		if words := strings.TrimLeft(run, " "); words != "" {
			indent := f.Width(size, run[:len(run)-len(words)])
			g.Marks = append(g.Marks, Words{X: x + indent, Y: y, Size: size, Font: f, Text: words})
		}
		x += f.Width(size, run)
		run = ""
	}
	for _, r := range set {
		sign, ok := inlineSigns[r]
		if !ok {
			run += string(r)
			continue
		}
		flush()
		g.Marks = append(g.Marks, Sign{X: x, Y: y - sign.rise*size, Size: sign.size * size, Glyph: sign.glyph})
		x += sign.advance * size
	}
	flush()
	return g
}

// Typeset returns words as they are printed: the apostrophe in don't, which a typewriter
// has as a stroke, is a raised comma.
func Typeset(words string) string {
	runes := []rune(words)
	for i, r := range runes {
		if r == '\'' && i > 0 && i+1 < len(runes) && unicode.IsLetter(runes[i-1]) && unicode.IsLetter(runes[i+1]) {
			runes[i] = '’'
		}
	}
	return string(runes)
}

// Inked returns a text set in an ink.
func Inked(text Mark, ink Ink) Mark {
	switch m := text.(type) {
	case Words:
		m.Ink = ink
		return m
	case Sign:
		m.Ink = ink
		return m
	case Group:
		marks := make([]Mark, len(m.Marks))
		for i := range marks {
			marks[i] = Inked(m.Marks[i], ink)
		}
		m.Marks = marks
		return m
	}
	return text
}
