package theory

import (
	"slices"
	"strconv"
	"strings"

	"thirdwise/theory/remedy"
)

// ParseKey reads a tonic and a mode, as in "C major", "f# minor" or "B♭
// mixolydian". A tonic alone is major. It reads the other ways in which keys are
// written too, where the meaning is sure: Am, Cmaj, "A flat", Bflat, "C ionian",
// Fis, Es. The error says what to write.
func ParseKey(s string) (Key, error) {
	text := strings.Join(strings.Fields(s), " ")
	if text == "" {
		return Key{}, remedy.Errorf(remedy.Say("write a tonic and a mode, as in C major"), "the key is missing")
	}
	if err := germanB(text); err != nil {
		return Key{}, err
	}
	if end := strings.IndexAny(text, "/(|,"); end > 0 {
		if k, err := ParseKey(text[:end]); err == nil {
			keys := []string{k.ASCII()}
			if other, err := ParseKey(strings.Trim(text[end:], "/|, ")); err == nil && other != k {
				keys = append(keys, other.ASCII())
			}
			return Key{}, remedy.Errorf(remedy.Write("write %s", keys...), "%s is more than a key", Quoted(text))
		}
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
			return Key{}, calledHere(name, tonic, Key{tonic, mode}.written())
		}
		if rest[0] == ' ' {
			return Key{}, err
		}
	}
	if k, reversed := modeFirst(text); !ok && reversed {
		return Key{}, remedy.Errorf(remedy.Meant(k.ASCII()), "%s is not a key", Quoted(s))
	}
	if !ok {
		err = remedy.Errorf(remedy.Say("write a tonic and a mode, as in Bb major"), "%s is not a key", Quoted(s))
	}
	return Key{}, err
}

// Quoted returns a text in quotation marks as it stands, but for characters that
// cannot be printed, which are escaped.
func Quoted(s string) string {
	return strings.NewReplacer(`\\`, `\`, `\"`, `"`).Replace(strconv.Quote(s))
}

// germanB answers a key such as "B Dur": what those who say Dur and Moll call B is
// B♭ (common practice).
func germanB(text string) error {
	name, mode, _ := strings.Cut(strings.ReplaceAll(text, "-", " "), " ")
	english := map[string]Mode{"dur": Major, "moll": Minor}
	m, german := english[strings.ToLower(mode)]
	if !german || !strings.EqualFold(name, "b") {
		return nil
	}
	return remedy.Errorf(remedy.Write("write %s", Key{Tone{B, -1}, m}.ASCII(), Key{Tone{B, 0}, m}.ASCII()), "%s is B♭ in German and B in English", Quoted(text))
}

// modeFirst reads a key whose mode stands before its tonic.
func modeFirst(text string) (Key, bool) {
	space := strings.LastIndexByte(text, ' ')
	if space < 0 {
		return Key{}, false
	}
	tonic, rest, ok := scanName(text[space+1:])
	mode, err := parseMode(text[:space], tonic)
	k := Key{tonic, mode}
	return k, ok && rest == "" && err == nil && k.Check() == nil
}

// parseMode reads what follows the tonic of a key.
func parseMode(s string, tonic Tone) (Mode, error) {
	s = strings.TrimLeft(s, " -")
	if s == "M" { // the only name in which the case counts
		return Major, nil
	}
	name := strings.ToLower(s)
	if m, known := modeNamed(name); known {
		return m, nil
	}
	meant := modesWithin(name)
	if len(meant) == 0 {
		meant = nearestModes(name)
	}
	var keys, names []string
	for _, m := range meant {
		keys = append(keys, Key{tonic, m}.written())
	}
	for _, row := range modes {
		names = append(names, row.name)
	}
	why := remedy.Say("the modes are " + strings.Join(names, ", "))
	if len(keys) > 0 {
		why = remedy.Meant(keys...)
	}
	return 0, remedy.Errorf(why, "%s is not a mode", Quoted(s))
}

// modeNamed returns the mode of a name in lower case.
func modeNamed(name string) (Mode, bool) {
	i := slices.IndexFunc(modes, func(row modeRow) bool { return row.name == name || slices.Contains(row.others, name) })
	return Mode(i), i >= 0
}

// nearestModes returns the modes whose names take the fewest edits to reach from what was
// found, where no more than a third of it would change.
func nearestModes(name string) (nearest []Mode) {
	fewest := len(name) / 3
	for i, row := range modes {
		edits := Edits(name, row.name)
		if edits < fewest {
			nearest, fewest = nil, edits
		}
		if edits == fewest {
			nearest = append(nearest, Mode(i))
		}
	}
	return nearest
}

// modesWithin returns the mode with which a longer text begins, and another that follows
// it, or the mode that a chord of the tonic has: minor for "minor pentatonic" and for
// "m7". A blues is in major: that its tonic is a seventh chord is told by the chart.
func modesWithin(text string) []Mode {
	for i, row := range modes {
		behind, begins := strings.CutPrefix(text, row.name+" ")
		if !begins {
			continue
		}
		if m, known := modeNamed(behind); known {
			return []Mode{Mode(i), m}
		}
		return []Mode{Mode(i)}
	}
	if text == "blues" || strings.HasPrefix(text, "blues ") {
		return []Mode{Major}
	}
	quality, ok := ParseQuality(text)
	switch {
	case !ok, quality.Third() == 0:
		return nil
	case quality.Has(MinorThird):
		return []Mode{Minor}
	}
	return []Mode{Major}
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

// foreignAccidentals are the words for one sharp or flat behind a foreign name, in
// French, Spanish and Italian (common practice).
var foreignAccidentals = map[string]int{
	"bémol": -1, "bemol": -1, "bemolle": -1, "dièse": 1, "diese": 1, "sostenido": 1, "diesis": 1,
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
		spelled := strings.TrimLeft(after, " ")
		word, _, _ := strings.Cut(spelled, " ")
		if a := foreignAccidentals[strings.ToLower(word)]; a != 0 {
			alter, rest = a, spelled[len(word):]
		}
		t = Tone{f.tone.Letter, f.tone.Alter + alter}
		return t, s[:len(s)-len(rest)], rest, true
	}
	return Tone{}, "", s, false
}

// calledHere answers a foreign name of a tone with what it is called here, and what to
// write.
func calledHere(name string, t Tone, instead string) error {
	return remedy.Errorf(remedy.Write("write %s", instead), "%s is called %s here", name, t)
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
	if tone, name, rest, foreign := cutForeign(s); foreign && len(rest) == 1 && rest[0] >= '0' && rest[0] <= '9' {
		return Pitch{}, calledHere(name, tone, tone.ASCII()+rest)
	}
	return Pitch{}, remedy.Errorf(remedy.Say("write a note name and an octave, as in C4"), "%s is not a pitch", Quoted(s))
}

// ParseTone reads a note name: a letter and up to three of #, ♯ or x (a double
// sharp), or of b, ♭, as in F#, B♭, Cx, Abb, and also f#, Bflat, Fis.
func ParseTone(s string) (Tone, error) {
	t, rest, ok := scanName(s)
	if t, name, rest, foreign := cutForeign(s); foreign && rest == "" {
		return Tone{}, calledHere(name, t, t.ASCII())
	}
	if !ok || rest != "" {
		return Tone{}, remedy.Errorf(remedy.Say("write a letter from A to G, with # or b behind it where need be"), "%s is not a note name", Quoted(s))
	}
	return t, nil
}
