// Package harmony tells how a third goes with the chord over which it sounds: how many
// of its notes are the chord's, whether the chord can begin with it, and what it takes
// away from the chord or rubs against. It is pure.
package harmony

import "thirdwise/theory"

// Shared returns how many of a third's notes are a chord's, however spelled: 0, 1 or 2.
func Shared(c theory.Chord, t theory.Third) int {
	shared := 0
	for _, p := range [2]theory.Pitch{t.Lower, t.Upper} {
		if c.Contains(p.Tone) {
			shared++
		}
	}
	return shared
}

// Arrives reports whether a chord can begin with a third: both notes are the chord's. A
// chord that has no third of its own (Csus4, C5) begins with one that shares a note with
// it and rubs against none.
func Arrives(c theory.Chord, t theory.Third) bool {
	switch {
	case c.Quality.Third() != 0:
		return Shared(c, t) == 2
	case PutsOff(c, t):
		return false
	}
	lower, upper := t.Lower.Tone, t.Upper.Tone
	return c.Contains(lower) && !rubs(c, upper) || c.Contains(upper) && !rubs(c, lower)
}

// PutsOff reports whether a chord sustains its fourth, and a third has the tone in whose
// place that stands.
func PutsOff(c theory.Chord, t theory.Third) bool {
	fourth := false
	for _, i := range c.Quality.Intervals() {
		fourth = fourth || i.Steps == 3
	}
	if !fourth || c.Quality.Third() != 0 {
		return false
	}
	for _, p := range [2]theory.Pitch{t.Lower, t.Upper} {
		if above := (p.Class() - c.Root.Class() + 12) % 12; above == 3 || above == 4 {
			return true
		}
	}
	return false
}

// Avoided reports whether a third has a note that is not one of a chord's but lies a
// semitone above one, such as F over C and C over Em: where that sounds for long it takes
// the chord's colour away (the avoid notes of chord scales, common practice). Over a
// dominant seventh that is its fourth alone: its ninth and its thirteenth may be flat.
func Avoided(c theory.Chord, t theory.Third) bool {
	tones := c.Tones()
	if c.Quality.Third() == 4 && c.Quality.Has(theory.FlatSeventh) {
		tones = tones[1:2]
	}
	for _, p := range [2]theory.Pitch{t.Lower, t.Upper} {
		for _, own := range tones {
			if (p.Class()-own.Class()+12)%12 == 1 && !c.Contains(p.Tone) {
				return true
			}
		}
	}
	return false
}

// rubs reports whether a tone lies a semitone from one of a chord's.
func rubs(c theory.Chord, t theory.Tone) bool {
	for _, own := range c.Tones() {
		if apart := (t.Class() - own.Class() + 12) % 12; apart == 1 || apart == 11 {
			return true
		}
	}
	return false
}
