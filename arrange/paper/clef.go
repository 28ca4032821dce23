package paper

import (
	"slices"

	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// A Clef is one in which players of an instrument read.
type Clef int

// The clefs (common practice).
const (
	GuitarClef Clef = iota // a treble clef with an 8 below: guitars sound an octave lower than they are written
	TrebleClef             // as it sounds, for ukuleles and their like
	BassClef               // a bass clef with an 8 below, for basses
)

// Open strings that tell instruments apart: a ukulele or a mandolin has none below the
// one, a bass none above the other.
var (
	lowestOfHigh = theory.Pitch{Tone: theory.Tone{Letter: theory.G}, Octave: 3}
	highestOfLow = theory.Pitch{Tone: theory.Tone{Letter: theory.C}, Octave: 3}
)

// ClefOf returns the clef in which an instrument is read, by its open strings.
func ClefOf(n neck.Neck) Clef {
	byPitch := func(a, b theory.Pitch) int { return a.MIDI() - b.MIDI() }
	switch {
	case slices.MinFunc(n.Tuning, byPitch).MIDI() >= lowestOfHigh.MIDI():
		return TrebleClef
	case slices.MaxFunc(n.Tuning, byPitch).MIDI() <= highestOfLow.MIDI():
		return BassClef
	}
	return GuitarClef
}
