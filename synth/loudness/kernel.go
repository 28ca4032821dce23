package loudness

import "math"

// The loops in which the meters spend their time have kernels where the processor is an
// amd64 with AVX2: the same sums in the same order, on four or eight numbers at once. What
// stands here is what they do, and what other processors run.
//
// The conversions keep processors that could from rounding product and sum in one.

// group is the number of frames that are K-weighted at once.
const group = 4

// quad is a number for each frame of a group.
type quad [group]float64

// kFactors are the factors of K-weighting, the same for both sides: of each sample of a
// group, in what comes of this group and of the next one, and of each result of the
// group before.
type kFactors struct{ now, later, back [group]quad }

// kState is what K-weighting remembers of each side: the share of the samples so far in
// the group to come, and the results of the group before.
type kState struct{ share, result [2]quad }

// weighPlainly K-weights the samples of both sides, whole groups of the same length,
// and returns the sums of their squares, both sides together: of the first frames of all
// groups, the second, the third and the fourth.
func weighPlainly(left, right []float32, f *kFactors, k *kState) (sums quad) {
	right = right[:len(left)]
	for ; len(left) >= group && len(right) >= group; left, right = left[group:], right[group:] {
		a, b := weighGroup((*[group]float32)(left), f, &k.share[0], &k.result[0]), weighGroup((*[group]float32)(right), f, &k.share[1], &k.result[1])
		for i := range sums {
			sums[i] += float64(a[i]*a[i]) + float64(b[i]*b[i])
		}
	}
	return sums
}

// weighGroup K-weights a group of one side.
func weighGroup(samples *[group]float32, f *kFactors, share, result *quad) quad {
	x0, x1, x2, x3 := float64(samples[0]), float64(samples[1]), float64(samples[2]), float64(samples[3])
	y0, y1, y2, y3 := result[0], result[1], result[2], result[3]
	for i := range group {
		x := share[i] + float64(f.now[0][i]*x0) + float64(f.now[1][i]*x1) + float64(f.now[2][i]*x2) + float64(f.now[3][i]*x3)
		y := (float64(f.back[3][i]*y3) + float64(f.back[2][i]*y2)) + (float64(f.back[1][i]*y1) + float64(f.back[0][i]*y0))
		result[i] = x + y
		share[i] = float64(f.later[0][i]*x0) + float64(f.later[1][i]*x1) + float64(f.later[2][i]*x2) + float64(f.later[3][i]*x3)
	}
	return *result
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
