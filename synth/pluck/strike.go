package pluck

import (
	"math"
	"slices"

	"thirdwise/synth/exact"
)

// Strike returns the samples of a note from its beginning until it is inaudible, at
// most frames. Full scale is about that of a note at full velocity.
func (modes Modes) Strike(frames, rate int) []float32 {
	modes = modes.audible(rate)
	if len(modes) == 0 {
		return nil
	}
	hertz := float64(rate)
	out := make([]float32, min(frames, frameCount(modes[0].life(), hertz)))
	oscillators := make([]oscillator, 0, len(modes)+width)
	for _, m := range modes {
		oscillators = append(oscillators, oscillate(m.amplitude, m.pole(), hertz))
	}
	oscillators = padded(oscillators)

	var block [256]float64
	live := len(modes)
	for at := 0; at < len(out); at += len(block) {
		for live > 0 && modes[live-1].life()*hertz < float64(at) {
			live--
		}
		clear(block[:])
		ring(block[:], oscillators[:roundUp(live)])
		for i := range out[at:min(at+len(block), len(out))] {
			out[at+i] = float32(block[i])
		}
	}
	return out
}

// The touch of a finger that ends a note, our own, by ear: after a hundredth of a
// second it has come down, and after nine the note has lost 60 dB.
const (
	touchDown  = 0.010 // s
	touchLasts = 0.100 // s
	touchDecay = 80.0  // 1/s
)

// Touch returns the factors by which a note's samples are less from the frame on at
// which a finger ends it, until nothing is left.
func Touch(rate int) []float32 {
	factors := make([]float32, int(touchLasts*float64(rate)))
	for i := range factors {
		t := float64(i) / float64(rate)
		down := min(t, touchDown)
		// The decay grows as the finger comes down, and then stays.
		lost := touchDecay * (down*down/(2*touchDown) + t - down)
		left := 1 - float64(i)/float64(len(factors))
		factors[i] = float32(exact.Exp(-lost) * left)
	}
	return factors
}

// audible returns the modes that can be heard, the one that lasts longest first.
func (modes Modes) audible(rate int) Modes {
	heard := slices.DeleteFunc(slices.Clone(modes), func(m mode) bool {
		return m.life() == 0 || m.frequency > highest*float64(rate)
	})
	slices.SortStableFunc(heard, func(a, b mode) int {
		switch la, lb := a.life(), b.life(); {
		case la > lb:
			return -1
		case la < lb:
			return 1
		}
		return 0
	})
	return heard
}

// padded returns oscillators with silent ones added up to a multiple of width.
func padded(o []oscillator) []oscillator {
	for len(o)%width != 0 {
		o = append(o, oscillator{})
	}
	return o
}

func roundUp(n int) int { return (n + width - 1) / width * width }

func frameCount(seconds, hertz float64) int { return int(math.Ceil(seconds * hertz)) }
