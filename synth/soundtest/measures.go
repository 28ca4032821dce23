package soundtest

import (
	"math"
	"math/cmplx"
	"slices"
)

// Hann is the window of that name.
func Hann(n int) []float64 {
	window := make([]float64, n)
	for i := range window {
		window[i] = 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/float64(n))
	}
	return window
}

// Powers returns the power in each bin of the samples, seen through a window and
// followed by silence up to a power of two, size.
func Powers(samples []float32, window []float64, size int) []float64 {
	x := make([]complex128, size)
	for i, w := range window {
		x[i] = complex(w*float64(samples[i]), 0)
	}
	transform(x)
	powers := make([]float64, size/2)
	for i := range powers {
		powers[i] = real(x[i])*real(x[i]) + imag(x[i])*imag(x[i])
	}
	return powers
}

// Centroid returns the spectral centroid in Hz of the next 4,096 samples: the mean of
// the frequencies, each weighted with its amplitude.
func Centroid(samples []float32, rate float64) float64 {
	const frames = 4096
	var sum, weighted float64
	for i, p := range Powers(samples, Hann(frames), frames) {
		amplitude := math.Sqrt(p)
		sum += amplitude
		weighted += amplitude * float64(i) * rate / frames
	}
	return weighted / sum
}

// Band returns the level in dB of what lies between two frequencies, against all there
// is; the power of all samples counts alike.
func Band(samples []float32, low, high, rate float64) float64 {
	const frames = 1 << 14
	window := Hann(frames)
	var within, all float64
	for at := 0; at+frames <= len(samples); at += frames / 2 {
		for i, p := range Powers(samples[at:], window, frames) {
			if f := float64(i) * rate / frames; f >= low && f < high {
				within += p
			}
			all += p
		}
	}
	return 10 * math.Log10(within/all)
}

// Octave returns the level in dB of an octave around a frequency against all there is.
func Octave(samples []float32, centre, rate float64) float64 {
	return Band(samples, centre/math.Sqrt2, centre*math.Sqrt2, rate)
}

// Between returns the level in dB of what sounds between the partials of a note, from
// 1.5 to 10 kHz and in its first 120 ms, against all that sounds there. It is read in
// the middle halves of the gaps, and taken twice.
func Between(samples []float32, partial func(n int) float64, rate float64) float64 {
	const size = 1 << 15
	powers := Powers(samples, blackman(int(0.12*rate)), size)
	var gaps, all float64
	n := 1
	for i, p := range powers {
		f := float64(i) * rate / size
		if f < 1500 || f > 10000 {
			continue
		}
		for partial(n+1) < f {
			n++
		}
		all += p
		if place := (f - partial(n)) / (partial(n+1) - partial(n)); place > 0.25 && place < 0.75 {
			gaps += 2 * p
		}
	}
	return 10 * math.Log10(gaps/all)
}

// blackman is the window of that name, whose side lobes lie 58 dB down.
func blackman(n int) []float64 {
	window := make([]float64, n)
	for i := range window {
		turn := 2 * math.Pi * float64(i) / float64(n)
		window[i] = 0.42 - 0.5*math.Cos(turn) + 0.08*math.Cos(2*turn)
	}
	return window
}

// step is the time between two readings of an envelope.
const step = 0.02 // s

// Envelope returns how the partial near a frequency goes on, in dB every fiftieth of a
// second, read through a window about as wide as others are far away.
func Envelope(samples []float32, hertz, apart, rate float64) []float64 {
	window := Hann(2 * int(rate/min(40, apart*0.4)))
	hop := int(step * rate)
	var levels []float64
	for at := 0; at+len(window) <= len(samples); at += hop {
		levels = append(levels, 20*math.Log10(cmplx.Abs(component(samples[at:], window, hertz, rate))+1e-12))
	}
	return levels
}

// Near returns the frequency at which a note is strongest within 1.5 % of another, or
// within a third of how far its partials are apart. The powers are those of its bins,
// rate/2 being where they end.
func Near(powers []float64, hertz, apart, rate float64) float64 {
	width := rate / 2 / float64(len(powers))
	stray := min(0.015*hertz, apart/3)
	low, high := int((hertz-stray)/width), int((hertz+stray)/width)+2
	strongest := low
	for i := low; i < min(high, len(powers)); i++ {
		if powers[i] > powers[strongest] {
			strongest = i
		}
	}
	return float64(strongest) * width
}

// ReverberationTime returns the seconds in which an envelope would fall by 60 dB, by
// the straight line through its first 35 dB, or through 0.75 s of it; NaN where it is
// too short to tell.
func ReverberationTime(levels []float64) float64 {
	levels = down(levels[:min(len(levels), 38)], 35)
	if len(levels) < 8 {
		return math.NaN()
	}
	slope := fit(levels, 1)[1]
	return -60 / slope
}

// Beating returns by how much an envelope departs from an even course: the root mean
// square in dB against a cubic through its first second and a half, or its first 40 dB;
// NaN where it is too short to tell.
func Beating(levels []float64) float64 {
	levels = down(levels[:min(len(levels), 75)], 40)
	if len(levels) < 15 {
		return math.NaN()
	}
	c := fit(levels, 3)
	sum := 0.0
	for i, level := range levels {
		t := float64(i) * step
		off := level - (c[0] + t*(c[1]+t*(c[2]+t*c[3])))
		sum += off * off
	}
	return math.Sqrt(sum / float64(len(levels)))
}

// Scatter returns how much neighbours differ: the standard deviation of the logarithm
// of each number against its neighbours' mean, as it would be against a mean that were
// known. NaN is left out.
func Scatter(numbers []float64) float64 {
	var sum float64
	count := 0
	for i := 1; i < len(numbers)-1; i++ {
		off := math.Log(numbers[i]) - (math.Log(numbers[i-1])+math.Log(numbers[i+1]))/2
		if !math.IsNaN(off) {
			sum += off * off
			count++
		}
	}
	return math.Sqrt(sum / float64(count) * 2 / 3)
}

// Quantile returns the number below which a share of the numbers lies; NaN is left out.
func Quantile(numbers []float64, share float64) float64 {
	sorted := slices.DeleteFunc(slices.Clone(numbers), math.IsNaN)
	slices.Sort(sorted)
	return sorted[int(share*float64(len(sorted)-1)+0.5)]
}

// down returns the beginning of an envelope, up to where it has fallen by some dB from
// its highest.
func down(levels []float64, by float64) []float64 {
	highest := slices.Max(levels)
	for i, level := range levels {
		if level < highest-by {
			return levels[:i]
		}
	}
	return levels
}

// fit returns the coefficients of the polynomial of a degree that is nearest to levels
// every step, by least squares: normal equations and Gauss's elimination.
func fit(levels []float64, degree int) []float64 {
	n := degree + 1
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = make([]float64, n+1)
	}
	for k, level := range levels {
		t := float64(k) * step
		for i := range n {
			for j := range n {
				rows[i][j] += math.Pow(t, float64(i+j))
			}
			rows[i][n] += level * math.Pow(t, float64(i))
		}
	}
	for i := range n {
		for j := range n {
			if j == i {
				continue
			}
			share := rows[j][i] / rows[i][i]
			for k := i; k <= n; k++ {
				rows[j][k] -= share * rows[i][k]
			}
		}
	}
	coefficients := make([]float64, n)
	for i := range n {
		coefficients[i] = rows[i][n] / rows[i][i]
	}
	return coefficients
}

// Partials returns where the partials of a note lie, found one after the other from the
// first, whose frequency is about that given, in the powers of its bins.
func Partials(powers []float64, first, rate float64) func(n int) float64 {
	found := []float64{0, Near(powers, first, first, rate)}
	return func(n int) float64 {
		for len(found) <= n {
			last := len(found) - 1
			// As far from the last as that is from the one before it.
			next := found[last] + max(found[1], found[last]-found[last-1])
			if next < rate*0.45 {
				next = Near(powers, next, found[1], rate)
			}
			found = append(found, next)
		}
		return found[n]
	}
}
