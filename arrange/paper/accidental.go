package paper

import "thirdwise/theory"

// An Accidental says whether one stands before a note, and why. Which one it is
// follows from the note's own alteration.
type Accidental int

// What stands before a note.
const (
	NoAccidental Accidental = iota
	Needed                  // the note would be read as another
	Courtesy                // a reminder, because its letter was altered just before
)

// signatureOrder is the order of sharps in a key signature; flats come in the
// opposite order.
var signatureOrder = [...]theory.Letter{theory.F, theory.C, theory.G, theory.D, theory.A, theory.E, theory.B}

// signature returns the alteration that a key signature gives each letter, of seven
// sharps to seven flats (as negative).
func signature(fifths int) (alters [7]int) {
	for i := 0; i < fifths; i++ {
		alters[signatureOrder[i]] = 1
	}
	for i := 0; i > fifths; i-- {
		alters[signatureOrder[6+i]] = -1
	}
	return alters
}

// setAccidentals decides where accidentals stand. A note tied to the one before
// needs none, and what it has from the measure before does not hold for the
// notes after it.
func (n *Notation) setAccidentals() {
	inForce := NewAccidentals(n.Score.Key)
	for i := range n.Measures {
		inForce.BarLine()
		for j := range n.Measures[i].Events {
			e := &n.Measures[i].Events[j]
			if e.Rest() {
				continue
			}
			for k, p := range e.Pitches {
				e.Accidentals[k] = inForce.Before(p, e.TiedFrom)
			}
		}
	}
}

// Accidentals follows what is in force on a staff: the key signature, and each
// accidental for its line or space to the end of the measure. It also remembers
// how each letter was last altered, in this measure and the one before, whatever
// the octave: a reader has it in mind and is reminded where a note differs (Gould,
// Behind Bars, from memory).
type Accidentals struct {
	signature    [7]int                // alteration by letter
	set          map[int]int           // alteration by staff step, where the measure has set one
	here, before map[theory.Letter]int // how a letter was last altered, in the measure and in the one before
}

// NewAccidentals returns what is in force where a staff begins.
func NewAccidentals(k theory.Key) *Accidentals {
	a := &Accidentals{signature: signature(k.Fifths())}
	a.BarLine()
	return a
}

// BarLine begins another measure.
func (a *Accidentals) BarLine() {
	a.before = a.here
	a.set, a.here = map[int]int{}, map[theory.Letter]int{}
}

// Before returns what stands before the next note, and takes note of it. A note
// tied to the one before has nothing.
func (a *Accidentals) Before(p theory.Pitch, tied bool) Accidental {
	alter, ok := a.set[p.Staff()]
	if !ok {
		alter = a.signature[p.Letter]
	}
	last, known := a.here[p.Letter]
	if !known {
		last, known = a.before[p.Letter]
	}
	a.here[p.Letter] = p.Alter
	if tied {
		return NoAccidental
	}
	a.set[p.Staff()] = p.Alter
	switch {
	case alter != p.Alter:
		return Needed
	case known && last != p.Alter:
		return Courtesy
	}
	return NoAccidental
}
