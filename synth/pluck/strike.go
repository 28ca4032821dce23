package pluck

import (
	"cmp"
	"math"
	"slices"

	"thirdwise/synth/exact"
)

// Strike returns the samples of a note from its beginning until it is inaudible, at
// most frames. Full scale is about that of a note at full velocity.
func (modes Modes) Strike(frames, rate int) []float32 {
	heard := modes.audible(rate)
	if len(heard) == 0 {
		return nil
	}
	hertz := float64(rate)
	out := make([]float32, min(frames, frameCount(heard[0].life, hertz)))
	oscillators := make([]oscillator, 0, len(heard))
	for _, m := range heard {
		oscillators = append(oscillators, oscillate(m.amplitude, m.pole(), hertz))
	}
	banks := banksOf(oscillators)

	var block [256]float64
	live := len(heard)
	for at := 0; at < len(out); at += len(block) {
		for live > 0 && heard[live-1].life*hertz < float64(at) {
			live--
		}
		clear(block[:])
		for i := range banks[:banksFor(live)] {
			banks[i].ring(block[:])
		}
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

// An audible mode is one with the seconds until it is inaudible.
type audible struct {
	mode
	life float64
}

// audible returns the modes that can be heard, the one that lasts longest first.
func (modes Modes) audible(rate int) []audible {
	var heard []audible
	for _, m := range modes {
		if life := m.life(); life > 0 && m.frequency <= highest*float64(rate) {
			heard = append(heard, audible{m, life})
		}
	}
	slices.SortStableFunc(heard, func(a, b audible) int { return cmp.Compare(b.life, a.life) })
	return heard
}

func frameCount(seconds, hertz float64) int { return int(math.Ceil(seconds * hertz)) }
