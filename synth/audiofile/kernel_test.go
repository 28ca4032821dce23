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
		var steps, want [2][]float32
		for i := range steps {
			steps[i], want[i] = make([]float32, n), make([]float32, n)
		}
		gain := rapid.Float32Range(0.1, 4).Draw(t, "gain")
		dither(steps[0], steps[1], left, right, gain, noise)
		ditherPlainly(want[0], want[1], left, right, gain, noise)
		require.Equal(t, want, steps)

		pcm, packed := make([]byte, 4*n), make([]byte, 4*n)
		pack(pcm, steps[0], steps[1])
		packPlainly(packed, steps[0], steps[1])
		require.Equal(t, packed, pcm)
	})
}

// What is too short for a kernel is refused before anything is written.
func TestKernelsStayWithinTheirSlices(t *testing.T) {
	var memory [32]float32
	samples, noise := make([]float32, 17), make([]uint64, 17)
	require.Panics(t, func() { dither(memory[:16:16], memory[:], samples, samples, 1, noise) })
	require.Panics(t, func() { pack(make([]byte, 67), samples, samples) })
	require.Zero(t, memory)
}
