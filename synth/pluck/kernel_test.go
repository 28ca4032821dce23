package pluck

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A processor's kernel gives the same bits as the plain loop, and leaves the same behind.
func TestKernelIsThePlainLoop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var oscillators []oscillator
		for range width {
			m := mode{frequency: rapid.Float64Range(20, 20000).Draw(t, "Hz"), decay: rapid.Float64Range(0, 200).Draw(t, "decay")}
			state := complex(rapid.Float64Range(-1, 1).Draw(t, "real"), rapid.Float64Range(-1, 1).Draw(t, "imaginary"))
			oscillators = append(oscillators, oscillate(state, m.pole(), 44100))
		}
		byKernel := banksOf(oscillators)[0]
		plainly := byKernel
		dst := make([]float64, 2*stride*rapid.IntRange(0, 20).Draw(t, "strides"))
		for i := range dst {
			dst[i] = rapid.Float64Range(-1, 1).Draw(t, "dst")
		}
		want := slices.Clone(dst)
		byKernel.ring(dst)
		plainly.ringPlainly(want)
		require.Equal(t, want, dst)
		require.Equal(t, plainly, byKernel)
	})
}
