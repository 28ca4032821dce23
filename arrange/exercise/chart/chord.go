package chart

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"thirdwise/theory"
	"thirdwise/theory/meter"
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
	if err == nil && r.solfege && romance.MatchString(text) {
		err = fmt.Errorf("%s is not a chord", theory.Quoted(text))
	}
	if err != nil {
		message, remedy, told := strings.Cut(err.Error(), "; ")
		if !told {
			remedy = r.chordRemedy(text)
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
	case "N.C.", "N.C", "NC", "NC.", "N/C":
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
	case grip.MatchString(s):
		return theory.Chord{}, fmt.Errorf("%s is a grip; write the chord's name, such as C, for which a grip is found", theory.Quoted(s))
	case isMeter(s):
		return theory.Chord{}, fmt.Errorf("%s is a meter; write it on a line of its own, before the chart: meter: %s", theory.Quoted(s), s)
	case len(s) > 1 && strings.HasSuffix(s, "/") && s[0] != '/':
		return theory.Chord{}, fmt.Errorf("no bass follows the slash of %s; write %s / to prolong the chord, or name a bass, as in C/G", theory.Quoted(s), strings.TrimRight(s, "/"))
	case first >= 'A' && first <= 'G':
		return theory.ParseChord(s)
	case endingMissaid.MatchString(s):
		//lint:ignore ST1005 the full stop is the ending's
		return theory.Chord{}, fmt.Errorf("%s is not an ending; write %s.", theory.Quoted(s), s[:1])
	case first >= '0' && first <= '9' && strings.Trim(s, "0123456789") != "":
		return theory.Chord{}, fmt.Errorf("%s is not a scale degree; write a degree as a number alone, and any other chord as a numeral such as iv or V7", theory.Quoted(s))
	case first >= '0' && first <= '9':
		return theory.ParseDegree(s, k)
	case strings.ContainsRune("IViv#♯b♭", first):
		return numeral.Parse(s, k)
	}
	return theory.Chord{}, fmt.Errorf("%s is not a chord", theory.Quoted(s))
}

// grip matches a grip of six strings, as x32010.
var grip = regexp.MustCompile(`^[xX0-9]{6}$`)

// isMeter reports whether a word is one of the meters that an exercise can have.
func isMeter(s string) bool {
	if !strings.Contains(s, "/") {
		return false
	}
	_, err := meter.Parse(s)
	return err == nil
}

// endingMissaid is how endings are named in other hands: 1) or 1st.
var endingMissaid = regexp.MustCompile(`^[1-9](?:\)|st|nd|rd|th)$`)

// anyChord says how chords are written.
const anyChord = "write a symbol such as Am7 or Bb/D, a numeral such as vi or V7, a degree from 1 to 7, or N.C."
