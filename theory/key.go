package theory

import "thirdwise/theory/remedy"

// A Key is a tonic and a mode. Its signature has at most seven sharps or flats.
type Key struct {
	Tonic Tone
	Mode  Mode
}

// letterFifths places the natural tones on the circle of fifths, C at 0.
var letterFifths = [...]int{C: 0, D: 2, E: 4, F: -1, G: 1, A: 3, B: 5}

// Fifths returns the key's signature: the number of its sharps, or of its flats
// as a negative number. Harmonic and melodic minor have the signature of the
// natural minor.
func (k Key) Fifths() int {
	return letterFifths[k.Tonic.Letter] + 7*k.Tonic.Alter + modes[k.Mode].fifths
}

// Scale returns the key's scale.
func (k Key) Scale() Scale { return NewScale(k.Tonic, modes[k.Mode].degrees) }

// Tones returns the seven tones of the key's scale, from the tonic up.
func (k Key) Tones() [7]Tone {
	var tones [7]Tone
	for degree, semitones := range modes[k.Mode].degrees {
		tones[degree] = k.Tonic.Up(Interval{Steps: degree, Semitones: semitones})
	}
	return tones
}

// Degree returns the degree, 1 to 7, on which a letter stands in the key.
func (k Key) Degree(l Letter) int { return mod(int(l)-int(k.Tonic.Letter), 7) + 1 }

// MinorThird reports whether the key's tonic triad has a minor third, which is
// what a key signature event and a MusicXML file ask of a mode.
func (k Key) MinorThird() bool { return modes[k.Mode].degrees[2] == 3 }

// String prints the key as an exercise writes it, with ♯ or ♭: "B♭ major".
func (k Key) String() string { return k.Tonic.String() + " " + k.Mode.String() }

// ASCII prints the key with # or b: "Bb major".
func (k Key) ASCII() string { return k.Tonic.ASCII() + " " + k.Mode.String() }

// Enharmonic returns the key that sounds the same and has fewest sharps or
// flats among those with another spelling of the tonic.
func (k Key) Enharmonic() Key {
	best := k
	found := false
	for l := C; l <= B; l++ {
		if l == k.Tonic.Letter {
			continue
		}
		alter := mod(k.Tonic.Class()-naturals[l]+6, 12) - 6
		other := Key{Tone{l, alter}, k.Mode}
		if !found || abs(other.Fifths()) < abs(best.Fifths()) {
			best, found = other, true
		}
	}
	return best
}

// written returns the key as it can be written: with fewer sharps or flats where it has
// too many.
func (k Key) written() string {
	if k.Check() != nil {
		k = k.Enharmonic()
	}
	return k.ASCII()
}

// Keys returns the mode's key on each of the twelve tones, from C up: of those
// that sound the same, the one whose signature has fewest sharps or flats. Where
// six of one stand against six of the other, it is the one whose tonic has its
// usual name, which lies in the chain of fifths from E♭ to G♯ (common practice):
// F♯ major and E♭ minor.
func (m Mode) Keys() [12]Key {
	const eFlat, gSharp = -3, 8 // fifths from C
	var keys [12]Key
	for fifths := eFlat; fifths <= gSharp; fifths++ {
		k := Key{toneInFifths(fifths), m}
		if other := k.Enharmonic(); abs(other.Fifths()) < abs(k.Fifths()) {
			k = other
		}
		keys[k.Tonic.Class()] = k
	}
	return keys
}

// toneInFifths returns the tone that lies a number of fifths above C, or below
// it where the number is negative.
func toneInFifths(fifths int) Tone {
	chain := [...]Letter{F, C, G, D, A, E, B} // a fifth apart
	return Tone{chain[mod(fifths+1, 7)], floorDiv(fifths+1, 7)}
}

// Check returns an error where the key's signature would need more than seven
// sharps or flats; it names the enharmonic key to use.
func (k Key) Check() error {
	n, sign := k.Fifths(), "sharps"
	if n < 0 {
		n, sign = -n, "flats"
	}
	if n <= 7 {
		return nil
	}
	return remedy.Errorf(remedy.Write("write %s", k.Enharmonic().ASCII()), "%s would need %d %s", k, n, sign)
}

func abs(n int) int { return max(n, -n) }
