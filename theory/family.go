package theory

import (
	"slices"

	"thirdwise/theory/remedy"
)

// A DegreeChord is a key's own chord on one of its degrees, 1 to 7.
type DegreeChord struct {
	Degree int
	Chord
}

// Triads returns the triads on the degrees of the key's scale, built by stacking
// thirds. A harmonic or melodic minor key stacks its own raised tones, so its
// third degree has an augmented triad. In an unusual scale a degree may have no
// chord that has a name, and is left out.
func (k Key) Triads() []DegreeChord { return k.family(3) }

// Sevenths returns the seventh chords on the degrees of the key's scale, as
// [Key.Triads] does the triads.
func (k Key) Sevenths() []DegreeChord { return k.family(4) }

// Triad returns the key's triad on a degree, 1 to 7, if it has one.
func (k Key) Triad(degree int) (Chord, bool) { return k.stacked(degree, 3) }

// family stacks as many tones as size says on each degree.
func (k Key) family(size int) []DegreeChord {
	var chords []DegreeChord
	for degree := 1; degree <= 7; degree++ {
		if c, ok := k.stacked(degree, size); ok {
			chords = append(chords, DegreeChord{degree, c})
		}
	}
	return chords
}

// stacked stacks as many tones as size says on a degree.
func (k Key) stacked(degree, size int) (Chord, bool) {
	scale := k.Scale()
	root := k.Tones()[degree-1]
	bottom := root.At(int(root.Letter))
	stack := make([]Interval, size)
	for i := range stack {
		stack[i] = Between(bottom, scale.At(bottom.Staff()+2*i))
	}
	q := slices.IndexFunc(intervals[:], func(own []Interval) bool { return slices.Equal(own, stack) })
	return Chord{Root: root, Quality: Quality(q), Bass: root}, q >= 0
}

// ParseDegree reads a scale degree, 1 to 7, as the key's own triad on it. In A
// minor, 5 is E minor.
func ParseDegree(s string, k Key) (Chord, error) {
	if len(s) != 1 || s[0] < '1' || s[0] > '7' {
		return Chord{}, remedy.Errorf(remedy.Say("write a number from 1 to 7"), "%s is not a scale degree", Quoted(s))
	}
	c, ok := k.Triad(int(s[0] - '0'))
	if !ok {
		return Chord{}, remedy.Errorf(remedy.Say("write a chord symbol"), "degree %s of %s has no triad with a name", s, k)
	}
	return c, nil
}

// IsMinor reports whether the key is one of the minor kinds, whose chords the
// trade mixes and writes with the same numerals.
func (k Key) IsMinor() bool { return modes[k.Mode].minor }

// Owns reports whether all the chord's tones are in the key, and its bass. A minor
// key of any kind owns the chords of all three: of the natural, the harmonic and
// the melodic minor.
func (k Key) Owns(c Chord) bool {
	tones := append(c.Tones(), c.Bass)
	if k.Scale().containsAll(tones) {
		return true
	}
	if !k.IsMinor() {
		return false
	}
	for _, kind := range [...]Mode{Minor, HarmonicMinor, MelodicMinor} {
		if (Key{Tonic: k.Tonic, Mode: kind}).Scale().containsAll(tones) {
			return true
		}
	}
	return false
}

func (s Scale) containsAll(tones []Tone) bool {
	for _, t := range tones {
		if !s.Contains(t) {
			return false
		}
	}
	return true
}
