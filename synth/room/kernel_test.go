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
		byKernel.net.level, plainly.net.level = fourTimes(0.5), fourTimes(0.5)
		for range 20 {
			n := rapid.IntRange(0, 100).Draw(t, "frames")
			sound, left, right := make([]float32, n), make([]float32, n), make([]float32, n)
			for i := range sound {
				sound[i] = luck.Float32() - 0.5
			}
			l, r := slices.Clone(left), slices.Clone(right)
			rooms := [2]*Room{byKernel, plainly}
			for i := range rooms {
				n = min(n, rooms[i].next(n))
			}
			rooms[0].net.answer(left[:n], right[:n], sound[:n])
			rooms[1].net.answerPlainly(l[:n], r[:n], sound[:n])
			require.Equal(t, l, left)
			require.Equal(t, r, right)
		}
		for i := range lines {
			require.Equal(t, plainly.lines[i].memory, byKernel.lines[i].memory)
		}
	})
}
