package paper

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Lines breaks text at spaces into lines that fit, each as full as can be. A word
// that does not fit by itself has a line of its own.
func Lines(text string, fits func(line string) bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && !fits(longer) {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	return append(lines, line)
}

// TextWidth is how many columns text in a fixed-width font takes at most.
const TextWidth = 80

// TextLines breaks text into lines no wider than TextWidth.
func TextLines(text string) []string { return Lines(text, Columns(TextWidth)) }

// Columns returns the measure, for [Lines], of a number of columns in a
// fixed-width font.
func Columns(n int) func(line string) bool {
	return func(line string) bool { return utf8.RuneCountInString(line) <= n }
}

// A Row is a line of text in a fixed-width font while it is made: what stands in
// each column.
type Row []rune

// NewRow returns a row of a width that is filled with one sign.
func NewRow(width int, fill rune) Row {
	r := make(Row, width)
	for i := range r {
		r[i] = fill
	}
	return r
}

// Put writes text from a column on; what would stand beyond the row is cut off.
func (r Row) Put(column int, text string) {
	for _, sign := range text {
		if column >= len(r) {
			return
		}
		r[column] = sign
		column++
	}
}

// Passes says how often a chart is played: "twice through".
func Passes(n int) string {
	words := [...]string{3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine", 10: "ten"}
	switch {
	case n == 1:
		return "once through"
	case n == 2:
		return "twice through"
	case n < len(words):
		return words[n] + " times through"
	}
	return fmt.Sprintf("%d times through", n)
}
