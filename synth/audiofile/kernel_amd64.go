package audiofile

// makeNoise is makeNoisePlainly, two lanes at a time.
func makeNoise(noise []uint64, lanes *[noiseLanes]uint64) {
	noiseSSE2(noise[:len(noise)&^(noiseLanes-1)], lanes)
}

// dither is ditherPlainly, four frames at a time, and what is left of them one by one.
// Assembly knows no bounds, so they are checked here.
func dither(pcm []byte, left, right []float32, gain float32, noise []uint64) {
	n := len(noise)
	pcm, left, right = pcm[:4*n], left[:n], right[:n]
	n &^= 3
	ditherSSE2(pcm, left, right, noise[:n], steps16*gain)
	ditherPlainly(pcm[4*n:], left[n:], right[n:], gain, noise[n:])
}

//go:noescape
func noiseSSE2(noise []uint64, lanes *[noiseLanes]uint64)

//go:noescape
func ditherSSE2(pcm []byte, left, right []float32, noise []uint64, scale float32)
