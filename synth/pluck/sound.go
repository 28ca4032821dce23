package pluck

import (
	"cmp"

	"thirdwise/synth/exact"
)

// A Sound is all that decides how a note sounds, but for its loudness and its
// end.
type Sound struct {
	Instrument Instrument
	Key, Fret  int8 // MIDI key, fret of its string; of a click 0
	Layer      int8 // the velocity in eighths of its range, which sets the colour
	Take       int8 // from 0 to Takes−1: a hand does nothing twice
}

// An Instrument is what a sound is made on.
type Instrument int8

// The instruments: a wooden bar and the same for an accent, and three guitars.
const (
	ClickBar Instrument = iota
	AccentBar
	ChordsGuitar
	GuideGuitar
	BassGuitar
)

// layers is in how many steps a note's colour follows its velocity. Its loudness
// follows in every step.
const layers = 8

// Takes is in how many ways a sound is made.
const Takes = 3

// Layer returns the layer of colour for a velocity of 0 to 127; what lies beyond
// is held to these.
func Layer(velocity int) int8 { return int8(min(max(velocity, 0), 127) * layers / 128) }

// Compare orders sounds, as [cmp.Compare] orders numbers.
func (s Sound) Compare(t Sound) int {
	return cmp.Or(cmp.Compare(s.Instrument, t.Instrument), cmp.Compare(s.Key, t.Key),
		cmp.Compare(s.Fret, t.Fret), cmp.Compare(s.Layer, t.Layer), cmp.Compare(s.Take, t.Take))
}

// Modes returns the modes of the sound. The rate, in samples a second, bounds their
// frequencies.
func (s Sound) Modes(rate int) Modes {
	velocity := (int(s.Layer)*2 + 1) * 128 / (2 * layers)
	switch s.Instrument {
	case ClickBar:
		return clickModes(clickPitch, velocity, rate)
	case AccentBar:
		return clickModes(accentPitch, velocity, rate)
	}
	return voices[s.Instrument].modes(int(s.Key), int(s.Fret), velocity, int(s.Take), rate)
}

// Gain returns the gain of a velocity of 0 to 127, 1 for the highest: about 10 dB less
// for each halving; our own, by ear.
func Gain(velocity int) float32 {
	return float32(exact.Pow(float64(velocity)/127, 1.6))
}
