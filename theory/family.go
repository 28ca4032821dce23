package theory

import (
	"fmt"
	"slices"
)

// Triads returns the triads on the seven degrees of the key's scale, built by
// stacking thirds. A harmonic or melodic minor key stacks its own raised tones,
// so its third degree has an augmented triad.
func (k Key) Triads() [7]Chord { return k.family(3) }

// Sevenths returns the seventh chords on the seven degrees of the key's scale.
func (k Key) Sevenths() [7]Chord { return k.family(4) }

// family stacks as many tones as size says on each degree.
func (k Key) family(size int) [7]Chord {
	var chords [7]Chord
	scale := k.Scale()
	for degree, root := range k.Tones() {
		bottom := root.At(Pitch{Tone: root, Octave: 4}.Staff())
		stack := make([]Interval, size)
		for i := range stack {
			stack[i] = Between(bottom, scale.At(bottom.Staff()+2*i))
		}
		chords[degree] = Chord{Root: root, Quality: qualityStacked(stack), Bass: root}
	}
	return chords
}

// qualityStacked returns the quality with the given intervals. The table of
// qualities has every stack of thirds that a mode's scale contains.
func qualityStacked(stack []Interval) Quality {
	return Quality(slices.IndexFunc(intervals[:], func(own []Interval) bool {
		return slices.Equal(own, stack)
	}))
}

// ParseDegree reads a scale degree, 1 to 7, as the key's own triad on it. In A
// minor, 5 is E minor.
func ParseDegree(s string, k Key) (Chord, error) {
	if len(s) != 1 || s[0] < '1' || s[0] > '7' {
		return Chord{}, fmt.Errorf("%q is not a scale degree, a number from 1 to 7", s)
	}
	return k.Triads()[s[0]-'1'], nil
}
