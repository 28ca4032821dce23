package synth

import "math/bits"

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
	frame uint64 // number of the next frame
}

// quantise fills the two slices of steps, which are as long as the slices of
// samples.
func (q *quantiser) quantise(stepsLeft, stepsRight []int32, left, right []float32) {
	if q.depth == 16 {
		dither16(stepsLeft, stepsRight, left, right, q.frame)
	} else {
		round24(stepsLeft, left)
		round24(stepsRight, right)
	}
	q.frame += uint64(len(left))
}

// dither16 works in fixed point with 16 bits below the step: one random number
// a frame gives each channel two uniform numbers of 16 bits, whose difference
// is the dither.
func dither16(stepsLeft, stepsRight []int32, left, right []float32, frame uint64) {
	n := len(left)
	right, stepsLeft, stepsRight = right[:n], stepsLeft[:n], stepsRight[:n]
	const scale, half = 1 << (15 + 16), 1 << 15
	for i, x := range left {
		y := right[i]
		r := random(frame + uint64(i))
		l := (int64(x*scale) + int64(r&0xffff) - int64(r>>16&0xffff) + half) >> 16
		if l != int64(int16(l)) {
			l = limit(x, 1<<15)
		}
		stepsLeft[i] = int32(l)
		l = (int64(y*scale) + int64(r>>32&0xffff) - int64(r>>48) + half) >> 16
		if l != int64(int16(l)) {
			l = limit(y, 1<<15)
		}
		stepsRight[i] = int32(l)
	}
}

func round24(steps []int32, samples []float32) {
	steps = steps[:len(samples)]
	const scale, half = 1 << (23 + 8), 1 << 7
	for i, x := range samples {
		s := (int64(x*scale) + half) >> 8
		if s != s<<40>>40 {
			s = limit(x, 1<<23)
		}
		steps[i] = int32(s)
	}
}

// limit returns the step for a sample that is out of the range −size to
// size−1, or so far out that its fixed-point number has overflowed.
func limit(sample float32, size int64) int64 {
	if sample < 0 {
		return -size
	}
	return size - 1
}

// random returns the n-th number of a sequence of uniform 64-bit numbers, that
// of the wyrand generator (Wang Yi, wyhash, public domain; its constants).
func random(n uint64) uint64 {
	n *= 0xa0761d6478bd642f
	high, low := bits.Mul64(n, n^0xe7037ed1a0b428db)
	return high ^ low
}
