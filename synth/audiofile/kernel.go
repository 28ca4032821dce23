package audiofile

import "encoding/binary"

// The loops through which every sample of a file passes have kernels where the processor
// is an amd64 with AVX2: the same results, eight frames at a time. What stands here is
// what they do, and what other processors run.

// noiseLanes is how many generators of noise take turns, so that a processor need not
// wait for any of them.
const noiseLanes = 8

// makeNoisePlainly fills noise, the length of which is a multiple of noiseLanes, with
// uniform numbers of 64 bits. Each lane is an xorshift generator (G. Marsaglia, Xorshift
// RNGs, Journal of Statistical Software 8 (2003); its triple 13, 7, 17): all of its bits
// together take every value but 0.
func makeNoisePlainly(noise []uint64, lanes *[noiseLanes]uint64) {
	for ; len(noise) >= noiseLanes; noise = noise[noiseLanes:] {
		for i, x := range lanes {
			x ^= x << 13
			x ^= x >> 7
			x ^= x << 17
			lanes[i], noise[i] = x, x
		}
	}
}

// ditherPlainly fills PCM with whole steps of 16 bits for samples times a gain. Of a
// frame's number of noise each channel has two uniform numbers of 16 bits, whose
// difference is the dither.
func ditherPlainly(pcm []byte, left, right []float32, gain float32, noise []uint64) {
	n, scale := len(noise), steps16*gain
	left, right = left[:n], right[:n]
	for i, x := range noise {
		if len(pcm) < 4 {
			return
		}
		l := dithered(float32(left[i]*scale), int32(int16(x))-int32(int16(x>>16)))
		r := dithered(float32(right[i]*scale), int32(int16(x>>32))-int32(int16(x>>48)))
		binary.LittleEndian.PutUint32(pcm, uint32(uint16(l))|uint32(r)<<16)
		pcm = pcm[4:]
	}
}

// steps16 is the steps of 16 bits in 1.
const steps16 = 1 << 15

// dithered returns the whole step of 16 bits for a number of steps and its dither, which
// is counted in parts of 1/65536.
func dithered(x float32, dither int32) int32 {
	const size, part = steps16, 1.0 / (1 << 16)
	if x > 2*size {
		x = 2 * size
	} else if x < -2*size {
		x = -2 * size
	}
	// Beside so large a number there is no room for parts of a step: it is rounded to the
	// nearest, a half to the even one.
	const large = 3 << 22
	step := float32(float32(x+float32(dither)*part)+large) - large
	if step > size-1 {
		step = size - 1
	} else if step < -size {
		step = -size
	}
	return int32(step)
}
