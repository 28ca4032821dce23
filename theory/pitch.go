package theory

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// A Letter is one of the seven letter names, counted from C.
type Letter int

// The letters in the order of the C major scale.
const (
	C Letter = iota
	D
	E
	F
	G
	A
	B
)

const letterNames = "CDEFGAB"

// naturals holds the semitones of each letter above C.
var naturals = [7]int{0, 2, 4, 5, 7, 9, 11}

// String returns the letter's name, an upper-case letter.
func (l Letter) String() string { return letterNames[mod(int(l), 7) : mod(int(l), 7)+1] }

// up returns the letter a number of letters above l.
func (l Letter) up(letters int) Letter { return Letter(mod(int(l)+letters, 7)) }

// A Tone is a note name without an octave: a letter and the semitones by which
// sharps (positive) or flats (negative) alter it.
type Tone struct {
	Letter Letter
	Alter  int
}

// Class returns the tone's pitch class, 0 for C to 11 for B. Tones that differ
// in spelling alone share it.
func (t Tone) Class() int { return mod(naturals[t.Letter]+t.Alter, 12) }

// String prints the tone with the signs of notation: F♯, B♭, C♯♯, D♭♭.
func (t Tone) String() string { return t.Letter.String() + accidentals(t.Alter, "♯", "♭") }

// ASCII prints the tone with # and b, for formats and places that have no
// other signs: F#, Bb, C##, Dbb.
func (t Tone) ASCII() string { return t.Letter.String() + accidentals(t.Alter, "#", "b") }

// Up returns the tone an interval above t.
func (t Tone) Up(i Interval) Tone { return Pitch{Tone: t, Octave: 4}.Up(i).Tone }

// Down returns the tone an interval below t.
func (t Tone) Down(i Interval) Tone { return Pitch{Tone: t, Octave: 4}.Down(i).Tone }

// ASCII returns a text with # and b for the signs ♯ and ♭ of notation.
func ASCII(text string) string { return strings.NewReplacer("♯", "#", "♭", "b").Replace(text) }

func accidentals(alter int, sharp, flat string) string {
	if alter < 0 {
		return strings.Repeat(flat, -alter)
	}
	return strings.Repeat(sharp, alter)
}

// ParseTone reads a note name: an upper-case letter and up to three of #, ♯
// or x (a double sharp), or of b, ♭, as in F#, B♭, Cx, Abb.
func ParseTone(s string) (Tone, error) {
	t, rest, err := scanTone(s)
	if err == nil && rest != "" {
		err = fmt.Errorf("%q is not a note name: %q follows %s", s, rest, t)
	}
	return t, err
}

// scanTone reads the note name that s begins with and returns what follows.
func scanTone(s string) (t Tone, rest string, err error) {
	if s == "" {
		return Tone{}, s, errors.New("a note name is missing: a letter from A to G, then # or b")
	}
	letter := strings.IndexByte(letterNames, s[0])
	if letter < 0 {
		return Tone{}, s, fmt.Errorf("%q does not begin with a note name, an upper-case letter from A to G", s)
	}
	t.Letter = Letter(letter)
	t.Alter, rest = scanAccidentals(s[1:])
	if t.Alter > 3 || t.Alter < -3 {
		return Tone{}, s, fmt.Errorf("%q is altered more than three times", s)
	}
	return t, rest, nil
}

// scanAccidentals reads the sharps or the flats that s begins with.
func scanAccidentals(s string) (alter int, rest string) {
	for _, r := range s {
		step := 0
		switch r {
		case '#', '♯':
			step = 1
		case 'x', '𝄪':
			step = 2
		case 'b', '♭':
			step = -1
		case '𝄫':
			step = -2
		}
		if step == 0 || step*alter < 0 {
			break
		}
		alter += step
		s = s[len(string(r)):]
	}
	return alter, s
}

// A Pitch is a tone in an octave. Octaves are numbered as in scientific pitch
// notation and turn at C: C4 is middle C, MIDI key 60.
type Pitch struct {
	Tone
	Octave int
}

// MIDI returns the pitch's MIDI key number: 60 for C4, 69 for A4. Pitches that
// differ in spelling alone share it.
func (p Pitch) MIDI() int { return 12*(p.Octave+1) + naturals[p.Letter] + p.Alter }

// Frequency returns the pitch's frequency in Hz in equal temperament, with
// A4 = 440 Hz (ISO 16).
func (p Pitch) Frequency() float64 { return 440 * math.Exp2(float64(p.MIDI()-69)/12) }

// Staff returns the number of letter steps from C0 to the pitch. It counts
// lines and spaces, not semitones: C4 is 28, and so is C♯4.
func (p Pitch) Staff() int { return 7*p.Octave + int(p.Letter) }

// String prints the pitch with the signs of notation, as in F♯4.
func (p Pitch) String() string { return fmt.Sprintf("%s%d", p.Tone, p.Octave) }

// ASCII prints the pitch with # and b, as in F#4.
func (p Pitch) ASCII() string { return fmt.Sprintf("%s%d", p.Tone.ASCII(), p.Octave) }

// Up returns the pitch an interval above p.
func (p Pitch) Up(i Interval) Pitch {
	return spell(p.Staff()+i.Steps, p.MIDI()+i.Semitones)
}

// Down returns the pitch an interval below p.
func (p Pitch) Down(i Interval) Pitch {
	return spell(p.Staff()-i.Steps, p.MIDI()-i.Semitones)
}

// spell returns the pitch that stands on a staff step and sounds a MIDI key.
func spell(staff, key int) Pitch {
	p := Pitch{Tone: Tone{Letter: Letter(mod(staff, 7))}, Octave: floorDiv(staff, 7)}
	p.Alter = key - p.MIDI()
	return p
}

// At returns the pitch of tone t that stands on a staff step; the step's letter
// must be t's.
func (t Tone) At(staff int) Pitch {
	return Pitch{Tone: t, Octave: floorDiv(staff-int(t.Letter), 7)}
}

// Sounding returns the pitch of tone t that sounds a MIDI key, which must be of
// t's pitch class.
func (t Tone) Sounding(key int) Pitch {
	return Pitch{Tone: t, Octave: floorDiv(key-naturals[t.Letter]-t.Alter, 12) - 1}
}

// ParsePitch reads a note name and an octave from -1 to 9, as in C4, F#3, B♭2.
func ParsePitch(s string) (Pitch, error) {
	t, rest, err := scanTone(s)
	if err != nil {
		return Pitch{}, err
	}
	switch {
	case rest == "-1":
		return Pitch{Tone: t, Octave: -1}, nil
	case len(rest) == 1 && rest[0] >= '0' && rest[0] <= '9':
		return Pitch{Tone: t, Octave: int(rest[0] - '0')}, nil
	}
	return Pitch{}, fmt.Errorf("%q is not a pitch: a note name and an octave, as in C4", s)
}

func mod(a, n int) int { return ((a % n) + n) % n }

func floorDiv(a, n int) int { return (a - mod(a, n)) / n }
