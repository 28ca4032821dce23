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
	if text == "" {
		r.mistake(w.Text, w.Quoted()+" is not a chord", "leave it out: chords stand side by side")
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
	case withFifth(s) != "":
		return theory.Chord{}, fmt.Errorf("a chord is written with its fifth, which its grip leaves out where the hand wants it; write %s", withFifth(s))
	case twoChords(s) != "":
		return theory.Chord{}, fmt.Errorf("%s is more than one chord; put a space or | between two chords: %s", theory.Quoted(s), twoChords(s))
	case first >= 'A' && first <= 'G':
		return theory.ParseChord(s)
	case endingMissaid.MatchString(s):
		//lint:ignore ST1005 the full stop is the ending's
		return theory.Chord{}, fmt.Errorf("%s is not an ending; write %s.", theory.Quoted(s), s[:1])
	case first >= '1' && first <= '7' && len(s) > 1:
		return theory.Chord{}, fmt.Errorf("%s is not a scale degree%s", theory.Quoted(s), insteadOf(s, k))
	case first >= '0' && first <= '9':
		return theory.ParseDegree(s, k)
	case strings.ContainsRune("IViv#♯b♭", first):
		return numeral.Parse(s, k)
	}
	return theory.Chord{}, fmt.Errorf("%s is not a chord", theory.Quoted(s))
}

// withFifth returns a chord that is written without its fifth as it is written with it,
// and "" for any other.
func withFifth(s string) string {
	whole := fifthless.ReplaceAllString(s, "")
	if _, err := theory.ParseChord(whole); err != nil || whole == s {
		return ""
	}
	return whole
}

// fifthless matches what says that a chord lacks its fifth.
var fifthless = regexp.MustCompile(`(?i)\(?(?:no|omit) ?5(?:th)?\)?$`)

// twoChords returns the chords of a word that joins them with a sign, as C-G and C,G do,
// with blanks between them, and "" where they are none.
func twoChords(s string) string {
	chords := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(",;>-–—→_^&", r) })
	for _, name := range chords {
		if _, err := theory.ParseChord(name); err != nil {
			return ""
		}
	}
	if len(chords) < 2 {
		return ""
	}
	return strings.Join(chords, " ")
}

// insteadOf says what to write for a degree with something behind it, such as 2m or 1/3,
// and why.
func insteadOf(s string, k theory.Key) string {
	const others = "; write a degree as a number alone, and any other chord as a numeral such as iv or V7"
	c, err := theory.ParseDegree(s[:1], k)
	if err != nil {
		return others
	}
	under, slash := strings.CutPrefix(s[1:], "/")
	quality, known := theory.ParseQuality(s[1:])
	switch {
	case slash && len(under) == 1 && under[0] >= '1' && under[0] <= '7':
		c.Bass = k.Tones()[under[0]-'1']
	case known:
		c.Quality = quality
	default:
		return others
	}
	return ": that is a number alone, and any other chord a numeral; write " + theory.ASCII(numeral.Of(c, k))
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
