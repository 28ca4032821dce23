package paper

import (
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

// Columns returns the measure, for [Lines], of a number of columns in a
// fixed-width font.
func Columns(n int) func(line string) bool {
	return func(line string) bool { return utf8.RuneCountInString(line) <= n }
}
