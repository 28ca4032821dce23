package exercise

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"thirdwise/theory"
)

// longestChord is how many characters the longest sensible name of a chord has,
// with room to spare.
const longestChord = 24

// chord reads a word of the chart that stands for a chord or for none.
func (r *chartReader) chord(w chartSign) ChartChord {
	c := ChartChord{Pos: w.Pos, Text: w.text}
	if isNoChord(w.text) {
		c.None = true
		return c
	}
	if utf8.RuneCountInString(w.text) > longestChord {
		r.mistake(w.Span, quoted(w.text)+" is too long for a chord", chordRemedy(w.text))
		return c
	}
	chord, err := parseChordName(w.text, r.key)
	if err != nil {
		r.mistake(w.Span, err.Error(), chordRemedy(w.text))
		return c
	}
	c.Chord = chord
	return c
}

// isNoChord reports whether a word is N.C., as lead sheets write it.
func isNoChord(s string) bool {
	switch s {
	case "N.C.", "N.C", "NC", "n.c.":
		return true
	}
	return false
}

// parseChordName reads a chord by what its name begins with: an upper-case letter
// from A to G begins a symbol, a digit is a degree, and I, V or an accidental
// before them begins a Roman numeral.
func parseChordName(s string, k theory.Key) (theory.Chord, error) {
	first, _ := utf8.DecodeRuneInString(s)
	switch {
	case first >= 'A' && first <= 'G':
		return theory.ParseChord(s)
	case first >= '0' && first <= '9':
		return theory.ParseDegree(s, k)
	case strings.ContainsRune("IViv#♯b♭", first):
		return theory.ParseNumeral(s, k)
	}
	return theory.Chord{}, fmt.Errorf("%s is not a chord", quoted(s))
}

// chordRemedy says how to write a chord; where the word comes close, it says how
// to write this one.
func chordRemedy(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	switch {
	case strings.ContainsAny(s, "/") && strings.Trim(s, "/") == "":
		return "write each slash apart, as in: C / / G"
	case first >= 'a' && first <= 'g':
		upper := strings.ToUpper(s[:size]) + s[size:]
		if _, err := theory.ParseChord(upper); err == nil {
			return "did you mean " + upper + "? The root of a chord is an upper-case letter"
		}
	case first == 'H' || first == 'h':
		return "the note above B♭ is called B here"
	}
	return "write a symbol such as Am7 or Bb/D, a numeral such as vi or V7, a degree from 1 to 7, or N.C."
}
