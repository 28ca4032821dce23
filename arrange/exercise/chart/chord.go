package chart

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/numeral"
	"thirdwise/theory/remedy"
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
		r.slip(w.Text, w.Quoted()+" is not a chord", r.leftOut("chords stand side by side"))
		return c
	}
	if w.Len() > longestChord {
		r.slip(w.Text, w.Quoted()+" is too long for a chord", anyChord)
		return c
	}
	chord, err := parseChord(text, r.key)
	if err == nil && r.solfege && romance.MatchString(text) {
		err = notAChord(text)
	}
	if err != nil {
		found, why := remedy.Of(err)
		if why.String() == "" {
			why = r.chordRemedy(text)
		}
		r.slip(w.Text, found, why)
		return c
	}
	c.Chord = chord
	c.Symbol = strings.ContainsRune("ABCDEFG", rune(text[0]))
	if !c.Symbol && !strings.ContainsRune("1234567", rune(text[0])) {
		c.Numeral = strings.NewReplacer("#", "♯", "b", "♭").Replace(text)
	}
	return c
}

// notAChord answers a word that is none, with no remedy yet.
func notAChord(s string) error {
	return remedy.Errorf(remedy.Remedy{}, "%s is not a chord", theory.Quoted(s))
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
		return theory.Chord{}, remedy.Errorf(remedy.Say("write the chord's name, such as C, for which a grip is found"), "%s is a grip", theory.Quoted(s))
	case isMeter(s):
		return theory.Chord{}, remedy.Errorf(remedy.Say("write it on a line of its own, before the chart: meter: "+s), "%s is a meter", theory.Quoted(s))
	case len(s) > 1 && strings.HasSuffix(s, "/") && s[0] != '/':
		return theory.Chord{}, remedy.Errorf(remedy.Say("write "+strings.TrimRight(s, "/")+" / to prolong the chord, or name a bass, as in C/G"), "no bass follows the slash of %s", theory.Quoted(s))
	case withFifth(s) != "":
		return theory.Chord{}, remedy.Errorf(remedy.Write("write %s", withFifth(s)), "a chord is written with its fifth, which its grip leaves out where the hand wants it")
	case twoChords(s) != "":
		return theory.Chord{}, remedy.Errorf(between(twoChords(s)), "%s is more than one chord", theory.Quoted(s))
	case first >= 'A' && first <= 'G':
		c, err := theory.ParseChord(s)
		if err != nil && runTogether(s) != "" && !romance.MatchString(s) {
			err = remedy.Errorf(between(runTogether(s)), "%s is two chords", theory.Quoted(s))
		}
		return c, err
	case endingMissaid.MatchString(s):
		return theory.Chord{}, remedy.Errorf(remedy.Write("write %s", s[:1]+"."), "%s is not an ending", theory.Quoted(s))
	case first >= '1' && first <= '7' && len(s) > 1:
		return theory.Chord{}, insteadOf(s, k)
	case first >= '0' && first <= '9':
		return theory.ParseDegree(s, k)
	case strings.ContainsRune("IViv#♯b♭", first):
		return numeral.Parse(s, k)
	}
	return theory.Chord{}, notAChord(s)
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

// runTogether returns the chords of a word that is two with nothing between them, with a
// blank there, and "" for any other.
func runTogether(s string) string {
	for i := 1; i < len(s); i++ {
		_, err1 := theory.ParseChord(s[:i])
		_, err2 := theory.ParseChord(s[i:])
		if err1 == nil && err2 == nil {
			return s[:i] + " " + s[i:]
		}
	}
	return ""
}

// insteadOf answers a degree with something behind it, such as 2m or 1/3.
func insteadOf(s string, k theory.Key) error {
	c, err := theory.ParseDegree(s[:1], k)
	under, slash := strings.CutPrefix(s[1:], "/")
	quality, known := theory.ParseQuality(s[1:])
	switch {
	case err != nil:
		known = false
	case slash && len(under) == 1 && under[0] >= '1' && under[0] <= '7':
		c.Bass, known = k.Tones()[under[0]-'1'], true
	default:
		c.Quality = quality
	}
	if !known {
		return remedy.Errorf(remedy.Say("write a degree as a number alone, and any other chord as a numeral such as iv or V7"),
			"%s is not a scale degree", theory.Quoted(s))
	}
	return remedy.Errorf(remedy.Write("write %s", theory.ASCII(numeral.Of(c, k))),
		"%s is not a scale degree: that is a number alone, and any other chord a numeral", theory.Quoted(s))
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
