package audiofile

import (
	"io"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"thirdwise/synth/soundtest"
)

// moments returns mean and variance.
func moments(x []float64) (mean, variance float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		variance += (v - mean) * (v - mean) / float64(len(x))
	}
	return mean, variance
}

func correlation(x, y []float64) float64 {
	mx, vx := moments(x)
	my, vy := moments(y)
	sum := 0.0
	for i := range x {
		sum += (x[i] - mx) * (y[i] - my) / float64(len(x))
	}
	return sum / math.Sqrt(vx*vy)
}

// Lipshitz, Wannamaker and Vanderkooy 1992: with triangular dither two steps
// wide the error of quantising has mean 0 and variance 1/4 step² whatever the
// signal: 1/6 of the dither and 1/12 of the rounding.
func TestDitherMakesTheErrorNoiseOfConstantPower(t *testing.T) {
	const frames = 1 << 18
	for _, level := range []float64{0, 0.25, 0.5, 0.9, -0.3, 1000.1} { // steps
		left, right := make([]float32, frames), make([]float32, frames)
		x := float32(level / (1 << 15))
		for i := range left {
			left[i], right[i] = x, x
		}
		out := stepsFor(16, left, right)
		var l, r []float64
		for i := 0; i < len(out); i += 2 {
			l = append(l, float64(out[i])-float64(x)*(1<<15))
			r = append(r, float64(out[i+1])-float64(x)*(1<<15))
		}
		for _, e := range [][]float64{l, r} {
			mean, variance := moments(e)
			assert.InDelta(t, 0, mean, 0.005, "mean at %v steps", level) // five standard errors
			assert.InDelta(t, 0.25, variance, 0.005, "variance at %v steps", level)
		}
		for later := range 70 {
			for name, other := range map[string][]float64{"left": l, "right": r} {
				if later > 0 || name == "right" {
					shifted := append(other[later:len(l):len(l)], other[:later]...)
					assert.InDelta(t, 0, correlation(l, shifted), 0.01, "left with %s %d frames later at %v steps", name, later, level)
				}
			}
		}
	}
}

// Triangular dither two steps wide moves silence by a step up or down one time in eight
// each, which follows from its distribution, and never further.
func TestDitherOfSilenceIsTriangular(t *testing.T) {
	const frames = 1 << 18
	counts := make(map[int]float64)
	for _, step := range stepsFor(16, make([]float32, frames), make([]float32, frames)) {
		counts[step] += 1.0 / (2 * frames)
	}
	assert.Len(t, counts, 3)
	for step, want := range map[int]float64{-1: 1. / 8, 0: 3. / 4, 1: 1. / 8} {
		assert.InDelta(t, want, counts[step], 0.003, "a step of %d", step) // five standard errors
	}
}

func TestStepsDoNotDependOnBlocks(t *testing.T) {
	left, right := ramps(3000)
	for _, depth := range []int{16, 24} {
		want := encode(t, Format{Depth: depth}, Tags{}, left, right, 3000)
		rapid.Check(t, func(rt *rapid.T) {
			block := rapid.IntRange(1, 3000).Draw(rt, "block")
			assert.Equal(rt, want, encode(t, Format{Depth: depth}, Tags{}, left, right, block))
		})
	}
}

// 24-bit steps are nearest to the sample: half a step at most away.
func TestTwentyFourBitsAreRounded(t *testing.T) {
	left, right := ramps(10_001)
	for i, s := range stepsFor(24, left[1:], right[1:]) {
		want := float64(left[1+i/2]) * (1 << 23)
		if i%2 == 1 {
			want = float64(right[1+i/2]) * (1 << 23)
		}
		assert.InDelta(t, want, float64(s), 0.5)
	}
}

func TestSamplesBeyondFullScaleAreHeldToIt(t *testing.T) {
	beyond := []float32{1, 1.5, 1000, float32(math.Inf(1)), -1.5, -1000, float32(math.Inf(-1))}
	for depth, limit := range map[int]int{16: 1 << 15, 24: 1 << 23} {
		got := stepsFor(depth, beyond, beyond)
		for i, s := range got {
			want := limit - 1
			if beyond[i/2] < 0 {
				want = -limit
			}
			assert.InDelta(t, want, s, 1, "%v at %d bits", beyond[i/2], depth)
		}
	}
}

func BenchmarkQuantise(b *testing.B) {
	const frames = blockFrames
	left, right := soundtest.Noise(frames)
	for name, depth := range map[string]int{"16-bit": 16, "24-bit": 24} {
		b.Run(name, func(b *testing.B) {
			q := Quantise(depth, 1, io.Discard)
			b.SetBytes(frames * 2 * int64(depth) / 8)
			for b.Loop() {
				_ = q.Write(left, right)
			}
			soundtest.PerFrame(b, frames)
		})
	}
}
