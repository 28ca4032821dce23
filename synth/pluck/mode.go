package pluck

import (
	"math"

	"thirdwise/synth/exact"
)

// A mode is one decaying sinusoid: the real part of
// amplitude · exp((−decay + 2πi·frequency) · t), t in seconds.
type mode struct {
	frequency float64 // Hz
	decay     float64 // 1/s: the amplitude falls as exp(−decay·t)
	amplitude complex128
}

// Modes are what sounds of a note: the sum of its modes, which all begin together.
type Modes []mode

// pole returns the mode's complex frequency in 1/s.
func (m mode) pole() complex128 {
	return complex(-m.decay, 2*math.Pi*m.frequency)
}

// inaudible is the amplitude at which a mode is dropped: 72 dB below a sine of
// amplitude 1, which a note is about as loud as at its beginning. In a file at the
// usual loudness that lies below −93 dBFS for the hardest pluck of the loudest
// part, and below −100 dBFS for most.
const inaudible = 2.5e-4

// life returns the seconds until the mode is inaudible, 0 if it always is.
func (m mode) life() float64 {
	return max(0, exact.Log(exact.Abs(m.amplitude)/inaudible)/m.decay)
}

// An oscillator makes the samples of one mode, some at a time, each from the two that
// are one stride and two strides before it: two multiplications each.
//
// In double precision the rounding of 10 s of an 80 Hz mode adds up to less than
// −180 dB, far below the last bit of any file.
type oscillator struct {
	last, before    [stride]float64 // the two strides of samples before the next one
	factor, squared float64         // 2·r·cos θ and −r², r the decay and θ the turn of one stride
}

// stride is how many samples an oscillator makes at once.
const stride = 4

// oscillate returns an oscillator that starts in the state, complex, that a mode
// with the pole has at the first sample.
func oscillate(state, pole complex128, rate float64) (o oscillator) {
	back := exact.ExpComplex(-pole / complex(rate, 0))
	for i := stride - 1; i >= 0; i-- {
		state *= back
		o.last[i] = real(state)
	}
	for i := stride - 1; i >= 0; i-- {
		state *= back
		o.before[i] = real(state)
	}
	turn := exact.ExpComplex(pole * complex(stride/rate, 0))
	r := exact.Abs(turn)
	o.factor, o.squared = 2*real(turn), -r*r
	return o
}

// width is how many oscillators run side by side, so that the processor need not
// wait for each sample's predecessor.
const width = 4

// A bank is oscillators that run side by side. Those that are not set are silent.
type bank struct {
	last, before    [width][stride]float64
	factor, squared [width]float64
}

// banksOf puts oscillators into banks, in their order.
func banksOf(oscillators []oscillator) []bank {
	banks := make([]bank, banksFor(len(oscillators)))
	for i, o := range oscillators {
		b, at := &banks[i/width], i%width
		b.last[at], b.before[at], b.factor[at], b.squared[at] = o.last, o.before, o.factor, o.squared
	}
	return banks
}

// banksFor returns how many banks some oscillators need: whole pairs of banks, which end
// together, so that most modes ring on to far below what is heard.
func banksFor(oscillators int) int { return (oscillators + 2*width - 1) / (2 * width) * 2 }
