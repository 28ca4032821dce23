package theory

import (
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
var naturals = [...]int{0, 2, 4, 5, 7, 9, 11}

// String returns the letter's name, an upper-case letter.
func (l Letter) String() string { return string(letterNames[mod(int(l), 7)]) }

// Up returns the letter a number of letters above l.
func (l Letter) Up(letters int) Letter { return Letter(mod(int(l)+letters, 7)) }

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
func (t Tone) String() string { return t.Letter.String() + Accidentals(t.Alter) }

// ASCII prints the tone with # and b, for formats and places that have no
// other signs: F#, Bb, C##, Dbb.
func (t Tone) ASCII() string { return t.Letter.String() + ASCII(Accidentals(t.Alter)) }

// Up returns the tone an interval above t.
func (t Tone) Up(i Interval) Tone { return Pitch{Tone: t}.Up(i).Tone }

// Down returns the tone an interval below t.
func (t Tone) Down(i Interval) Tone { return Pitch{Tone: t}.Down(i).Tone }

// ASCII returns a text with # and b for the signs ♯ and ♭ of notation.
func ASCII(text string) string { return asciiSigns.Replace(text) }

var asciiSigns = strings.NewReplacer("♯", "#", "♭", "b")

// Accidentals returns the signs of an alteration, sharps or, where it is negative,
// flats: ♯♯.
func Accidentals(alter int) string {
	return strings.Repeat("♭", max(0, -alter)) + strings.Repeat("♯", max(0, alter))
}

// MostAltered is how many sharps or flats a tone can be read with.
const MostAltered = 3

// scanTone reads the note name that s begins with, an upper-case letter with its
// signs, and returns what follows.
func scanTone(s string) (t Tone, rest string, ok bool) {
	if s == "" || strings.IndexByte(letterNames, s[0]) < 0 {
		return Tone{}, s, false
	}
	t.Letter = Letter(strings.IndexByte(letterNames, s[0]))
	t.Alter, rest = CutAccidentals(s[1:])
	return t, rest, abs(t.Alter) <= MostAltered
}

// CutAccidentals reads the sharps or the flats that s begins with and returns what
// follows.
func CutAccidentals(s string) (alter int, rest string) {
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

func mod(a, n int) int { return ((a % n) + n) % n }

func floorDiv(a, n int) int { return (a - mod(a, n)) / n }
