package chart

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"thirdwise/theory"
	"thirdwise/theory/numeral"
)

// longestChord is how many characters the longest sensible name of a chord has,
// with room to spare.
const longestChord = 24

// chord reads a word of the chart that stands for a chord or for none.
func (r *reader) chord(w sign) Chord {
	c := Chord{At: w.Span()}
	text := strings.TrimRight(w.String(), ",")
	if isNoChord(text) {
		c.None = true
		return c
	}
	if w.Len() > longestChord {
		r.mistake(w.Text, w.Quoted()+" is too long for a chord", anyChord)
		return c
	}
	chord, err := parseChord(text, r.key)
	if err != nil {
		message, remedy, told := strings.Cut(err.Error(), "; ")
		if !told {
			remedy = chordRemedy(text)
		}
		r.mistake(w.Text, message, remedy)
		return c
	}
	c.Chord = chord
	c.Symbol = strings.ContainsRune("ABCDEFG", rune(text[0]))
	if !c.Symbol && !strings.ContainsRune("1234567", rune(text[0])) {
		c.Numeral = strings.NewReplacer("#", "♯", "b", "♭").Replace(text)
	}
	return c
}

// isNoChord reports whether a word is N.C., as lead sheets write it.
func isNoChord(s string) bool {
	switch strings.ToUpper(s) {
	case "N.C.", "N.C", "NC":
		return true
	}
	return false
}

// parseChord reads a chord by what its name begins with: an upper-case letter from
// A to G begins a symbol, a digit is a degree, and I, V or an accidental before
// them begins a Roman numeral.
func parseChord(s string, k theory.Key) (theory.Chord, error) {
	first, _ := utf8.DecodeRuneInString(s)
	switch {
	case len(s) > 1 && strings.HasSuffix(s, "/") && s[0] != '/':
		return theory.Chord{}, fmt.Errorf("no bass follows the slash of %q; write %s / to prolong the chord, or name a bass, as in C/G", s, strings.TrimRight(s, "/"))
	case first >= 'A' && first <= 'G':
		return theory.ParseChord(s)
	case endingMissaid.MatchString(s):
		return theory.Chord{}, fmt.Errorf("%q is not an ending; write %s.", s, s[:1])
	case first >= '0' && first <= '9' && strings.Trim(s, "0123456789") != "":
		return theory.Chord{}, fmt.Errorf("%q is not a scale degree; write a degree as a number alone, and any other chord as a numeral such as iv or V7", s)
	case first >= '0' && first <= '9':
		return theory.ParseDegree(s, k)
	case strings.ContainsRune("IViv#♯b♭", first):
		return numeral.Parse(s, k)
	}
	return theory.Chord{}, fmt.Errorf("%q is not a chord", s)
}

// endingMissaid is how endings are named in other hands: 1) or 1st.
var endingMissaid = regexp.MustCompile(`^[1-9](?:\)|st|nd|rd|th)$`)

// anyChord says how chords are written.
const anyChord = "write a symbol such as Am7 or Bb/D, a numeral such as vi or V7, a degree from 1 to 7, or N.C."

// chordRemedy says how to write a chord; where the word comes close, it says how
// to write this one.
func chordRemedy(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	switch {
	case strings.Trim(s, "/") == "":
		return "write each slash apart, as in C / / G"
	case strings.Trim(s, "-–.") == "":
		return "write / to prolong the chord before it, or % for the bar before"
	case first == '(':
		return "write a section's name as [" + strings.Trim(s, "()") + "]"
	case first >= 'a' && first <= 'g':
		upper := strings.ToUpper(s[:size]) + s[size:]
		if _, err := theory.ParseChord(upper); err == nil {
			return "did you mean " + upper + "? A chord's root is a capital letter"
		}
	case first == 'H' || first == 'h':
		return "what some countries call H is B here: write B" + s[size:]
	}
	if c, err := theory.ParseChord("C" + s); err == nil {
		return "write it right after its root, as in " + c.ASCII()
	}
	for name, letter := range solfege {
		rest, named := strings.CutPrefix(strings.ToLower(s), name)
		if _, err := theory.ParseChord(letter + rest); named && err == nil {
			return "chords are named by letters here: write " + letter + rest
		}
	}
	return anyChord
}

// solfege holds the notes' names in Romance languages, but for those that begin
// with a letter that names a note itself.
var solfege = map[string]string{"re": "D", "ré": "D", "mi": "E", "sol": "G", "la": "A", "si": "B"}

//lint:file-ignore ST1005 an ending such as "1." is written with its full stop
