package audiofile

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A processor's kernels give the same bits as the plain loops, at any length.
func TestKernelsAreThePlainLoops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 70).Draw(t, "frames")
		samples := func(name string) []float32 {
			s := make([]float32, n)
			for i := range s {
				s[i] = rapid.Float32Range(-3, 3).Draw(t, name)
				if rapid.Bool().Draw(t, name+" is quiet") {
					s[i] /= 1 << 16
				}
			}
			return s
		}
		left, right, noise := samples("left"), samples("right"), make([]uint64, n)
		for i := range noise {
			noise[i] = rapid.Uint64().Draw(t, "noise")
		}
		gain := rapid.Float32Range(0.1, 4).Draw(t, "gain")
		pcm, want := make([]byte, 4*n), make([]byte, 4*n)
		dither(pcm, left, right, gain, noise)
		ditherPlainly(want, left, right, gain, noise)
		require.Equal(t, want, pcm)
	})
}

func TestTheKernelMakesTheSameNoise(t *testing.T) {
	noise, want := make([]uint64, 64), make([]uint64, 64)
	lanes := [noiseLanes]uint64{1, 2, 3, 4, 5, 6, 7, 1 << 63}
	other := lanes
	makeNoise(noise, &lanes)
	makeNoisePlainly(want, &other)
	require.Equal(t, want, noise)
	require.Equal(t, other, lanes)
}

// What is too short for a kernel is refused before anything is written.
func TestKernelsStayWithinTheirSlices(t *testing.T) {
	var memory [68]byte
	samples, noise := make([]float32, 17), make([]uint64, 17)
	require.Panics(t, func() { dither(memory[:67:67], samples, samples, 1, noise) })
	require.Panics(t, func() { dither(memory[:], samples, samples[:16:16], 1, noise) })
	require.Zero(t, memory)
}
