package loudness

import (
	"math"
	"slices"

	"thirdwise/synth/exact"
)

// A Meter measures the integrated loudness of a stereo signal by ITU-R
// BS.1770-5, annex 1: both channels K-weighted, mean squares of 400 ms blocks
// that overlap by 75 %, gated at −70 LUFS and then at 10 LU below what passed.
type Meter struct {
	factors  kFactors
	state    kState
	waiting  [2][group]float32 // the frames that make no whole group yet
	frames   int               // all that were written
	step     int               // frames in a quarter of a block
	filled   int               // frames that were weighed of the quarter not yet complete
	energy   float64           // sum of their squares
	quarters []float64         // sum of squares of each complete quarter, both channels
}

// NewMeter returns a meter for signals of the given rate in samples a second.
func NewMeter(rate int) *Meter {
	return &Meter{factors: newKFactors(kShelf48.at(rate), kHighPass48.at(rate)), step: rate / 10}
}

// Write measures the next block, left and right of equal length, full scale ±1. It
// never fails.
func (m *Meter) Write(left, right []float32) error {
	if at := m.frames % group; at > 0 {
		n := copy(m.waiting[0][at:], left)
		copy(m.waiting[1][at:], right[:n])
		m.frames += n
		if m.frames%group != 0 {
			return nil
		}
		m.weigh(m.waiting[0][:], m.waiting[1][:])
		left, right = left[n:], right[n:]
	}
	whole := len(left) &^ (group - 1)
	m.weigh(left[:whole], right[:whole])
	copy(m.waiting[0][:], left[whole:])
	copy(m.waiting[1][:], right[whole:])
	m.frames += len(left)
	return nil
}

// weigh measures whole groups.
func (m *Meter) weigh(left, right []float32) {
	for len(left) > 0 {
		n := min(len(left), (m.step-m.filled)&^(group-1))
		inside := group // frames of each group that belong to this quarter
		if n == 0 {
			n, inside = group, m.step-m.filled
		}
		sums := weigh(left[:n], right[:n], &m.factors, &m.state)
		m.state.settle()
		left, right = left[n:], right[n:]
		m.add(sums[:inside], n-group+inside)
		if m.filled == m.step {
			m.quarters = append(m.quarters, m.energy)
			m.filled, m.energy = 0, 0
			m.add(sums[inside:], group-inside)
		}
	}
}

// add adds sums of some frames to the quarter not yet complete.
func (m *Meter) add(sums []float64, frames int) {
	for _, s := range sums {
		m.energy += s
	}
	m.filled += frames
}

// complete returns all quarters that are complete, also where that is known only when
// the group is weighed that is waiting.
func (m *Meter) complete() []float64 {
	ended := *m
	ended.quarters = slices.Clip(m.quarters)
	if at := m.frames % group; at > 0 {
		var silence [group]float32
		_ = ended.Write(silence[at:], silence[at:])
	}
	return ended.quarters[:m.frames/m.step]
}

// Integrated returns the loudness of all that was written, in LUFS; −Inf where
// nothing passes the gates, as in silence or in less than 400 ms.
func (m *Meter) Integrated() float64 { return m.IntegratedAt(0) }

// IntegratedAt returns what Integrated would be if all had been written with a gain, in
// dB. The gate that does not move with the signal may then let more pass, or less.
func (m *Meter) IntegratedAt(gain float64) float64 {
	const overlap = 4 // quarters in a block
	var blocks []float64
	quarters := m.complete()
	for i := overlap; i <= len(quarters); i++ {
		sum := 0.0
		for _, q := range quarters[i-overlap : i] {
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

// newKFactors prepares two filters, one after the other, for weigh: as one of the fourth
// order, of which four results at once follow from the samples, and from four results
// before them (common practice: a recursive filter worked out in blocks). A factor is
// what comes of a single sample, or of a single result.
func newKFactors(shelf, high biquad) (f kFactors) {
	const order = group
	forth := product([3]float64{shelf.b0, shelf.b1, shelf.b2}, [3]float64{high.b0, high.b1, high.b2})
	back := product([3]float64{1, shelf.a1, shelf.a2}, [3]float64{1, high.a1, high.a2})
	// run fills in the results that begin behind the first order of them.
	run := func(samples, results *[order + 2*group]float64, from int) {
		for n := order + from; n < order+from+group; n++ {
			results[n] = forth[0] * samples[n]
			for i := 1; i <= order; i++ {
				results[n] += forth[i]*samples[n-i] - back[i]*results[n-i]
			}
		}
	}
	for k := range group {
		var samples, results [order + 2*group]float64
		samples[order+k] = 1
		run(&samples, &results, 0)
		f.now[k] = quad(results[order:])
		results = [order + 2*group]float64{}
		run(&samples, &results, group)
		f.later[k] = quad(results[order+group:])
		samples, results = [order + 2*group]float64{}, [order + 2*group]float64{}
		results[k] = 1
		run(&samples, &results, 0)
		f.back[k] = quad(results[order:])
	}
	return f
}

// product returns the coefficients of the product of two polynomials.
func product(a, b [3]float64) (c [5]float64) {
	for i, x := range a {
		for j, y := range b {
			c[i+j] += x * y
		}
	}
	return c
}

// settle ends the decay of each side in silence before its numbers become so small that
// processors take a hundred times as long over them: 10⁻³⁰⁸, which is a second and more
// from here.
func (k *kState) settle() {
	const least = 1e-15
	for side := range k.result {
		still := true
		for i := range group {
			still = still && math.Abs(k.share[side][i]) < least && math.Abs(k.result[side][i]) < least
		}
		if still {
			k.share[side], k.result[side] = quad{}, quad{}
		}
	}
}
