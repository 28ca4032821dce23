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
	Layer      int8 // of the velocity, which sets the colour; see Layer
	Take       int8 // from 0 to Takes−1: a hand does nothing twice
}

// An Instrument is what a sound is made on.
type Instrument int8

// The instruments: a wooden bar and the same for an accent, three guitars, a shaker as it
// goes either way, and brushes that sweep over a drum and tap it.
const (
	ClickBar Instrument = iota
	AccentBar
	ChordsGuitar
	GuideGuitar
	BassGuitar
	ShakerForth
	ShakerBack
	BrushSweep
	BrushTap
)

// layers are the velocities of the colours that a note can have, and below which
// velocity each is taken. Its loudness follows in every step. The limits lie between what
// a hand means to play, so that its straying seldom asks for another sound.
var layers = [...]struct{ below, velocity int }{{44, 32}, {58, 51}, {72, 65}, {93, 82}, {128, 106}}

// Takes is in how many ways a sound is made.
const Takes = 3

// Layer returns the layer of colour for a velocity; what is more than 127 is held to it.
func Layer(velocity int) int8 {
	layer := 0
	for layer < len(layers)-1 && velocity >= layers[layer].below {
		layer++
	}
	return int8(layer)
}

// Compare orders sounds, as [cmp.Compare] orders numbers.
func (s Sound) Compare(t Sound) int {
	return cmp.Or(cmp.Compare(s.Instrument, t.Instrument), cmp.Compare(s.Key, t.Key),
		cmp.Compare(s.Fret, t.Fret), cmp.Compare(s.Layer, t.Layer), cmp.Compare(s.Take, t.Take))
}

// Samples returns the samples of the sound from its beginning until it is inaudible, at
// most frames, at a rate in samples a second.
func (s Sound) Samples(frames, rate int) []float32 {
	if s.Instrument >= ShakerForth {
		return s.rustle(frames, rate)
	}
	return s.Modes(rate).Strike(frames, rate)
}

// Modes returns the modes of a sound that has some: of all but the shaker and the brushes,
// which are noise. The rate, in samples a second, bounds their frequencies.
func (s Sound) Modes(rate int) Modes {
	velocity := layers[s.Layer].velocity
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
