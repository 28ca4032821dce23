package audiofile

import "golang.org/x/sys/cpu"

// makeNoise is makeNoisePlainly, four lanes at a time.
func makeNoise(noise []uint64, lanes *[noiseLanes]uint64) {
	if cpu.X86.HasAVX2 {
		noiseAVX2(noise[:len(noise)&^(noiseLanes-1)], lanes)
	} else {
		makeNoisePlainly(noise, lanes)
	}
}

// dither is ditherPlainly, eight frames at a time, and what is left of them one by one.
// Assembly knows no bounds, so they are checked here.
func dither(pcm []byte, left, right []float32, gain float32, noise []uint64) {
	n := len(noise)
	pcm, left, right = pcm[:4*n], left[:n], right[:n]
	n &^= 7
	if cpu.X86.HasAVX2 {
		ditherAVX2(pcm, left, right, noise[:n], steps16*gain)
	} else {
		n = 0
	}
	ditherPlainly(pcm[4*n:], left[n:], right[n:], gain, noise[n:])
}

//go:noescape
func noiseAVX2(noise []uint64, lanes *[noiseLanes]uint64)

//go:noescape
func ditherAVX2(pcm []byte, left, right []float32, noise []uint64, scale float32)
