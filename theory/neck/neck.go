// Package neck knows where notes lie on a fretted neck: the places of a pitch,
// the shapes of a third on two neighbouring strings, the fingering of a line of
// thirds, and the grips of a chord.
//
// In go spelled pitches, thirds and chords from package theory; out come
// strings and frets. The package is pure: no files, no clock, no randomness.
// When a note sounds, and for how long, is the business of package arrange.
package neck

import (
	"fmt"
	"strings"

	"thirdwise/theory"
)

// Limits of a neck.
const (
	Frets      = 24 // frets from the nut, with or without a capo
	MinStrings = 4
	MaxStrings = 8
)

// A Tuning is the pitches of the open strings without a capo, as they are
// written down: the lowest string first, the highest last.
type Tuning []theory.Pitch

// Standard is the guitar's usual tuning, E2 A2 D3 G3 B3 E4.
func Standard() Tuning {
	return Tuning{
		{Tone: theory.Tone{Letter: theory.E}, Octave: 2},
		{Tone: theory.Tone{Letter: theory.A}, Octave: 2},
		{Tone: theory.Tone{Letter: theory.D}, Octave: 3},
		{Tone: theory.Tone{Letter: theory.G}, Octave: 3},
		{Tone: theory.Tone{Letter: theory.B}, Octave: 3},
		{Tone: theory.Tone{Letter: theory.E}, Octave: 4},
	}
}

// String prints the pitches with spaces between: "E2 A2 D3 G3 B3 E4".
func (t Tuning) String() string {
	names := make([]string, len(t))
	for i, p := range t {
		names[i] = p.String()
	}
	return strings.Join(names, " ")
}

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

// Strings returns how many strings the neck has.
func (n Neck) Strings() int { return len(n.Tuning) }

// LastFret returns the highest fret, counted from the capo.
func (n Neck) LastFret() int { return Frets - n.Capo }

// OpenKey returns the MIDI key that a string sounds when no finger stops it,
// the capo included.
func (n Neck) OpenKey(str int) int { return n.Tuning[len(n.Tuning)-str].MIDI() + n.Capo }

// Key returns the MIDI key that sounds at a place.
func (n Neck) Key(p Place) int { return n.OpenKey(p.String) + p.Fret }

// FretOf returns the fret at which a string sounds a pitch, and whether it can.
func (n Neck) FretOf(p theory.Pitch, str int) (fret int, ok bool) {
	fret = p.MIDI() - n.OpenKey(str)
	return fret, fret >= 0 && fret <= n.LastFret()
}

// Places returns every place of a pitch, from the highest string down.
func (n Neck) Places(p theory.Pitch) []Place {
	var places []Place
	for str := 1; str <= n.Strings(); str++ {
		if fret, ok := n.FretOf(p, str); ok {
			places = append(places, Place{str, fret})
		}
	}
	return places
}

// A Position is the stretch of frets in which the hand stays.
type Position struct {
	kind positionKind
	fret int
}

type positionKind int

const (
	lowest positionKind = iota
	open
	free
	at
)

// Lowest is the zero Position: none was asked for, and the lowest one in which
// the line can be played is to be found.
var Lowest = Position{}

// Open is the open position, frets 0 to 4.
var Open = Position{kind: open}

// Free is the whole neck.
var Free = Position{kind: free}

// At is the position in which the first finger stands at a fret, 1 or higher.
func At(fret int) Position { return Position{kind: at, fret: fret} }

// Span is how many frets above its lowest a position reaches: four fingers and
// one fret of reach, N to N+4.
const Span = 4

// Fret returns the fret at which the first finger stands; ok is false for Open,
// Free and Lowest, which have none.
func (p Position) Fret() (fret int, ok bool) { return p.fret, p.kind == at }

// String prints the position as an exercise writes it: "open", "free", "5"; and
// "lowest" for the zero Position.
func (p Position) String() string {
	switch p.kind {
	case open:
		return "open"
	case free:
		return "free"
	case at:
		return fmt.Sprint(p.fret)
	}
	return "lowest"
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
func (n Neck) Pairs(t theory.Third) []Pair {
	var pairs []Pair
	for str := 1; str < n.Strings(); str++ {
		upper, ok1 := n.FretOf(t.Upper, str)
		lower, ok2 := n.FretOf(t.Lower, str+1)
		if ok1 && ok2 {
			pairs = append(pairs, Pair{Lower: Place{str + 1, lower}, Upper: Place{str, upper}})
		}
	}
	return pairs
}
