package synth

import "math"

// quantiser turns samples of full scale ±1 into whole steps of a depth in
// bits. A sample x becomes x·2^(depth−1), so that a reader who divides by that
// number gets x again; what is beyond the range, +1 among it, is held to the
// nearest limit.
//
// At 16 bits the steps are dithered with noise of triangular distribution,
// two steps wide, independent in each channel and each frame: the error is
// then noise of constant power whatever the signal does (S. Lipshitz,
// R. Wannamaker, J. Vanderkooy, Quantization and Dither: A Theoretical Survey,
// J. Audio Eng. Soc. 40 (1992)). At 24 bits samples are rounded: the error lies
// near −146 dBFS, below the noise of any converter, and a float32 near full
// scale has no finer steps than these.
//
// The noise of a frame depends on its number alone. The same samples give the
// same steps, in blocks of any size.
type quantiser struct {
	depth int
	frame uint64 // number of the next frame, times weyl
}

// weyl and the multipliers in mix are those of the splitmix64 generator
// (G. Steele, D. Lea, C. Flood, Fast Splittable Pseudorandom Number
// Generators, OOPSLA 2014).
const weyl = 0x9e3779b97f4a7c15

func mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// quantise fills the two slices of steps, which are as long as the slices of
// samples.
func (q *quantiser) quantise(stepsLeft, stepsRight []int32, left, right []float32) {
	if q.depth == 16 {
		q.frame = dither16(stepsLeft, stepsRight, left, right, q.frame)
		return
	}
	round24(stepsLeft, left)
	round24(stepsRight, right)
}

// dither16 works in fixed point with 16 bits below the step: one 64-bit random
// number a frame gives each channel two uniform numbers of 16 bits, whose
// difference is the dither.
func dither16(stepsLeft, stepsRight []int32, left, right []float32, frame uint64) uint64 {
	n := len(left)
	right, stepsLeft, stepsRight = right[:n], stepsLeft[:n], stepsRight[:n]
	const scale, half = 1 << (15 + 16), 1 << 15
	for i, x := range left {
		frame += weyl
		r := mix(frame)
		l := int64(limited(x)*scale) + int64(r&0xffff) - int64(r>>16&0xffff) + half
		stepsLeft[i] = int32(min(max(l>>16, math.MinInt16), math.MaxInt16))
		l = int64(limited(right[i])*scale) + int64(r>>32&0xffff) - int64(r>>48) + half
		stepsRight[i] = int32(min(max(l>>16, math.MinInt16), math.MaxInt16))
	}
	return frame
}

func round24(steps []int32, samples []float32) {
	steps = steps[:len(samples)]
	const scale, half = 1 << (23 + 8), 1 << 7
	for i, x := range samples {
		s := (int64(limited(x)*scale) + half) >> 8
		steps[i] = int32(min(max(s, -1<<23), 1<<23-1))
	}
}

// limited returns x held between −2 and 2, beyond which a whole number could
// overflow before it is held to full scale.
func limited(x float32) float32 {
	if x > 2 {
		return 2
	}
	if x < -2 {
		return -2
	}
	return x
}
