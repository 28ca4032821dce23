// Package neck knows where notes lie on a fretted neck: the places of a pitch,
// the shapes of a third on two neighbouring strings and their map over the neck,
// the fingering of a line of thirds, and the fingers that hold a chord's grip.
//
// In go spelled pitches and thirds from package theory; out come strings and frets. The
// package is pure: no files, no clock, no randomness.
// When a note sounds, and for how long, is the business of package arrange.
package neck

import (
	"fmt"
	"iter"
	"slices"

	"thirdwise/theory"
)

// Limits of a neck.
const (
	Frets      = 24 // frets from the nut, with or without a capo
	MinStrings = 4
	MaxStrings = 8
	MaxCapo    = 12
)

// A Place is one string at one fret. Strings are counted as players count them:
// 1 is the highest. Frets are counted from the capo, or from the nut without
// one; 0 is the open string.
type Place struct {
	String, Fret int
}

// A Neck is a tuning with a capo.
type Neck struct {
	Tuning Tuning
	Capo   int // the fret that the capo holds down, 0 for none
}

// Check returns an error where the neck has too few or too many strings, or the
// capo is off the neck: below 0, or above fret 12.
func (n Neck) Check() error {
	if len(n.Tuning) < MinStrings || len(n.Tuning) > MaxStrings {
		return fmt.Errorf("the neck has %d strings; give it %d to %d", len(n.Tuning), MinStrings, MaxStrings)
	}
	if n.Capo < 0 || n.Capo > MaxCapo {
		return fmt.Errorf("a capo at fret %d is off the neck; use 0 (none) to %d", n.Capo, MaxCapo)
	}
	return nil
}

// Strings returns how many strings the neck has.
func (n Neck) Strings() int { return len(n.Tuning) }

// LastFret returns the highest fret, counted from the capo.
func (n Neck) LastFret() int { return Frets - n.Capo }

// openKey returns the MIDI key that a string sounds when no finger stops it,
// the capo included.
func (n Neck) openKey(str int) int { return n.Tuning.Open(str).MIDI() + n.Capo }

// Key returns the MIDI key that sounds at a place.
func (n Neck) Key(p Place) int { return n.openKey(p.String) + p.Fret }

// fretOf returns the fret at which a string sounds a pitch, and whether it can.
func (n Neck) fretOf(p theory.Pitch, str int) (fret int, ok bool) {
	fret = p.MIDI() - n.openKey(str)
	return fret, fret >= 0 && fret <= n.LastFret()
}

// Places returns every place of a pitch, from the highest string down.
func (n Neck) Places(p theory.Pitch) []Place {
	var places []Place
	for str := 1; str <= n.Strings(); str++ {
		if fret, ok := n.fretOf(p, str); ok {
			places = append(places, Place{str, fret})
		}
	}
	return places
}

// A Pair is a third on the neck: the places of its two notes, on neighbouring
// strings, the lower note on the lower string.
type Pair struct {
	Lower, Upper Place
}

// Shape returns how many frets the lower note lies above the upper one. On
// strings a fourth apart a major third has shape 1 and a minor third shape 2;
// on strings a major third apart, 0 and 1.
func (p Pair) Shape() int { return p.Lower.Fret - p.Upper.Fret }

// Pairs returns every way to play a third on neighbouring strings of the neck,
// from the highest pair of strings down, whatever the reach.
func (n Neck) Pairs(t theory.Third) []Pair { return slices.Collect(n.pairs(t)) }

// pairs yields what Pairs returns.
func (n Neck) pairs(t theory.Third) iter.Seq[Pair] {
	return func(yield func(Pair) bool) {
		for str := 1; str < n.Strings(); str++ {
			upper, ok1 := n.fretOf(t.Upper, str)
			lower, ok2 := n.fretOf(t.Lower, str+1)
			if ok1 && ok2 && !yield(Pair{Lower: Place{str + 1, lower}, Upper: Place{str, upper}}) {
				return
			}
		}
	}
}

// CapoName returns how the capo is named: "no capo", "capo at fret 2".
func (n Neck) CapoName() string {
	if n.Capo == 0 {
		return "no capo"
	}
	return fmt.Sprintf("capo at fret %d", n.Capo)
}
