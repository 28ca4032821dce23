package neck

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"thirdwise/theory"
	"thirdwise/theory/remedy"
)

// A Tuning is the pitches of the open strings without a capo, as they are
// written down: the lowest string first, the highest last.
type Tuning []theory.Pitch

// Strings are written from the lowest up and counted from the highest down, as
// players do both. Nothing but these two functions turns one into the other.

// stringAt returns the string, 1 the highest, that stands at an index of a list of
// so many strings.
func stringAt(index, count int) int { return count - index }

// indexOf returns the index at which a string stands in a list of so many.
func indexOf(str, count int) int { return count - str }

// Open returns the pitch of an open string, counted as in [Place].
func (t Tuning) Open(str int) theory.Pitch { return t[indexOf(str, len(t))] }

// Standard is the guitar's usual tuning, E2 A2 D3 G3 B3 E4.
func Standard() Tuning { return mustTune(namedTunings[0].pitches) }

// namedTunings lists tunings by the names that players give them (common
// practice).
var namedTunings = [...]struct{ name, pitches string }{
	{"standard", "E2 A2 D3 G3 B3 E4"},
	{"drop D", "D2 A2 D3 G3 B3 E4"},
	{"double drop D", "D2 A2 D3 G3 B3 D4"},
	{"drop C", "C2 G2 C3 F3 A3 D4"},
	{"open G", "D2 G2 D3 G3 B3 D4"},
	{"open D", "D2 A2 D3 F#3 A3 D4"},
	{"open E", "E2 B2 E3 G#3 B3 E4"},
	{"open A", "E2 A2 E3 A3 C#4 E4"},
	{"open C", "C2 G2 C3 G3 C4 E4"},
	{"half step down", "Eb2 Ab2 Db3 Gb3 Bb3 Eb4"},
	{"whole step down", "D2 G2 C3 F3 A3 D4"},
	{"bass", "E1 A1 D2 G2"},
	{"ukulele", "G4 C4 E4 A4"},
	{"mandolin", "G3 D4 A4 E5"},
}

// TuningNames returns the names of tunings that [ParseTuning] reads.
func TuningNames() []string {
	names := make([]string, len(namedTunings))
	for i, named := range namedTunings {
		names[i] = named.name
	}
	return names
}

// Falls reports whether the strings go down from the first to the last, as where the
// highest is written first.
func (t Tuning) Falls() bool {
	return t[0].MIDI() > t[len(t)-1].MIDI() && slices.IsSortedFunc(t, func(a, b theory.Pitch) int { return b.MIDI() - a.MIDI() })
}

// mustTune reads a tuning of the table above.
func mustTune(list string) Tuning {
	var t Tuning
	for name := range strings.FieldsSeq(list) {
		p, err := theory.ParsePitch(name)
		if err != nil {
			panic("neck: the table of tunings holds " + name)
		}
		t = append(t, p)
	}
	return t
}

// String prints the pitches with spaces between: "E2 A2 D3 G3 B3 E4".
func (t Tuning) String() string {
	names := make([]string, len(t))
	for i, p := range t {
		names[i] = p.String()
	}
	return strings.Join(names, " ")
}

// ASCII prints the pitches as [Tuning.String] does, with # and b.
func (t Tuning) ASCII() string { return theory.ASCII(t.String()) }

// lowestOpen and highestOpen bound what an open string can sound: from below the
// lowest string of a bass to above the highest of small instruments, so that
// every place has a MIDI key.
var (
	lowestOpen  = theory.Pitch{Tone: theory.Tone{Letter: theory.A}, Octave: 0}
	highestOpen = theory.Pitch{Tone: theory.Tone{Letter: theory.C}, Octave: 6}
)

// ParseTuning reads the pitches of the open strings, the lowest string first, with
// spaces, commas or dashes between: "D2 A2 D3 G3 B3 E4". Four to eight strings are a
// tuning. It also reads the usual names, "standard", "drop D", "open G" and their kind,
// and six note names without octaves, "DADGAD" or "E A D G B E", each in the octave that
// lies nearest to that of the guitar's usual tuning. The error says what to write.
func ParseTuning(s string) (Tuning, error) {
	s = dashes.ReplaceAllString(s, "$1 ")
	for _, named := range namedTunings {
		if strings.EqualFold(strings.Join(strings.FieldsFunc(s, isBetween), " "), named.name) {
			return mustTune(named.pitches), nil
		}
	}
	if t, ok := tuneByTones(s); ok {
		return t, nil
	}
	names := strings.FieldsFunc(s, isBetween)
	if len(names) < MinStrings || len(names) > MaxStrings {
		pitches := "pitches"
		if len(names) == 1 {
			pitches = "pitch"
		}
		return nil, remedy.Errorf(remedy.Say(fmt.Sprintf("list %d to %d open strings, the lowest first, as in %s", MinStrings, MaxStrings, Standard())),
			"the tuning has %d %s", len(names), pitches)
	}
	tuning := make(Tuning, len(names))
	for i, name := range names {
		p, err := theory.ParsePitch(name)
		if err != nil {
			return nil, remedy.In(fmt.Sprintf("string %d", stringAt(i, len(names))), err)
		}
		if p.MIDI() < lowestOpen.MIDI() || p.MIDI() > highestOpen.MIDI() {
			return nil, remedy.Errorf(remedy.Say(fmt.Sprintf("tune an open string to a pitch from %s to %s", lowestOpen, highestOpen)),
				"string %d: %s is out of range", stringAt(i, len(names)), p)
		}
		tuning[i] = p
	}
	return tuning, nil
}

// dashes matches those between pitches; one before an octave is a sign.
var dashes = regexp.MustCompile(`(\d)[-–]`)

// isBetween reports whether a character stands between the strings of a tuning.
func isBetween(r rune) bool { return r == ',' || r == ';' || unicode.IsSpace(r) }

// tuneByTones reads six note names without octaves, with or without something
// between them. In lower case a b is read as a note rather than as a flat where
// that makes six of them.
func tuneByTones(s string) (Tuning, bool) {
	usual := Standard()
	joined := strings.Join(strings.FieldsFunc(s, isBetween), "")
	for _, text := range [...]string{joined, strings.ToUpper(joined)} {
		open, ok := cutTones(text)
		if !ok || len(open) != len(usual) {
			continue
		}
		tuning := make(Tuning, len(open))
		for i, tone := range open {
			const half = 6 // semitones of half an octave
			near := usual[i].MIDI()
			tuning[i] = tone.Sounding(near - half + (tone.Class()-near+half+10*12)%12)
		}
		return tuning, true
	}
	return nil, false
}

// cutTones reads note names with nothing between them, in either case.
func cutTones(s string) ([]theory.Tone, bool) {
	var all []theory.Tone
	for s != "" && len(all) <= MaxStrings {
		end := 1
		for end < len(s) && (s[end] == '#' || s[end] == 'b' || s[end] >= 0x80) {
			end++
		}
		tone, err := theory.ParseTone(s[:end])
		if err != nil {
			return nil, false
		}
		all = append(all, tone)
		s = s[end:]
	}
	return all, true
}
