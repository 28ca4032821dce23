package audiofile

// dither is ditherPlainly, four frames at a time, and what is left of them one by one.
// Assembly knows no bounds, so they are checked here.
func dither(stepsLeft, stepsRight, left, right []float32, gain float32, noise []uint64) {
	n := len(noise)
	stepsLeft, stepsRight, left, right = stepsLeft[:n], stepsRight[:n], left[:n], right[:n]
	n &^= 3
	ditherSSE2(stepsLeft, stepsRight, left, right, noise[:n], steps16*gain)
	ditherPlainly(stepsLeft[n:], stepsRight[n:], left[n:], right[n:], gain, noise[n:])
}

// pack is packPlainly likewise.
func pack(pcm []byte, left, right []float32) {
	pcm, right = pcm[:4*len(left)], right[:len(left)]
	n := len(left) &^ 3
	packSSE2(pcm, left[:n], right)
	packPlainly(pcm[4*n:], left[n:], right[n:])
}

//go:noescape
func ditherSSE2(stepsLeft, stepsRight, left, right []float32, noise []uint64, scale float32)

//go:noescape
func packSSE2(pcm []byte, left, right []float32)
