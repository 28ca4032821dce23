package loudness

import "math"

// The loops in which the meters spend their time have kernels where the processor is an
// amd64: the same sums in the same order, both sides at once with SSE2, which every amd64
// has, or eight samples with AVX2. What stands here is what they do, and what other
// processors run.
//
// The conversions keep processors that could from rounding product and sum in one.

// A pair is a number for the left and one for the right.
type pair [2]float64

// kFactors are the factors of K-weighting's two filters, the same for both sides:
// of a sample into the shelf's result and its two memories, of the memory that
// comes back into them; then the same for the high-pass, whose first factor is
// left to be multiplied at the end.
type kFactors struct {
	in, in1, in2, back1, back2   pair
	high1, high2, again1, again2 pair
}

// kState is what the two filters remember.
type kState struct{ shelf1, shelf2, high1, high2 pair }

// weighPlainly K-weights the samples of both sides, of equal length, and returns
// the sums of their squares.
func weighPlainly(left, right []float32, f *kFactors, k *kState) pair {
	right = right[:len(left)]
	var sums pair
	for side, samples := range [2][]float32{left, right} {
		in, in1, in2, back1, back2 := f.in[side], f.in1[side], f.in2[side], f.back1[side], f.back2[side]
		h1, h2, again1, again2 := f.high1[side], f.high2[side], f.again1[side], f.again2[side]
		shelf1, shelf2, high1, high2 := k.shelf1[side], k.shelf2[side], k.high1[side], k.high2[side]
		for _, sample := range samples {
			x := float64(sample)
			y := float64(in*x) + shelf1
			shelf1, shelf2 = float64(in1*x)+shelf2-float64(back1*shelf1), float64(in2*x)-float64(back2*shelf1)
			z := y + high1
			high1, high2 = float64(h1*y)+high2-float64(again1*high1), float64(h2*y)-float64(again2*high1)
			sums[side] += float64(z * z)
		}
		k.shelf1[side], k.shelf2[side], k.high1[side], k.high2[side] = shelf1, shelf2, high1, high2
	}
	return sums
}

// How many samples a kernel takes at once that finds magnitudes, and how many results
// one that interpolates.
const (
	magnitudes     = 32
	interpolations = 8
)

// magnitudePlainly returns the largest magnitude among the samples. Floats without
// their sign are ordered as whole numbers are.
func magnitudePlainly(samples []float32) float32 {
	const sign = 1 << 31
	var m0, m1, m2, m3 uint32
	for ; len(samples) >= 4; samples = samples[4:] {
		m0 = max(m0, math.Float32bits(samples[0])&^sign)
		m1 = max(m1, math.Float32bits(samples[1])&^sign)
		m2 = max(m2, math.Float32bits(samples[2])&^sign)
		m3 = max(m3, math.Float32bits(samples[3])&^sign)
	}
	for _, x := range samples {
		m0 = max(m0, math.Float32bits(x)&^sign)
	}
	return math.Float32frombits(max(m0, m1, m2, m3))
}

// peakSums are what interpolatePlainly multiplies sums and differences by: of a pair of
// taps the half sum and half difference in either phase.
var peakSums = func() (sums [peakTaps / 2]struct{ even0, odd0, even1, odd1 float32 }) {
	half := func(h [peakTaps]float32, k int, sign float32) float32 { return (h[k] + sign*h[peakTaps-1-k]) / 2 }
	for k := range sums {
		sums[k].even0, sums[k].odd0 = half(peakPhases[0], k, 1), half(peakPhases[0], k, -1)
		sums[k].even1, sums[k].odd1 = half(peakPhases[1], k, 1), half(peakPhases[1], k, -1)
	}
	return sums
}()

// interpolatePlainly returns the largest magnitude that the filter gives on the
// samples. Since two phases are the other two backwards, each pair comes from
// the sums and the differences of samples at equal distance from the middle:
// with S = Σ (h[k]+h[11−k])·(x[k]+x[11−k]) and D = Σ (h[k]−h[11−k])·(x[k]−x[11−k])
// over k < 6, a phase and its mirror are (S+D)/2 and (S−D)/2, and the larger
// magnitude is (|S|+|D|)/2.
func interpolatePlainly(samples []float32) float32 {
	largest := uint32(0) // a float without sign, as in magnitude
	for ; len(samples) >= peakTaps; samples = samples[1:] {
		x := (*[peakTaps]float32)(samples)
		var s0, d0, s1, d1 float32
		for k := range peakTaps / 2 {
			s, d, of := x[k]+x[peakTaps-1-k], x[k]-x[peakTaps-1-k], &peakSums[k]
			s0 += float32(of.even0 * s)
			d0 += float32(of.odd0 * d)
			s1 += float32(of.even1 * s)
			d1 += float32(of.odd1 * d)
		}
		largest = max(largest,
			math.Float32bits(unsigned(s0)+unsigned(d0)),
			math.Float32bits(unsigned(s1)+unsigned(d1)))
	}
	return math.Float32frombits(largest)
}
