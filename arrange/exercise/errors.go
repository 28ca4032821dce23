package exercise

import (
	"fmt"
	"sort"
	"strings"
	"unicode"
)

// A Mistake is one thing that is wrong in an exercise: where it stands, what was
// found there, and what would be right.
type Mistake struct {
	File    string // the name under which the exercise was read
	Pos     Pos
	Length  int    // characters to mark from Pos on; 0 where no place can be marked
	Message string // what was found; lower case, no full stop
	Remedy  string // what would be right; the same, "" where the message says it
	Excerpt string // the line at Pos, as the file has it
}

// newMistake makes a mistake in the marked stretch of a file with the given lines.
func newMistake(file string, lines []string, at Span, message, remedy string) *Mistake {
	m := &Mistake{File: file, Pos: at.Pos, Length: at.Length, Message: message, Remedy: remedy}
	if line := at.Line - 1; line >= 0 && line < len(lines) {
		m.Excerpt = lines[line]
	}
	return m
}

// Error returns the mistake in one line: "file:line:column: message; remedy".
func (m *Mistake) Error() string {
	s := fmt.Sprintf("%s:%d:%d: %s", m.File, m.Pos.Line, m.Pos.Column, m.Message)
	if m.Remedy != "" {
		s += "; " + m.Remedy
	}
	return s
}

// Report returns the mistake for people: its place and message, the line of the
// file with the offending text marked beneath, and the remedy. It ends with a
// line break.
func (m *Mistake) Report() string {
	const indent = "    "
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d:%d: %s\n", m.File, m.Pos.Line, m.Pos.Column, m.Message)
	if m.Length > 0 {
		excerpt, marks := mark(m.Excerpt, m.Pos.Column, m.Length)
		fmt.Fprintf(&b, "%s%s\n%s%s\n", indent, excerpt, indent, marks)
	}
	if m.Remedy != "" {
		fmt.Fprintf(&b, "%s%s\n", indent, m.Remedy)
	}
	return b.String()
}

// An ErrorList is the mistakes of one exercise in the order of the file.
type ErrorList []*Mistake

// Error returns the first mistake in one line and says how many more there are.
func (l ErrorList) Error() string {
	switch len(l) {
	case 0:
		return "no mistakes"
	case 1:
		return l[0].Error()
	case 2:
		return l[0].Error() + " (and 1 more mistake)"
	}
	return fmt.Sprintf("%s (and %d more mistakes)", l[0].Error(), len(l)-1)
}

// Report returns all mistakes for people, as [Mistake.Report] does for one.
func (l ErrorList) Report() string {
	var b strings.Builder
	for _, m := range l {
		b.WriteString(m.Report())
	}
	return b.String()
}

// Sort puts the mistakes in the order of the file.
func (l ErrorList) Sort() {
	sort.SliceStable(l, func(i, j int) bool {
		a, b := l[i].Pos, l[j].Pos
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
}

// Err returns the list as an error, or nil where it is empty.
func (l ErrorList) Err() error {
	if len(l) == 0 {
		return nil
	}
	return l
}

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
