package chart

import (
	"strings"

	"thirdwise/theory"
)

// inBars sets the words of a chart that has no bar lines between some, as far as a
// line of print has room for them. Where not all are chords, it shows an example.
func inBars(words []sign, k theory.Key) string {
	const most = 8
	words = withoutOtherLines(words, k)
	bars := "|"
	for _, w := range words {
		for _, name := range chordsIn(w.String()) {
			_, err := parseChord(name, k)
			switch {
			case strings.Count(bars, "|") > most:
			case name == "/":
				bars = strings.TrimSuffix(bars, "|") + "/ |"
			case err != nil && !isNoChord(name):
				return ", as in | C | Am | Dm | G |"
			default:
				bars += " " + name + " |"
			}
		}
	}
	if len(words) == 0 || len(words) > most {
		bars += " …"
	}
	return ": " + bars
}

// withoutOtherLines leaves out what somebody drew for bar lines: one and the same sign
// before, between and behind chords, which is no chord itself, or is a numeral among
// letters, as in I C I Am I.
func withoutOtherLines(words []sign, k theory.Key) []sign {
	if len(words) < 3 || len(words)%2 == 0 {
		return words
	}
	byLetter := func(w sign) bool {
		_, err := theory.ParseChord(w.String())
		return err == nil
	}
	if _, err := parseChord(words[0].String(), k); err == nil && byLetter(words[0]) == byLetter(words[1]) {
		return words
	}
	var chords []sign
	for i, w := range words {
		switch {
		case i%2 == 1:
			chords = append(chords, w)
		case w.String() != words[0].String():
			return words
		}
	}
	return chords
}

// chordsIn divides what stands between blanks at commas and dashes.
func chordsIn(text string) []string {
	if _, err := theory.ParseChord(text); err == nil {
		return []string{text}
	}
	return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",-–—", r) })
}
