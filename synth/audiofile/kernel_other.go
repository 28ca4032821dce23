//go:build !amd64

package audiofile

func makeNoise(noise []uint64, lanes *[noiseLanes]uint64) { makeNoisePlainly(noise, lanes) }

func dither(pcm []byte, left, right []float32, gain float32, noise []uint64) {
	ditherPlainly(pcm, left, right, gain, noise)
}
