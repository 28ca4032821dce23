package room

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/synth/soundtest"
)

// answered is what the small room answers to one sample.
func answered(rate int) (left, right []float32) {
	sound := make([]float32, 2*rate)
	sound[0] = 1
	left, right = make([]float32, len(sound)), make([]float32, len(sound))
	New(Small, rate).Add(left, right, sound)
	return left, right
}

func energy(samples []float32) float64 {
	sum := 0.0
	for _, x := range samples {
		sum += float64(x) * float64(x)
	}
	return sum
}

func decibels(power float64) float64 { return 10 * math.Log10(power) }

// The decay is that of M. Schroeder's backward integration (New Method of Measuring
// Reverberation Time, JASA 37 (1965)), from −5 to −35 dB as in ISO 3382.
func TestRoomIsDiffuseAndSmall(t *testing.T) {
	for _, rate := range []int{44100, 48000} {
		left, right := answered(rate)
		assert.InDelta(t, -20, decibels(energy(left)+energy(right)), 1)
		for _, side := range [][]float32{left, right} {
			total := energy(side)
			reaches := func(level float64) float64 {
				left := total
				for i, x := range side {
					if decibels(left/total) < level {
						return float64(i) / float64(rate)
					}
					left -= float64(x) * float64(x)
				}
				return math.Inf(1)
			}
			seconds := 2 * (reaches(-35) - reaches(-5))
			assert.Greater(t, seconds, 0.3)
			assert.Less(t, seconds, 0.5)
			// After 60 ms more than a thousand echoes a second: hardly a sample is silent.
			heard := 0
			for _, x := range side[rate*60/1000 : rate*160/1000] {
				if math.Abs(float64(x)) > 1e-5 {
					heard++
				}
			}
			assert.Greater(t, heard, 1000/10*3)
			// It dies away.
			assert.Less(t, energy(side[Small.Reach(rate):]), 1e-12)
		}
		// The sides differ, and their sum keeps their energy: mono loses nothing.
		product, both := 0.0, 0.0
		for i, l := range left {
			product += float64(l) * float64(right[i])
			both += float64(l+right[i]) * float64(l+right[i])
		}
		assert.Less(t, math.Abs(product)/math.Sqrt(energy(left)*energy(right)), 0.3)
		assert.InDelta(t, 0, decibels(both/(energy(left)+energy(right))), 1)
	}
}

func TestAnswersDoNotDependOnBlocks(t *testing.T) {
	sound, _ := soundtest.Noise(5000)
	for _, rate := range []int{44100, 48000} {
		answers := func(block int) (left, right []float32) {
			left, right = make([]float32, len(sound)), make([]float32, len(sound))
			r := New(Small, rate)
			for from := 0; from < len(sound); from += block {
				end := min(from+block, len(sound))
				r.Add(left[from:end], right[from:end], sound[from:end])
			}
			return left, right
		}
		left, right := answers(1)
		for _, block := range []int{3, 8, 100, 256, 1000, 4096, 5000} {
			l, r := answers(block)
			assert.Equal(t, left, l, "left in blocks of %d", block)
			assert.Equal(t, right, r, "right in blocks of %d", block)
		}
	}
}

// Where nothing sounds the room answers as it does to silence, and in the end not at all.
func TestARoomRingsOnAndFallsSilent(t *testing.T) {
	const block = 1000
	sound, _ := soundtest.Noise(block)
	var silence, left, right, l, r [block]float32
	ringing, told := New(Small, 44100), New(Small, 44100)
	ringing.Add(left[:], right[:], sound)
	told.Add(l[:], r[:], sound)
	for range Small.Reach(44100) / block {
		clear(left[:])
		clear(right[:])
		l, r = left, right
		assert.True(t, ringing.RingOn(left[:], right[:]))
		told.Add(l[:], r[:], silence[:])
		assert.Equal(t, [][block]float32{l, r}, [][block]float32{left, right})
	}
	for frames := 0; ringing.RingOn(left[:], right[:]); frames += block {
		require.Less(t, frames, 2*Small.Reach(44100))
	}
	clear(left[:])
	clear(right[:])
	ringing.Add(left[:], right[:], silence[:])
	assert.Equal(t, [2][block]float32{}, [2][block]float32{left, right}, "nothing is left")
}

func BenchmarkRoom(b *testing.B) {
	const block = 4096
	r := New(Small, 44100)
	sound, _ := soundtest.Noise(block)
	var left, right [block]float32
	for b.Loop() {
		r.Add(left[:], right[:], sound)
	}
	soundtest.PerFrame(b, block)
}
