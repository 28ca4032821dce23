package audiofile

import "encoding/binary"

// The loops through which every sample of a file passes have kernels where the processor
// is an amd64: the same results, four frames at a time, with SSE2, which every amd64
// has. What stands here is what they do, and what other processors run.

// ditherPlainly fills the two slices of steps with whole steps of 16 bits for samples
// times a gain. Of a frame's number of noise each channel has two uniform numbers of 16
// bits, whose difference is the dither.
func ditherPlainly(stepsLeft, stepsRight, left, right []float32, gain float32, noise []uint64) {
	n, scale := len(noise), steps16*gain
	left, right, stepsLeft, stepsRight = left[:n], right[:n], stepsLeft[:n], stepsRight[:n]
	for i, r := range noise {
		stepsLeft[i] = dithered(float32(left[i]*scale), int32(int16(r))-int32(int16(r>>16)))
		stepsRight[i] = dithered(float32(right[i]*scale), int32(int16(r>>32))-int32(int16(r>>48)))
	}
}

// steps16 is the steps of 16 bits in 1.
const steps16 = 1 << 15

// dithered returns the whole step of 16 bits for a number of steps and its dither, which
// is counted in parts of 1/65536.
func dithered(x float32, dither int32) float32 {
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
	return step * (1.0 / size)
}

// packPlainly interleaves two channels of whole steps into little-endian samples of 16
// bits.
func packPlainly(pcm []byte, left, right []float32) {
	const size = 1 << 15
	right = right[:len(left)]
	for i, l := range left {
		if len(pcm) < 4 {
			return
		}
		binary.LittleEndian.PutUint32(pcm, uint32(uint16(int32(l*size)))|uint32(int32(right[i]*size))<<16)
		pcm = pcm[4:]
	}
}
