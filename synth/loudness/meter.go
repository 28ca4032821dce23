package loudness

import (
	"math"

	"thirdwise/synth/exact"
)

// A Meter measures the integrated loudness of a stereo signal by ITU-R
// BS.1770-5, annex 1: both channels K-weighted, mean squares of 400 ms blocks
// that overlap by 75 %, gated at −70 LUFS and then at 10 LU below what passed.
type Meter struct {
	factors  kFactors
	state    kState
	scale    float64   // of the sums of squares, which weigh leaves out
	step     int       // frames in a quarter of a block
	filled   int       // frames in the quarter not yet complete
	energy   float64   // sum of squares in the quarter not yet complete
	quarters []float64 // sum of squares of each complete quarter, both channels
}

// NewMeter returns a meter for signals of the given rate in samples a second.
func NewMeter(rate int) *Meter {
	shelf, high := kShelf48.at(rate), kHighPass48.at(rate)
	return &Meter{
		factors: newKFactors(shelf, high),
		scale:   high.b0 * high.b0,
		step:    rate / 10,
	}
}

// Write measures the next block, left and right of equal length, full scale ±1. It
// never fails.
func (m *Meter) Write(left, right []float32) error {
	for len(left) > 0 {
		n := min(len(left), m.step-m.filled)
		sums := weigh(left[:n], right[:n], &m.factors, &m.state)
		m.energy += m.scale * (sums[0] + sums[1])
		m.state.settle()
		m.filled += n
		left, right = left[n:], right[n:]
		if m.filled == m.step {
			m.quarters = append(m.quarters, m.energy)
			m.filled, m.energy = 0, 0
		}
	}
	return nil
}

// Integrated returns the loudness of all that was written, in LUFS; −Inf where
// nothing passes the gates, as in silence or in less than 400 ms.
func (m *Meter) Integrated() float64 { return m.IntegratedAt(0) }

// IntegratedAt returns what Integrated would be if all had been written with a gain, in
// dB. The gate that does not move with the signal may then let more pass, or less.
func (m *Meter) IntegratedAt(gain float64) float64 {
	const overlap = 4 // quarters in a block
	var blocks []float64
	for i := overlap; i <= len(m.quarters); i++ {
		sum := 0.0
		for _, q := range m.quarters[i-overlap : i] {
			sum += q
		}
		blocks = append(blocks, sum/float64(overlap*m.step))
	}
	threshold := power(-70 - gain)
	relative := gatedMean(blocks, threshold) * power10(-10)
	return gain + loudness(gatedMean(blocks, max(relative, threshold)))
}

// gatedMean returns the mean of the blocks above the gate, 0 when none is.
func gatedMean(blocks []float64, gate float64) float64 {
	sum, n := 0.0, 0
	for _, b := range blocks {
		if b > gate {
			sum += b
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}

// loudness returns the loudness of a K-weighted mean square (BS.1770-5,
// formula 2; both channels of stereo have the weight 1), power its inverse.
func loudness(meanSquare float64) float64 { return -0.691 + exact.Decibels(meanSquare)/2 }
func power(lufs float64) float64          { return power10(lufs + 0.691) }

func power10(decibels float64) float64 { return exact.Amplitude(2 * decibels) }

// biquad is a second-order filter, H(z) = (b0 + b1·z⁻¹ + b2·z⁻²) /
// (1 + a1·z⁻¹ + a2·z⁻²).
type biquad struct{ b0, b1, b2, a1, a2 float64 }

// The two stages of K-weighting at 48 kHz (ITU-R BS.1770-5, annex 1, tables 1
// and 2; from memory).
var (
	kShelf48 = biquad{
		b0: 1.53512485958697, b1: -2.69169618940638, b2: 1.19839281085285,
		a1: -1.69065929318241, a2: 0.73248077421585,
	}
	kHighPass48 = biquad{
		b0: 1, b1: -2, b2: 1,
		a1: -1.99004745483398, a2: 0.99007225036621,
	}
)

// at returns the filter at another rate for one given at 48 kHz. It goes back
// to the analogue prototype by the inverse of the bilinear transform,
// z⁻¹ = (1−s)/(1+s), and forth again with the frequency of the poles held in
// place.
func (f biquad) at(rate int) biquad {
	const given = 48000
	num := [3]float64{f.b0 + f.b1 + f.b2, 2 * (f.b0 - f.b2), f.b0 - f.b1 + f.b2}
	den := [3]float64{1 + f.a1 + f.a2, 2 * (1 - f.a2), 1 - f.a1 + f.a2}

	// s at the poles is i·tan(π·frequency/rate) of either rate.
	s := math.Sqrt(den[0] / den[2])
	k := s / math.Tan(math.Atan(s)*given/float64(rate))
	forth := func(c [3]float64) (c0, c1, c2 float64) {
		p0, p1, p2 := c[0], c[1]*k, c[2]*k*k
		return p0 + p1 + p2, 2 * (p0 - p2), p0 - p1 + p2
	}
	b0, b1, b2 := forth(num)
	a0, a1, a2 := forth(den)
	return biquad{b0 / a0, b1 / a0, b2 / a0, a1 / a0, a2 / a0}
}

// newKFactors prepares two filters for weigh. What a filter in transposed direct
// form II remembers follows from its result, and so has to wait for it; here it
// follows from the sample and from what was remembered, which waits for less. The
// high-pass has a double zero at 0 Hz: b1 is −2·b0, and b2 is b0.
func newKFactors(shelf, high biquad) kFactors {
	both := func(x float64) pair { return pair{x, x} }
	return kFactors{
		in:     both(shelf.b0),
		in1:    both(shelf.b1 - shelf.a1*shelf.b0),
		in2:    both(shelf.b2 - shelf.a2*shelf.b0),
		back1:  both(shelf.a1),
		back2:  both(shelf.a2),
		high1:  both(-2 - high.a1),
		high2:  both(1 - high.a2),
		again1: both(high.a1),
		again2: both(high.a2),
	}
}

// settle ends the decay of each filter in silence before its numbers become so
// small that processors take a hundred times as long over them: 10⁻³⁰⁸, which the
// shelf comes to within a tenth of a second from here.
func (k *kState) settle() {
	const least = 1e-15
	for side := range k.shelf1 {
		if max(math.Abs(k.shelf1[side]), math.Abs(k.shelf2[side])) < least {
			k.shelf1[side], k.shelf2[side] = 0, 0
		}
		if max(math.Abs(k.high1[side]), math.Abs(k.high2[side])) < least {
			k.high1[side], k.high2[side] = 0, 0
		}
	}
}
