package soundtest

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Magnitude returns the largest magnitude among the samples, 0 if there are none.
func Magnitude(samples []float32) float32 {
	largest := float32(0)
	for _, x := range samples {
		largest = max(largest, x, -x)
	}
	return largest
}

// Noise returns white noise, different in both channels, of half full scale.
func Noise(frames int) (left, right []float32) {
	chance := rand.New(rand.NewPCG(1, 2))
	left, right = make([]float32, frames), make([]float32, frames)
	for i := range left {
		left[i], right[i] = chance.Float32()-0.5, chance.Float32()-0.5
	}
	return left, right
}

// Plucks returns a signal that decays again and again, as an exercise does.
func Plucks(frames int) (left, right []float32) {
	left, right = make([]float32, frames), make([]float32, frames)
	for i := range left {
		at := float64(i%22050) / 44100
		s := math.Exp(-5*at) * math.Sin(2*math.Pi*220*at)
		left[i], right[i] = float32(0.5*s), float32(0.4*s)
	}
	return left, right
}

// PerFrame reports the time of a stereo frame, and how many are done in a second.
func PerFrame(b *testing.B, frames int) {
	nanoseconds := float64(b.Elapsed().Nanoseconds()) / float64(b.N) / float64(frames)
	b.ReportMetric(nanoseconds, "ns/frame")
	b.ReportMetric(1e3/nanoseconds, "Mframes/s")
}
