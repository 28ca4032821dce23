package mixing

import (
	"math/rand/v2"
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
		src := samples(t, "src", n)
		gain := rapid.Float32Range(-2, 2).Draw(t, "gain")
		beyond := rapid.IntRange(0, 3).Draw(t, "beyond")
		byKernel := append(samples(t, "dst", n), make([]float32, beyond)...)
		plainly := slices.Clone(byKernel)
		Add(byKernel, src, gain)
		addPlainly(plainly, src, gain)
		require.Equal(t, plainly, byKernel)
	})
}

// The same of what a finger ends, and of what is set in the image.
func TestOtherKernelsAreThePlainLoops(t *testing.T) {
	luck := rand.New(rand.NewPCG(3, 4))
	for n := range 70 {
		var s [6][]float32
		for i := range s {
			s[i] = make([]float32, n)
			for j := range s[i] {
				s[i][j] = luck.Float32() - 0.5
			}
		}
		want := slices.Clone(s[0])
		addDampedPlainly(want, s[1], s[2], 0.3)
		addDamped(s[0], s[1], s[2], 0.3)
		require.Equal(t, want, s[0])
		left, right := slices.Clone(s[3]), slices.Clone(s[4])
		spreadPlainly(left, right, s[5], 0.3, 0.7)
		Spread(s[3], s[4], s[5], 0.3, 0.7)
		require.Equal(t, [][]float32{left, right}, [][]float32{s[3], s[4]})
		placePlainly(left, right, s[5], 0.3, 0.7)
		Place(s[3], s[4], s[5], 0.3, 0.7)
		require.Equal(t, [][]float32{left, right}, [][]float32{s[3], s[4]})
		sumPlainly(want, s[1], s[2])
		Sum(s[0], s[1], s[2])
		require.Equal(t, want, s[0])
	}
}

// What is too short for the kernel is refused before anything is written.
func TestKernelStaysWithinItsSlices(t *testing.T) {
	var memory [32]float32
	src := slices.Repeat([]float32{1}, 17)
	require.Panics(t, func() { Add(memory[:16:16], src, 1) })
	require.Zero(t, memory)
}

func BenchmarkMixing(b *testing.B) {
	const length = 4096
	var s [4][]float32
	for i := range s {
		s[i] = make([]float32, length)
	}
	for name, loop := range map[string]func(){
		"add":       func() { Add(s[0], s[1], 0.5) },
		"add/plain": func() { addPlainly(s[0], s[1], 0.5) },
		"damp":      func() { addDamped(s[0], s[1], s[2], 0.5) },
		"spread":    func() { Spread(s[0], s[1], s[2], 0.5, 0.5) },
		"place":     func() { Place(s[0], s[1], s[2], 0.5, 0.5) },
		"sum":       func() { Sum(s[0], s[1], s[2]) },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				loop()
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/length, "ns/sample")
		})
	}
}
