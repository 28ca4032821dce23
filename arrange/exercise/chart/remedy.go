package chart

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"thirdwise/theory"
)

// chordRemedy says how to write a chord; where the word comes close, it says how
// to write this one.
func (r *reader) chordRemedy(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	rest := s[size:]
	switch {
	case strings.Trim(s, "/") == "":
		return "write each slash apart, as in C / / G"
	case strings.Contains(s, "%"):
		return "write one %, alone in its bar"
	case strings.Contains(s, "♮"):
		return "leave ♮ out: a letter without ♯ or ♭ is natural"
	case s == "𝄎":
		return "write % for the bar before"
	case strings.Trim(s, "xX×") == "":
		return "write / to prolong the chord before it, N.C. where no chord sounds, or % for the bar before"
	case strings.Trim(s, "-–.…") == "":
		return "write / to prolong the chord before it, or % for the bar before"
	case strings.HasPrefix(s, "-") && strings.ContainsAny(s[1:], "-hp~/\\") && strings.Trim(s, "-0123456789hp~/\\") == "":
		return "a chart holds chords; notes of the line stand under line: own:"
	case strings.ContainsAny(s, "(){}"):
		if within := strings.Trim(s, "(){}"); strings.ContainsRune("({", first) || strings.ContainsRune(")}", rune(s[len(s)-1])) {
			return r.unbracketed(within)
		}
	case strings.ContainsRune(quotes, first):
		return "write " + strings.Trim(s, quotes) + " without quotation marks"
	case lookalikes[first] != "":
		return "its first letter only looks like " + lookalikes[first] + ": type " + lookalikes[first] + rest
	case silence[strings.ToLower(s)]:
		return "write N.C. where no chord sounds"
	case first >= 'a' && first <= 'g' && s != "do": // which is C
		upper := strings.ToUpper(s[:size]) + rest
		if _, err := theory.ParseChord(upper); err == nil {
			return "did you mean " + upper + "? A chord's root is a capital letter"
		}
	case first == 'H' || first == 'h':
		if _, err := theory.ParseChord("B" + rest); err == nil {
			return "what some countries call H is B here, and what they call B is Bb: write B" + rest
		}
	}
	if modesOfChords[strings.ToLower(s)] {
		return "write C for major and Cm for minor"
	}
	if c, err := theory.ParseChord("C" + s); err == nil && !r.solfege {
		return "write it right after its root, as in " + c.ASCII()
	}
	for name, letter := range solfege {
		rest, named := strings.CutPrefix(strings.ToLower(s), name)
		if _, err := theory.ParseChord(letter + rest); named && err == nil {
			return "chords are named by letters here: write " + letter + rest
		}
	}
	if one, two, ok := apart(s); ok {
		return "put a space or | between two chords: " + one + " " + two
	}
	if bare := strings.Trim(s, struck); bare != s {
		if c, err := theory.ParseChord(bare); err == nil {
			return "write " + c.ASCII() + ", with / for each share by which it is prolonged; accents stand in the strum"
		}
	}
	if !strings.ContainsFunc(s, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
		return "leave it out: chords stand side by side"
	}
	return anyChord
}

// struck are signs about a chord that tell how it is struck and held.
const struck = ".!*'?<>^~_$@=𝄐"

// unbracketed says what to write for what stands in brackets: a chord that may be
// played, or a section's name.
func (r *reader) unbracketed(within string) string {
	_, err := parseChord(within, r.key)
	switch {
	case within == "":
		return "leave it out: brackets hold no chords"
	case modesOfChords[strings.ToLower(within)]:
		return "write C for major and Cm for minor"
	case err != nil:
		return "write a section's name as [" + within + "]"
	case len(within) == 1:
		return "write " + within + " for the chord, or [" + within + "] for a section's name"
	}
	return "all chords of a chart are played: write " + within
}

// quotes are quotation marks.
const quotes = "\"'“”„‘’‚«»`"

// silence is what is said where no chord sounds.
var silence = map[string]bool{"rest": true, "pause": true, "tacet": true, "silence": true, "none": true, "nochord": true, "stille": true}

// modesOfChords are words for major and minor that stand behind a root.
var modesOfChords = map[string]bool{
	"dur": true, "moll": true, "majeur": true, "mineur": true, "mayor": true, "menor": true, "maggiore": true, "minore": true, "major": true, "minor": true,
}

// lookalikes are letters of other scripts that look like those that chords begin with.
var lookalikes = map[rune]string{
	'А': "A", 'В': "B", 'С': "C", 'Е': "E", 'Α': "A", 'Β': "B", 'Ε': "E", // Cyrillic, Greek
	'Ａ': "A", 'Ｂ': "B", 'Ｃ': "C", 'Ｄ': "D", 'Ｅ': "E", 'Ｆ': "F", 'Ｇ': "G", // full width
}

// apart divides a word that is two chords with nothing between them.
func apart(s string) (one, two string, ok bool) {
	for i := 1; i < len(s); i++ {
		_, err1 := theory.ParseChord(s[:i])
		_, err2 := theory.ParseChord(s[i:])
		if err1 == nil && err2 == nil {
			return s[:i], s[i:], true
		}
	}
	return "", "", false
}

// solfege holds the notes' names in Romance languages.
var solfege = map[string]string{"do": "C", "re": "D", "ré": "D", "mi": "E", "fa": "F", "sol": "G", "la": "A", "si": "B"}

// romance matches a chord that is named in a Romance language. Do is a symbol too, and
// mi7 may belong to a root before it; surelyRomance matches the others.
var (
	romance       = regexp.MustCompile(`(?i)^(?:do|re|ré|mi|fa|sol|la|si)(?:[m#b♯♭0-9]|$)`)
	surelyRomance = regexp.MustCompile(`(?i)^(?:re|ré|fa|sol|la|si)(?:[m#b♯♭0-9]|$)`)
)
