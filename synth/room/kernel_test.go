package room

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A processor's kernel gives the same bits as the plain loop, sent sounds of any length.
func TestKernelIsThePlainLoop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		byKernel, plainly := New(Small, 44100), New(Small, 44100)
		seed := rapid.Uint64().Draw(t, "seed")
		luck := rand.New(rand.NewPCG(seed, 0))
		byKernel.net.level, plainly.net.level = 0.5, 0.5
		for range 40 {
			n := byKernel.net.reachable(rapid.IntRange(0, 300).Draw(t, "frames"))
			sound, left, right := make([]float32, n), make([]float32, n), make([]float32, n)
			for i := range sound {
				sound[i] = luck.Float32() - 0.5
			}
			l, r := slices.Clone(left), slices.Clone(right)
			byKernel.net.answer(left, right, sound)
			plainly.net.answerPlainly(l, r, sound)
			require.Equal(t, l, left)
			require.Equal(t, r, right)
		}
		require.Equal(t, plainly.net, byKernel.net)
	})
}
