//go:build !amd64

package audiofile

func dither(stepsLeft, stepsRight, left, right []float32, gain float32, noise []uint64) {
	ditherPlainly(stepsLeft, stepsRight, left, right, gain, noise)
}

func pack(pcm []byte, left, right []float32) { packPlainly(pcm, left, right) }
