package pluck

import (
	"math"
	"math/cmplx"
)

// A resonance is one mode of a guitar's body, between the force of the string on
// the bridge and the sound.
type resonance struct {
	frequency float64 // Hz
	q         float64
	gain      float64 // at the frequency
}

// A body is the resonances of a guitar. As a function of complex frequency s it
// is the sum of gain·(ω/Q)s / (s² + (ω/Q)s + ω²), so it passes neither a steady
// force nor a sudden one: a note begins at zero and rises as the body can follow.
type body []resonance

// bandwidth returns ω/Q in 1/s.
func (r resonance) bandwidth() float64 { return 2 * math.Pi * r.frequency / r.q }

// response returns the body's response to a force at complex frequency s.
func (b body) response(s complex128) complex128 {
	var sum complex128
	for _, r := range b {
		turn := 2 * math.Pi * r.frequency
		push := complex(r.bandwidth(), 0) * s
		sum += complex(r.gain, 0) * push / (s*s + push + complex(turn*turn, 0))
	}
	return sum
}

// drive returns the modes that sound when force modes, beginning together, drive
// the body: the same modes as the body passes them, and the body's own, struck
// by the beginning. It is the inverse Laplace transform of response times force,
// by residues.
func (b body) drive(force Modes) Modes {
	sound := make(Modes, 0, len(force)+len(b))
	for _, m := range force {
		m.amplitude *= b.response(m.pole())
		sound = append(sound, m)
	}
	for _, r := range b {
		decay := r.bandwidth() / 2
		turn := math.Sqrt(math.Pow(2*math.Pi*r.frequency, 2) - decay*decay)
		pole := complex(-decay, turn)
		residue := complex(r.gain*r.bandwidth(), 0) * pole / complex(0, 2*turn)
		var struck complex128
		for _, m := range force {
			p, a := m.pole(), m.amplitude
			struck += a/(pole-p) + cmplx.Conj(a)/(pole-cmplx.Conj(p))
		}
		sound = append(sound, mode{turn / (2 * math.Pi), decay, residue * struck})
	}
	return sound
}
