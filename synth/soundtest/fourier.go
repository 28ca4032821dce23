// Package soundtest measures sound for the tests of synth and its rooms: a Fourier
// transform of its own, and signals that are known.
package soundtest

import (
	"math"
	"math/cmplx"
)

// taper is a Kaiser window, β = 20: its side lobes lie 150 dB down, and its main
// lobe is 13 bins wide (from memory; the tests below would fail if it were not
// so).
func taper(n int) []float64 {
	const beta = 20
	window := make([]float64, n)
	for i := range window {
		x := 2*float64(i)/float64(n-1) - 1
		window[i] = bessel0(beta*math.Sqrt(1-x*x)) / bessel0(beta)
	}
	return window
}

// bessel0 is the modified Bessel function of order 0, by its series.
func bessel0(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > 1e-17*sum; k++ {
		term *= x * x / (4 * k * k)
		sum += term
	}
	return sum
}

// component returns the complex amplitude of the signal's partial at a frequency,
// seen through the window: the Fourier transform at one frequency, with the phase
// counted from the signal's first sample.
func component(signal []float32, window []float64, hertz, rate float64) complex128 {
	var sum complex128
	total := 0.0
	turn := cmplx.Rect(1, -2*math.Pi*hertz/rate)
	phase := complex(1, 0)
	for i, w := range window {
		sum += complex(w*float64(signal[i]), 0) * phase
		total += w
		phase *= turn
	}
	return sum * complex(2/total, 0)
}

// A Reading is what a Fourier transform says of a partial: its frequency, its decay
// in 1/s and its amplitude.
type Reading struct{ Hertz, Decay, Amplitude float64 }

// Read measures the partial near a frequency through two windows, of frames each,
// at some distance: the turn between them gives the frequency, the fall the decay.
func Read(signal []float32, near, rate float64, frames, distance int) Reading {
	window := taper(frames)
	a := component(signal, window, near, rate)
	b := component(signal[distance:], window, near, rate)
	seconds := float64(distance) / rate
	turn := math.Remainder(cmplx.Phase(b/a)-2*math.Pi*near*seconds, 2*math.Pi)
	return Reading{
		Hertz:     near + turn/(2*math.Pi*seconds),
		Decay:     math.Log(cmplx.Abs(a)/cmplx.Abs(b)) / seconds,
		Amplitude: cmplx.Abs(a),
	}
}

// Spectrum returns the amplitude of each bin of the windowed signal, its length a
// power of two: a sine of amplitude 1 reads 1.
func Spectrum(signal []float32) []float64 {
	window := taper(len(signal))
	total := 0.0
	x := make([]complex128, len(signal))
	for i, w := range window {
		x[i] = complex(w*float64(signal[i]), 0)
		total += w
	}
	transform(x)
	bins := make([]float64, len(x)/2)
	for i := range bins {
		bins[i] = 2 * cmplx.Abs(x[i]) / total
	}
	return bins
}

// transform is the fast Fourier transform of Cooley and Tukey, in place.
func transform(x []complex128) {
	n := len(x)
	if n == 1 {
		return
	}
	even, odd := make([]complex128, n/2), make([]complex128, n/2)
	for i := range even {
		even[i], odd[i] = x[2*i], x[2*i+1]
	}
	transform(even)
	transform(odd)
	for i := range even {
		t := cmplx.Rect(1, -2*math.Pi*float64(i)/float64(n)) * odd[i]
		x[i], x[i+n/2] = even[i]+t, even[i]-t
	}
}

// Cents returns the interval between two frequencies in hundredths of a semitone.
func Cents(a, b float64) float64 { return 1200 * math.Log2(a/b) }
