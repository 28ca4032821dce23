package source

import (
	"strings"
	"unicode"
)

// Widths of an excerpt in columns of the terminal.
const (
	tabStop      = 8
	excerptWidth = 76
	excerptLead  = 20 // columns kept before the marked text where a line is cut
)

// mark returns a line as a terminal shows it and a second line with carets
// below the length characters from a column on. Tabs become spaces, a wide sign
// has two carets, and a long line is cut on both sides.
func mark(line string, column, length int) (excerpt, marks string) {
	var shown []rune
	first, last := -1, -1 // of the marked columns in shown
	at := 0
	for _, r := range line {
		at++
		if at == column {
			first = len(shown)
		}
		shown = append(shown, cells(r, len(shown))...)
		if at >= column && at < column+length {
			last = len(shown)
		}
	}
	if first < 0 {
		first = len(shown) // just behind the line's end
	}
	last = max(last, first+1)
	from, to := 0, len(shown)
	if to > excerptWidth {
		from = max(0, min(first-excerptLead, to-excerptWidth))
		to = from + excerptWidth
	}
	last = max(first+1, min(last, to))
	prefix, suffix := "", ""
	if from > 0 {
		prefix = "…"
	}
	if to < len(shown) {
		suffix = "…"
	}
	text := strings.ReplaceAll(string(shown[from:to]), string(filler), "")
	excerpt = strings.TrimRight(prefix+text+suffix, " ")
	marks = strings.Repeat(" ", len([]rune(prefix))+first-from) + strings.Repeat("^", last-first)
	return excerpt, marks
}

// filler stands in a row of cells for the second half of a wide sign.
const filler = '\uFFFF'

// cells returns what a character puts into the cells of a terminal from cell
// number at on. A sign that combines with the one before it is left out, and a
// control character is shown as a blank, so that no file can steer a terminal.
func cells(r rune, at int) []rune {
	switch {
	case r == '\t':
		return []rune(strings.Repeat(" ", tabStop-at%tabStop))
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return nil
	case unicode.IsControl(r) || r == filler:
		return []rune{' '}
	case wide(r):
		return []rune{r, filler}
	}
	return []rune{r}
}

// wideSigns lists the blocks of characters that take two columns of a terminal
// (Unicode Standard Annex #11, East Asian Width; the blocks that are wide
// throughout or nearly so).
var wideSigns = &unicode.RangeTable{
	R16: []unicode.Range16{
		{0x1100, 0x115F, 1}, // Hangul syllables, leading consonants
		{0x2E80, 0x303E, 1}, // radicals, CJK punctuation
		{0x3041, 0xA4CF, 1}, // kana, CJK, Yi
		{0xAC00, 0xD7A3, 1}, // Hangul syllables
		{0xF900, 0xFAFF, 1}, // CJK compatibility
		{0xFE30, 0xFE6F, 1}, // CJK compatibility forms
		{0xFF01, 0xFF60, 1}, // full-width forms
		{0xFFE0, 0xFFE6, 1},
	},
	R32: []unicode.Range32{
		{0x1F300, 0x1F64F, 1}, // pictographs, emoticons
		{0x1F680, 0x1F6FF, 1},
		{0x1F900, 0x1F9FF, 1},
		{0x20000, 0x3FFFD, 1}, // CJK extensions
	},
}

func wide(r rune) bool { return unicode.Is(wideSigns, r) }
