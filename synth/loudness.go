package synth

import "math"

// loudnessMeter measures the integrated loudness of a stereo signal by ITU-R
// BS.1770-5, annex 1: both channels K-weighted, mean squares of 400 ms blocks
// that overlap by 75 %, gated at −70 LUFS and then at 10 LU below what passed.
type loudnessMeter struct {
	shelf, highPass biquad
	left, right     kState
	step            int       // frames in a quarter of a block
	filled          int       // frames in the quarter not yet complete
	energy          float64   // sum of squares in the quarter not yet complete
	quarters        []float64 // sum of squares of each complete quarter, both channels
}

// newLoudnessMeter returns a meter for signals of the given rate in samples a second.
func newLoudnessMeter(rate int) *loudnessMeter {
	return &loudnessMeter{
		shelf:    kShelf48.at(rate),
		highPass: kHighPass48.at(rate),
		step:     rate / 10,
	}
}

// Write measures the next block, left and right of equal length, full scale ±1.
func (m *loudnessMeter) Write(left, right []float32) {
	for len(left) > 0 {
		n := min(len(left), m.step-m.filled)
		m.energy += m.weigh(left[:n], right[:n])
		m.filled += n
		left, right = left[n:], right[n:]
		if m.filled == m.step {
			m.quarters = append(m.quarters, m.energy)
			m.filled, m.energy = 0, 0
		}
	}
}

// Integrated returns the loudness of all that was written, in LUFS; −Inf where
// nothing passes the gates, as in silence or in less than 400 ms.
func (m *loudnessMeter) Integrated() float64 {
	const overlap = 4 // quarters in a block
	var blocks []float64
	for i := overlap; i <= len(m.quarters); i++ {
		sum := 0.0
		for _, q := range m.quarters[i-overlap : i] {
			sum += q
		}
		blocks = append(blocks, sum/float64(overlap*m.step))
	}
	absolute := gatedMean(blocks, power(-70))
	relative := absolute * power10(-10)
	return loudness(gatedMean(blocks, max(relative, power(-70))))
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
func loudness(power float64) float64 { return -0.691 + 10*math.Log10(power) }
func power(loudness float64) float64 { return power10(loudness + 0.691) }

func power10(decibels float64) float64 { return math.Pow(10, decibels/10) }

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

// kState is what the two filters of one channel remember, in transposed
// direct form II.
type kState struct{ shelf1, shelf2, high1, high2 float64 }

// weigh returns the sum of squares of the K-weighted samples. Each filter waits
// for its own last result, so the channels go side by side, and sums begin with
// what does not have to wait. The high-pass has a double zero at 0 Hz, which
// leaves its b0 to be multiplied at the end.
func (m *loudnessMeter) weigh(left, right []float32) float64 {
	s, h, l, r := m.shelf, m.highPass, m.left, m.right
	right = right[:len(left)]
	sum := 0.0
	for i, sample := range left {
		x := float64(sample)
		y := s.b0*x + l.shelf1
		l.shelf1 = s.b1*x + l.shelf2 - s.a1*y
		l.shelf2 = s.b2*x - s.a2*y
		z := y + l.high1
		l.high1 = l.high2 - (y + y) - h.a1*z
		l.high2 = y - h.a2*z
		sum += z * z

		x = float64(right[i])
		y = s.b0*x + r.shelf1
		r.shelf1 = s.b1*x + r.shelf2 - s.a1*y
		r.shelf2 = s.b2*x - s.a2*y
		z = y + r.high1
		r.high1 = r.high2 - (y + y) - h.a1*z
		r.high2 = y - h.a2*z
		sum += z * z
	}
	m.left, m.right = l.settled(), r.settled()
	return sum * h.b0 * h.b0
}

// settled ends the decay of each filter in silence before its numbers become so
// small that processors take a hundred times as long over them: 10⁻³⁰⁸, which the
// shelf comes to within a tenth of a second from here.
func (k kState) settled() kState {
	const least = 1e-15
	if max(math.Abs(k.shelf1), math.Abs(k.shelf2)) < least {
		k.shelf1, k.shelf2 = 0, 0
	}
	if max(math.Abs(k.high1), math.Abs(k.high2)) < least {
		k.high1, k.high2 = 0, 0
	}
	return k
}
