package theory

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ParseKey reads a tonic and a mode, as in "C major", "f# minor" or "B♭
// mixolydian". A tonic alone is major. It reads the other ways in which keys are
// written too, where the meaning is sure: Am, Cmaj, "A flat", Bflat, "C ionian",
// Fis, Es. The error says what to write.
func ParseKey(s string) (Key, error) {
	text := strings.Join(strings.Fields(s), " ")
	if text == "" {
		return Key{}, errors.New("the key is missing; write a tonic and a mode, as in C major")
	}
	tonic, rest, ok := scanName(text)
	mode, err := parseMode(rest, tonic)
	if ok && err == nil {
		k := Key{Tonic: tonic, Mode: mode}
		return k, k.Check()
	}
	if tonic, name, rest, foreign := cutForeign(text); foreign {
		mode, err := parseMode(rest, tonic)
		if err == nil {
			return Key{}, fmt.Errorf("%s is called %s here; write %s", name, tonic, Key{tonic, mode}.ASCII())
		}
		if rest[0] == ' ' {
			return Key{}, err
		}
	}
	if !ok {
		err = fmt.Errorf("%q is not a key; write a tonic and a mode, as in Bb major", s)
	}
	return Key{}, err
}

// parseMode reads what follows the tonic of a key.
func parseMode(s string, tonic Tone) (Mode, error) {
	s = strings.TrimLeft(s, " -")
	if s == "M" { // the only name in which the case counts
		return Major, nil
	}
	name := strings.ToLower(s)
	nearest, fewest := Major, len(name)
	var names []string
	for i, row := range modes {
		if row.name == name || slices.Contains(row.others, name) {
			return Mode(i), nil
		}
		if edits := Edits(name, row.name); edits < fewest {
			nearest, fewest = Mode(i), edits
		}
		names = append(names, row.name)
	}
	if fewest <= len(name)/3 {
		return 0, fmt.Errorf("%q is not a mode; did you mean %s?", s, Key{tonic, nearest}.ASCII())
	}
	return 0, fmt.Errorf("%q is not a mode; the modes are %s", s, strings.Join(names, ", "))
}

// MarshalText writes the key as [Key.ASCII] does.
func (k Key) MarshalText() ([]byte, error) { return []byte(k.ASCII()), nil }

// UnmarshalText reads the key as [ParseKey] does.
func (k *Key) UnmarshalText(text []byte) (err error) {
	*k, err = ParseKey(string(text))
	return err
}

// accidentalNames lists the words and endings for one sharp or flat that may stand
// behind a letter, the longer before the shorter that it begins with: in English,
// and as German and its neighbours name tones (common practice).
var accidentalNames = [...]struct {
	name    string
	alter   int
	letters string // behind which it may stand
}{
	{"-flat", -1, letterNames},
	{" flat", -1, letterNames},
	{"flat", -1, letterNames},
	{"-sharp", 1, letterNames},
	{" sharp", 1, letterNames},
	{"sharp", 1, letterNames},
	{"is", 1, letterNames},
	{"es", -1, "CDFGB"},
	{"s", -1, "EA"},
}

// scanName reads the note name that s begins with, in either case and with its
// accidentals as signs or as words, and returns what follows.
func scanName(s string) (t Tone, rest string, ok bool) {
	if s == "" {
		return Tone{}, s, false
	}
	upper := strings.ToUpper(s[:1])
	t, rest, ok = scanTone(upper + s[1:])
	if !ok || t.Alter != 0 {
		return t, rest, ok
	}
	for _, a := range accidentalNames {
		if after, cut := cutPrefixFold(rest, a.name); cut && strings.Contains(a.letters, upper) {
			return Tone{t.Letter, a.alter}, after, true
		}
	}
	return t, rest, true
}

// cutPrefixFold cuts a prefix from s, in whatever case.
func cutPrefixFold(s, prefix string) (after string, found bool) {
	if len(s) < len(prefix) || !strings.EqualFold(s[:len(prefix)], prefix) {
		return s, false
	}
	return s[len(prefix):], true
}

// foreignNames lists names of the natural tones that would be mistaken if they were
// read (the B of those who write H is B♭), and what they are called here (common
// practice). Longer names stand before those that they begin with.
var foreignNames = [...]struct {
	name string
	tone Tone
}{
	{"his", Tone{B, 1}},
	{"h", Tone{B, 0}},
	{"do", Tone{C, 0}},
	{"ut", Tone{C, 0}},
	{"re", Tone{D, 0}},
	{"ré", Tone{D, 0}},
	{"mi", Tone{E, 0}},
	{"fa", Tone{F, 0}},
	{"sol", Tone{G, 0}},
	{"la", Tone{A, 0}},
	{"si", Tone{B, 0}},
	{"ti", Tone{B, 0}},
}

// cutForeign cuts a foreign name of a tone, with its accidentals, from s.
func cutForeign(s string) (t Tone, name, rest string, ok bool) {
	for _, f := range foreignNames {
		after, found := cutPrefixFold(s, f.name)
		if !found {
			continue
		}
		alter, rest := CutAccidentals(after)
		t = Tone{f.tone.Letter, f.tone.Alter + alter}
		return t, s[:len(s)-len(rest)], rest, true
	}
	return Tone{}, "", s, false
}

// ParsePitch reads a note name and an octave from -1 to 9, as in C4, F#3, B♭2, and
// also c4, Bflat2, Fis3.
func ParsePitch(s string) (Pitch, error) {
	t, rest, ok := scanName(s)
	switch {
	case !ok:
	case rest == "-1":
		return Pitch{Tone: t, Octave: -1}, nil
	case len(rest) == 1 && rest[0] >= '0' && rest[0] <= '9':
		return Pitch{Tone: t, Octave: int(rest[0] - '0')}, nil
	}
	return Pitch{}, fmt.Errorf("%q is not a pitch; write a note name and an octave, as in C4", s)
}

// ParseTone reads a note name: a letter and up to three of #, ♯ or x (a double
// sharp), or of b, ♭, as in F#, B♭, Cx, Abb, and also f#, Bflat, Fis.
func ParseTone(s string) (Tone, error) {
	t, rest, ok := scanName(s)
	if t, name, rest, foreign := cutForeign(s); foreign && rest == "" {
		return Tone{}, fmt.Errorf("%s is called %s here; write %s", name, t, t.ASCII())
	}
	if !ok || rest != "" {
		return Tone{}, fmt.Errorf("%q is not a note name; write a letter from A to G, with # or b behind it where need be", s)
	}
	return t, nil
}
