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

// An oscillator makes the samples of one mode from its last two: two
// multiplications each.
//
// In double precision the rounding of 10 s of an 80 Hz mode adds up to less than
// −180 dB, far below the last bit of any file.
type oscillator struct {
	last, before    float64 // the two samples before the next one
	factor, squared float64 // 2·r·cos θ and −r², r the decay and θ the turn of one sample
}

// oscillate returns an oscillator that starts in the state, complex, that a mode
// with the pole has at the first sample.
func oscillate(state, pole complex128, rate float64) oscillator {
	turn := exact.ExpComplex(pole / complex(rate, 0))
	back := state / turn
	r := exact.Abs(turn)
	return oscillator{
		last:    real(back),
		before:  real(back / turn),
		factor:  2 * real(turn),
		squared: -r * r,
	}
}

// width is how many oscillators run side by side, so that the processor need not
// wait for each sample's predecessor.
const width = 8

// ring adds the next len(dst) samples of some oscillators, a multiple of width,
// to dst, and leaves them ready to go on.
func ring(dst []float64, oscillators []oscillator) {
	for len(oscillators) >= width {
		o := (*[width]oscillator)(oscillators)
		a1, a2, b1, b2 := o[0].last, o[0].before, o[1].last, o[1].before
		c1, c2, d1, d2 := o[2].last, o[2].before, o[3].last, o[3].before
		e1, e2, f1, f2 := o[4].last, o[4].before, o[5].last, o[5].before
		g1, g2, h1, h2 := o[6].last, o[6].before, o[7].last, o[7].before
		for i := range dst {
			a2, a1 = a1, o[0].factor*a1+o[0].squared*a2
			b2, b1 = b1, o[1].factor*b1+o[1].squared*b2
			c2, c1 = c1, o[2].factor*c1+o[2].squared*c2
			d2, d1 = d1, o[3].factor*d1+o[3].squared*d2
			e2, e1 = e1, o[4].factor*e1+o[4].squared*e2
			f2, f1 = f1, o[5].factor*f1+o[5].squared*f2
			g2, g1 = g1, o[6].factor*g1+o[6].squared*g2
			h2, h1 = h1, o[7].factor*h1+o[7].squared*h2
			dst[i] += ((a1 + b1) + (c1 + d1)) + ((e1 + f1) + (g1 + h1))
		}
		o[0].last, o[0].before, o[1].last, o[1].before = a1, a2, b1, b2
		o[2].last, o[2].before, o[3].last, o[3].before = c1, c2, d1, d2
		o[4].last, o[4].before, o[5].last, o[5].before = e1, e2, f1, f2
		o[6].last, o[6].before, o[7].last, o[7].before = g1, g2, h1, h2
		oscillators = oscillators[width:]
	}
}
