package loudness

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A processor's kernel gives the same bits as the plain loop, at any length and
// from any address.
func TestKernelIsThePlainLoop(t *testing.T) {
	samples := func(t *rapid.T, name string, n int) []float32 {
		off := rapid.IntRange(0, 3).Draw(t, name+" offset")
		s := make([]float32, off+n)[off:]
		for i := range s {
			s[i] = rapid.Float32Range(-1, 1).Draw(t, name)
		}
		return s
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 70).Draw(t, "frames")
		left, right := samples(t, "left", n), samples(t, "right", n)
		factors := NewMeter(rapid.SampledFrom([]int{44100, 48000}).Draw(t, "rate")).factors
		var one, other kState
		for range 2 {
			require.Equal(t, weighPlainly(left, right, &factors, &other), weigh(left, right, &factors, &one))
			require.Equal(t, other, one)
		}
	})
}

// What is too short for the kernel is refused before anything is read.
func TestKernelStaysWithinItsSlices(t *testing.T) {
	var memory [32]float32
	src := slices.Repeat([]float32{1}, 20)
	require.Panics(t, func() { weigh(src, memory[:16:16], new(kFactors), new(kState)) })
}

// The largest magnitude, of the samples and between them, is that of the plain loops.
func TestPeaksKernelsAreThePlainLoops(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		samples := make([]float32, rapid.IntRange(0, 80).Draw(t, "samples"))
		for i := range samples {
			samples[i] = rapid.Float32Range(-2, 2).Draw(t, "sample")
		}
		require.Equal(t, magnitudePlainly(samples), magnitude(samples))
		require.Equal(t, interpolatePlainly(samples), interpolated(samples))
	})
}
