package chart

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"thirdwise/theory"
	"thirdwise/theory/remedy"
)

// chordRemedy says how to write a chord; where the word comes close, it says how
// to write this one.
func (r *reader) chordRemedy(s string) remedy.Remedy {
	first, size := utf8.DecodeRuneInString(s)
	rest := s[size:]
	switch {
	case strings.Trim(s, "/") == "":
		return remedy.Say("write each slash apart, as in C / / G")
	case strings.Contains(s, "%"):
		return remedy.Say("write one %, alone in its bar")
	case strings.Contains(s, "♮"):
		return remedy.Say("leave ♮ out: a letter without ♯ or ♭ is natural")
	case s == "𝄎":
		return remedy.Write("write %s for the bar before", "%")
	case strings.Trim(s, "xX×") == "":
		return remedy.Say("write / to prolong the chord before it, N.C. where no chord sounds, or % for the bar before")
	case strings.Trim(s, "-–.…") == "":
		return remedy.Say("write / to prolong the chord before it, or % for the bar before")
	case strings.HasPrefix(s, "-") && strings.ContainsAny(s[1:], "-hp~/\\") && strings.Trim(s, "-0123456789hp~/\\") == "":
		return remedy.Say("a chart holds chords; notes of the line stand under line: own:")
	case strings.ContainsAny(s, "(){}"):
		within, opens, closes := strings.Trim(s, "(){}"), strings.ContainsRune("({", first), strings.ContainsRune(")}", rune(s[len(s)-1]))
		switch why := r.unbracketed(within); {
		case opens && closes:
			return why
		case opens || closes: // with more words between the brackets
			return remedy.Say(why.String())
		}
	case strings.ContainsRune(quotes, first):
		return remedy.Write("write %s without quotation marks", strings.Trim(s, quotes))
	case lookalikes[first] != "":
		return remedy.Write("its first letter only looks like "+lookalikes[first]+": type %s", lookalikes[first]+rest)
	case silence[strings.ToLower(s)]:
		return remedy.Write("write %s where no chord sounds", "N.C.")
	case first >= 'a' && first <= 'g' && s != "do": // which is C
		upper := strings.ToUpper(s[:size]) + rest
		if _, err := theory.ParseChord(upper); err == nil {
			return remedy.Write("did you mean %s? A chord's root is a capital letter", upper)
		}
	case first == 'H' || first == 'h':
		if _, err := theory.ParseChord("B" + rest); err == nil {
			return remedy.Write("what some countries call H is B here, and what they call B is Bb: write %s", "B"+rest)
		}
	}
	if modesOfChords[strings.ToLower(s)] {
		return majorOrMinor
	}
	if c, err := theory.ParseChord("C" + s); err == nil && !r.solfege {
		return remedy.Say("write it right after its root, as in " + c.ASCII())
	}
	for name, letter := range solfege {
		rest, named := strings.CutPrefix(strings.ToLower(s), name)
		if _, err := theory.ParseChord(letter + rest); named && err == nil {
			return remedy.Write("chords are named by letters here: write %s", letter+rest)
		}
	}
	if bare := strings.Trim(s, struck); bare != s {
		if c, err := theory.ParseChord(bare); err == nil {
			return remedy.Write("write %s, with / for each share by which it is prolonged; accents stand in the strum", c.ASCII())
		}
	}
	if !strings.ContainsFunc(s, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
		return r.leftOut("chords stand side by side")
	}
	return anyChord
}

// leftOut says to leave a word out, unless its bar has no other.
func (r *reader) leftOut(why string) remedy.Remedy {
	if len(r.words) == 1 {
		return anyChord
	}
	return remedy.Write("leave it out: "+why, "")
}

// What is said of more than one word.
var (
	anyChord     = remedy.Say("write a symbol such as Am7 or Bb/D, a numeral such as vi or V7, a degree from 1 to 7, or N.C.")
	majorOrMinor = remedy.Say("write C for major and Cm for minor")
)

// between says to part chords that were written as one.
func between(chords string) remedy.Remedy {
	return remedy.Write("put a space or | between two chords: %s", chords)
}

// struck are signs about a chord that tell how it is struck and held.
const struck = ".!*'?<>^~_$@=𝄐"

// unbracketed says what to write for what stands in brackets: a chord that may be
// played, or a section's name.
func (r *reader) unbracketed(within string) remedy.Remedy {
	_, err := parseChord(within, r.key)
	switch {
	case within == "":
		return r.leftOut("brackets hold no chords")
	case modesOfChords[strings.ToLower(within)]:
		return majorOrMinor
	case err != nil:
		return asSection(within)
	case len(within) == 1:
		return remedy.Write("write %s for the chord, or %s for a section's name", within, "["+within+"]")
	}
	return remedy.Write("all chords of a chart are played: write %s", within)
}

// asSection says how the name of a section is written.
func asSection(name string) remedy.Remedy {
	return remedy.Write("write a section's name as %s", "["+name+"]")
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

// solfege holds the notes' names in Romance languages.
var solfege = map[string]string{"do": "C", "re": "D", "ré": "D", "mi": "E", "fa": "F", "sol": "G", "la": "A", "si": "B"}

// romance matches a chord that is named in a Romance language. Do is a symbol too, and
// mi7 may belong to a root before it; surelyRomance matches the others.
var (
	romance       = regexp.MustCompile(`(?i)^(?:do|re|ré|mi|fa|sol|la|si)(?:[m#b♯♭0-9]|$)`)
	surelyRomance = regexp.MustCompile(`(?i)^(?:re|ré|fa|sol|la|si)(?:[m#b♯♭0-9]|$)`)
)
