package audiofile

// Quantise returns a writer that makes samples, times a gain, whole steps of a depth in
// bits, 16 or 24, and hands them on. A step is 2^(1−depth); what is beyond the range from
// −1 to one step below 1 is held to the nearest limit.
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
func Quantise(depth int, gain float32, next Writer) Writer {
	return &quantiser{depth: depth, gain: gain, next: next}
}

// blockFrames is how many frames are worked on at once: two channels of them stay in
// the processor's nearest cache.
const blockFrames = 1024

type quantiser struct {
	depth       int
	gain        float32
	next        Writer
	frame       uint64 // number of the next frame
	noise       [blockFrames]uint64
	left, right [blockFrames]float32
}

func (q *quantiser) Write(left, right []float32) error {
	for len(left) > 0 {
		n := min(len(left), blockFrames)
		if q.depth == 16 {
			for i := range q.noise[:n] {
				q.noise[i] = random(q.frame + uint64(i))
			}
			dither(q.left[:n], q.right[:n], left[:n], right[:n], q.gain, q.noise[:n])
		} else {
			round24(q.left[:n], left, q.gain)
			round24(q.right[:n], right, q.gain)
		}
		q.frame += uint64(n)
		if err := q.next.Write(q.left[:n], q.right[:n]); err != nil {
			return err
		}
		left, right = left[n:], right[n:]
	}
	return nil
}

// stepsOf fills steps with whole numbers for samples that are whole steps of a depth.
func stepsOf(steps []int32, samples []float32, depth int) {
	scale := float32(int(1) << (depth - 1))
	steps = steps[:len(samples)]
	for i, x := range samples {
		steps[i] = int32(x * scale)
	}
}

// round24 fills steps with the nearest of 24 bits for samples times a gain.
func round24(steps, samples []float32, gain float32) {
	const half, step = 1 << 7, 1.0 / (1 << 23)
	scale := gain * (1 << (23 + 8))
	for i, x := range samples[:len(steps)] {
		x *= scale
		s := (int64(x) + half) >> 8
		if s != s<<40>>40 {
			s = held(x, 1<<23)
		}
		steps[i] = float32(s) * step
	}
}

// held returns the step for a sample that is out of the range −size to
// size−1, or so far out that its fixed-point number has overflowed.
func held(sample float32, size int64) int64 {
	if sample < 0 {
		return -size
	}
	return size - 1
}

// random returns the n-th number of a sequence of uniform 64-bit numbers, that of the
// SplitMix generator (G. Steele, D. Lea, C. Flood, Fast Splittable Pseudorandom Number
// Generators, OOPSLA 2014; its constants).
func random(n uint64) uint64 {
	n *= 0x9e3779b97f4a7c15
	n = (n ^ n>>30) * 0xbf58476d1ce4e5b9
	n = (n ^ n>>27) * 0x94d049bb133111eb
	return n ^ n>>31
}
