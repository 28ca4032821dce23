package sheet

import "strings"

// An align says which end of a text stands at the place that is given.
type align int

const (
	fromLeft align = iota
	centred
	fromRight
)

// text sets a text in one line. Accidentals in it are set from outlines, and
// then the whole is a group that reads as the text. Characters that the fonts
// do not have become a dot.
func text(x, y, size float64, f Font, a align, s string) Mark {
	set := strings.Map(func(r rune) rune {
		if _, ok := inlineSigns[r]; ok || f.has(r) {
			return r
		}
		return missing
	}, s)
	switch a {
	case centred:
		x -= f.width(size, set) / 2
	case fromRight:
		x -= f.width(size, set)
	}
	if !strings.ContainsAny(set, "♯♭♮") && set == s {
		return Words{X: x, Y: y, Size: size, Font: f, Text: set}
	}
	g := Group{Reads: s}
	run := ""
	flush := func() {
		// A reader of SVG may drop spaces at the ends.
		if letters := strings.TrimLeft(run, " "); letters != "" {
			indent := f.width(size, run[:len(run)-len(letters)])
			g.Marks = append(g.Marks, Words{X: x + indent, Y: y, Size: size, Font: f, Text: letters})
		}
		x += f.width(size, run)
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

// wrap divides a text into lines no wider than a width.
func wrap(width, size float64, f Font, s string) []string {
	var lines []string
	current := ""
	for _, word := range strings.Fields(s) {
		longer := strings.TrimSpace(current + " " + word)
		if current != "" && f.width(size, longer) > width {
			lines = append(lines, current)
			longer = word
		}
		current = longer
	}
	return append(lines, current)
}
