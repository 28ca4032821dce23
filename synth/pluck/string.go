package pluck

import (
	"math"

	"thirdwise/synth/exact"
)

// A gauge is what a string is made of. Its mass follows from pitch and tension.
type gauge struct {
	open        float64 // pitch of the open string, a MIDI key
	tension     float64 // T, N
	bending     float64 // B, the bending stiffness, N m²
	friction    float64 // loss factor η_F, dimensionless
	bendingLoss float64 // loss factor η_B, dimensionless
	air         float64 // loss factor η_A, 1/s
}

// nylon is a classical guitar's set of strings.
//
// Source: the table of string properties in J. Woodhouse, On the Synthesis of
// Guitar Plucks, Acta Acustica united with Acustica 90 (2004) 928-944; the
// values are from memory.
var nylon = []gauge{
	// open T/N  B/N m²  η_F    η_B     η_A
	{40, 71.6, 57e-6, 2e-5, 2.0e-2, 1.2},   // E2
	{45, 73.9, 40e-6, 7e-5, 2.5e-2, 0.9},   // A2
	{50, 71.2, 51e-6, 5e-5, 2.0e-2, 1.2},   // D3
	{55, 58.3, 310e-6, 14e-5, 2.0e-2, 1.7}, // G3
	{59, 53.4, 160e-6, 40e-5, 2.0e-2, 1.2}, // B3
	{64, 70.3, 130e-6, 40e-5, 2.4e-2, 1.5}, // E4
}

// steel is a flat-top guitar's set of strings.
//
// Tension and stiffness are worked out from the gauges of a light set (0.012 to
// 0.053 inch, the lower four wound on cores of 0.014 to 0.018 inch; from memory)
// and the modulus of steel, 200 GPa. The loss factors are our own, by ear: lower
// than nylon's where the ear follows them, and high enough that 5 kHz is gone
// within a second or two, of the plain strings more slowly than of the wound.
var steel = []gauge{
	// open T/N  B/N m²  η_F     η_B     η_A
	{40, 118, 430e-6, 5e-5, 0.5e-2, 0.9},    // E2
	{45, 133, 300e-6, 5e-5, 0.5e-2, 0.9},    // A2
	{50, 135, 205e-6, 7e-5, 0.5e-2, 1.0},    // D3
	{55, 130, 157e-6, 10e-5, 0.5e-2, 1.1},   // G3
	{59, 105, 267e-6, 5.5e-5, 0.25e-2, 1.0}, // B3
	{64, 105, 85e-6, 6.5e-5, 0.25e-2, 1.1},  // E4
}

// bassSteel is a bass guitar's set of strings, worked out like steel from a set
// of 0.045 to 0.105 inch on cores of 0.018 to 0.028 inch.
var bassSteel = []gauge{
	// open T/N  B/N m²  η_F     η_B     η_A
	{28, 170, 2500e-6, 5e-5, 0.8e-2, 0.7}, // E1
	{33, 180, 1500e-6, 5e-5, 0.8e-2, 0.7}, // A1
	{38, 190, 800e-6, 6e-5, 0.8e-2, 0.8},  // D2
	{43, 200, 430e-6, 6e-5, 0.8e-2, 0.8},  // G2
}

// gaugeFor returns the string of a set that a player would use at an open pitch,
// a MIDI key: between two of the set's pitches something in between, beyond them
// the outermost string made heavier or lighter at its own tension.
func gaugeFor(set []gauge, open int) gauge {
	pitch := float64(open)
	last := len(set) - 1
	if pitch <= set[0].open {
		return set[0]
	}
	for i := range last {
		low, high := set[i], set[i+1]
		if pitch < high.open {
			share := (pitch - low.open) / (high.open - low.open)
			between := func(a, b float64) float64 { return a * exact.Pow(b/a, share) }
			return gauge{
				open:        pitch,
				tension:     between(low.tension, high.tension),
				bending:     between(low.bending, high.bending),
				friction:    between(low.friction, high.friction),
				bendingLoss: between(low.bendingLoss, high.bendingLoss),
				air:         between(low.air, high.air),
			}
		}
	}
	return set[last]
}

// partials calls yield with the frequency in Hz and the decay in 1/s of each
// partial n = 1, 2, … of a string, stopped at length metres and tuned so that its
// first partial has the frequency first, until the frequency passes limit.
//
// With p = nπ/length the frequencies go as n·(1 + p²B/2T), and the damping ratio
// is ζ = [T(η_F + η_A/2πf) + η_B·B·p²] / 2(T + B·p²); a mode decays at 2πf·ζ
// (Woodhouse 2004; Fletcher and Rossing, The Physics of Musical Instruments,
// 2nd ed., 2.18).
func (g gauge) partials(first, length, limit float64, yield func(n int, frequency, decay float64)) {
	stretch := func(n float64) float64 {
		p := n * math.Pi / length
		return 1 + p*p*g.bending/(2*g.tension)
	}
	for n := 1.0; ; n++ {
		frequency := n * first * stretch(n) / stretch(1)
		if frequency > limit {
			return
		}
		p := n * math.Pi / length
		turn := 2 * math.Pi * frequency
		loss := g.tension*(g.friction+g.air/turn) + g.bendingLoss*g.bending*p*p
		yield(int(n), frequency, turn*loss/(2*(g.tension+g.bending*p*p)))
	}
}
