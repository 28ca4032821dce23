package pluck

import (
	"math"
	"slices"

	"thirdwise/synth/exact"
)

// A resonance is one mode of a guitar's body, between the force of the string on
// the bridge and the sound. The string pulls at the bridge in two directions:
// towards the top plate and along it.
type resonance struct {
	frequency float64 // Hz
	q         float64
	towards   float64 // gain at the frequency, of a force towards the plate
	along     float64 // the same, of a force along it
	yield     float64 // how far the bridge gives way at the frequency; see body.admittance
}

// A body is the resonances of a guitar. As a function of complex frequency s its
// response is the sum of gain·(ω/Q)s / (s² + (ω/Q)s + ω²), so it passes neither a
// steady force nor a sudden one: a note begins at zero and rises as the body can
// follow.
type body []tuned

// A tuned resonance is one with what its response is worked out from.
type tuned struct {
	resonance
	turn      float64 // ω, 1/s
	bandwidth float64 // ω/Q, 1/s
}

// bodyOf returns a body with some resonances.
func bodyOf(rows ...[]resonance) body {
	var b body
	for _, r := range slices.Concat(rows...) {
		turn := 2 * math.Pi * r.frequency
		b = append(b, tuned{r, turn, turn / r.q})
	}
	return b
}

// A crowd is the many modes of a body above its first few, too dense to be told
// apart, as chance has them: what is known of them is how dense they are, how much
// they are damped and how strong they are on the whole (J. Woodhouse, Acta Acustica 90
// (2004); modal density after Fletcher and Rossing, ch. 3; from memory).
type crowd struct {
	from, to float64 // Hz
	spacing  float64 // Hz from one to the next
	q        float64
	gains    [6]float64 // of a mode at 0.5, 1, 2, 4, 8 and 16 kHz, were each alone in its band
	along    float64    // gain along the plate as a share of that towards it
	seed     int
}

// overlap is the modes in the bandwidth of one beyond which more of them change
// nothing that can be heard: a crowd is thinned out to it.
const overlap = 1.6

// modes returns the resonances of the crowd.
func (c crowd) modes() []resonance {
	luck := chanceOf(c.seed)
	var modes []resonance
	for f := c.from; f < c.to; {
		spacing := max(c.spacing, f/c.q/overlap)
		q := c.q * luck.between(0.7, 1.4)
		gain := c.gainAt(f)
		dense := f / q / spacing
		modes = append(modes, resonance{
			frequency: f,
			q:         q,
			towards:   gain * luck.sign() * luck.between(0.5, 1.5),
			along:     gain * c.along * luck.sign() * luck.between(0.5, 1.5),
			yield:     luck.between(0.3, 1.7) / (math.Pi / 2 * dense),
		})
		f += spacing * luck.between(0.5, 1.5)
	}
	return modes
}

// gainAt returns the gain of a mode at a frequency in Hz, between those of the table
// along straight lines of decibels over octaves.
func (c crowd) gainAt(frequency float64) float64 {
	octave := exact.Log(frequency/500) / math.Ln2
	i := min(max(0, int(octave)), len(c.gains)-2)
	return c.gains[i] * exact.Pow(c.gains[i+1]/c.gains[i], octave-float64(i))
}

// at returns what the resonance passes of a force at complex frequency −decay +
// i·turn, in 1/s, its gain left out.
func (r *tuned) at(decay, turn float64) (re, im float64) {
	// b·s / (s² + b·s + ω²)
	pushRe, pushIm := -r.bandwidth*decay, r.bandwidth*turn
	re, im = reciprocal(decay*decay-turn*turn+pushRe+r.turn*r.turn, pushIm-2*decay*turn)
	return pushRe*re - pushIm*im, pushRe*im + pushIm*re
}

// response returns the body's response to forces towards the plate and along it at
// the complex frequency of a mode.
func (b body) response(m mode) (towards, along complex128) {
	turn := 2 * math.Pi * m.frequency
	var tr, ti, ar, ai float64
	for i := range b {
		r := &b[i]
		re, im := r.at(m.decay, turn)
		tr += r.towards * re
		ti += r.towards * im
		ar += r.along * re
		ai += r.along * im
	}
	return complex(tr, ti), complex(ar, ai)
}

// admittance returns how the bridge gives way to a force at a frequency in Hz, the
// mean over the crowd being 1: the real part takes energy from the string, the
// imaginary part detunes it.
func (b body) admittance(frequency float64) complex128 {
	turn := 2 * math.Pi * frequency
	var re, im float64
	for i := range b {
		r := &b[i]
		x, y := r.at(0, turn)
		re += r.yield * x
		im += r.yield * y
	}
	return complex(re, im)
}

// A force is what pulls at the bridge: modes that begin together, towards the plate
// and along it.
type force struct{ towards, along Modes }

// drive returns the modes that sound when a force drives the body: its own as the
// body passes them, and the body's, struck by the beginning. It is the inverse
// Laplace transform of response times force, by residues.
func (b body) drive(f force) Modes {
	sound := make(Modes, 0, len(f.towards)+len(f.along)+len(b))
	for _, m := range f.towards {
		towards, _ := b.response(m)
		m.amplitude *= towards
		sound = append(sound, m)
	}
	for _, m := range f.along {
		_, along := b.response(m)
		m.amplitude *= along
		sound = append(sound, m)
	}
	for _, r := range b {
		decay := r.bandwidth / 2
		turn := math.Sqrt(r.turn*r.turn - decay*decay)
		residue := complex(r.bandwidth, 0) * complex(-decay, turn) / complex(0, 2*turn)
		struck := complex(r.towards, 0)*f.towards.transform(decay, turn) +
			complex(r.along, 0)*f.along.transform(decay, turn)
		sound = append(sound, mode{turn / (2 * math.Pi), decay, residue * struck})
	}
	return sound
}

// transform returns the Laplace transform of the sum of the modes at complex
// frequency −decay + i·turn, in 1/s.
func (modes Modes) transform(decay, turn float64) complex128 {
	var re, im float64
	for _, m := range modes {
		omega := 2 * math.Pi * m.frequency
		a, b := real(m.amplitude), imag(m.amplitude)
		x, y := reciprocal(m.decay-decay, turn-omega)
		u, v := reciprocal(m.decay-decay, turn+omega)
		re += a*x - b*y + a*u + b*v
		im += a*y + b*x + a*v - b*u
	}
	return complex(re, im)
}

// reciprocal returns 1 / (re + i·im).
func reciprocal(re, im float64) (x, y float64) {
	per := 1 / (re*re + im*im)
	return re * per, -im * per
}
