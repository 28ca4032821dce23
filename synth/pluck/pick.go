package pluck

import (
	"math"

	"thirdwise/synth/exact"
)

// A scratch is the noise that a plectrum or a nail makes on the string before the
// string is free: a short force of many modes, as chance has them, which is heard
// through the body.
type scratch struct {
	from, to float64 // Hz
	strength float64 // at full velocity and 1 kHz, beside a string's first partial
	tilt     float64 // the exponent with which it goes with frequency
}

// The course of a scratch: it rises while the plectrum lies on the string and falls
// once it has left. Our own, by ear.
const (
	scratchModes = 48
	scratchRise  = 400.0 // 1/s
	scratchFall  = 70.0  // 1/s
)

// modes returns the modes of a scratch, hard from 0 to 1. Each note's own luck makes its
// scratch: were all the same, those of strings that are struck together would add up to a
// peak beyond the notes'.
func (s scratch) modes(hard float64, luck chance) Modes {
	modes := make(Modes, 0, 2*scratchModes)
	step := exact.Pow(s.to/s.from, 1.0/scratchModes)
	f := s.from
	for range scratchModes {
		frequency := f * exact.Pow(step, luck.between(0, 1))
		f *= step
		turn := luck.between(0, 2*math.Pi)
		size := s.strength * exact.Pow(hard, 0.7) * exact.Pow(frequency/1000, s.tilt) * luck.between(0.5, 1.5)
		amplitude := complex(size*math.Cos(turn), size*math.Sin(turn))
		fall := scratchFall * luck.between(0.7, 1.5)
		modes = append(modes, mode{frequency, fall, amplitude}, mode{frequency, scratchRise, -amplitude})
	}
	return modes
}
