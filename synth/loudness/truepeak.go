package loudness

import (
	"math"

	"thirdwise/synth/exact"
)

// A PeakMeter measures the true peak of a stereo signal by ITU-R BS.1770-5,
// annex 2: the largest magnitude of either channel after oversampling by four,
// as the annex asks at rates below 96,000 Hz. The zero value is ready for use.
type PeakMeter struct {
	left, right peakWindow
	peak        float32
}

// The interpolating filter of annex 2 has four phases of twelve taps (values
// from memory). The third and fourth phase are the second and the first
// backwards.
const peakTaps = 12

var peakPhases = [2][peakTaps]float32{
	{
		0.0017089843750, 0.0109863281250, -0.0196533203125, 0.0332031250000,
		-0.0594482421875, 0.1373291015625, 0.9721679687500, -0.1022949218750,
		0.0476074218750, -0.0266113281250, 0.0148925781250, -0.0083007812500,
	},
	{
		-0.0291748046875, 0.0292968750000, -0.0517578125000, 0.0891113281250,
		-0.1665039062500, 0.4650878906250, 0.7797851562500, -0.2003173828125,
		0.1015625000000, -0.0582275390625, 0.0330810546875, -0.0189208984375,
	},
}

// Write measures the next block, left and right of equal length, full scale ±1. It
// never fails.
func (p *PeakMeter) Write(left, right []float32) error {
	for len(left) > 0 {
		n := min(len(left), peakStretch)
		p.peak = p.left.read(left[:n], p.peak)
		p.peak = p.right.read(right[:n], p.peak)
		left, right = left[n:], right[n:]
	}
	return nil
}

// TruePeak returns the true peak of all that was written, in dBTP; −Inf for
// silence. It is never below the largest sample.
func (p *PeakMeter) TruePeak() float64 {
	ended := *p
	var silence [peakTaps - 1]float32
	ended.Write(silence[:], silence[:])
	return exact.Decibels(float64(ended.peak))
}

// The filter runs only where it may pass the peak so far, which two bounds tell.
// Its output is at most peakGain times the largest sample that it reaches. And
// it is at most peakLevel times one of those samples, plus what the others differ
// from that one by: peakSlope times the largest difference between neighbours.
// The second is the closer bound where there is little treble. Whole stretches
// are judged first, then their steps.
const (
	peakStretch = 512
	peakStep    = 32

	peakGain  = 2.034  // the larger sum of a phase's magnitudes is 2.0336
	peakLevel = 1.0017 // the larger sum of a phase's taps is 1.0016
	peakSlope = 2.41   // Σ |h[k]|·|k−6| is 2.4001 in the second phase, less in the first
)

// peakWindow is the latest stretch of a channel with the samples before it
// that the filter still reaches.
type peakWindow [peakTaps - 1 + peakStretch]float32

// read takes the next samples, at most a stretch, and returns the peak so far.
func (w *peakWindow) read(samples []float32, peak float32) float32 {
	const before = peakTaps - 1
	copy(w[before:], samples)
	reach := w[:before+len(samples)]
	largest := magnitude(reach)
	peak = max(peak, largest)
	for from := 0; from < len(samples) && largest*peakGain > peak; from += peakStep {
		step := reach[from:min(from+before+peakStep, len(reach))]
		size := magnitude(step)
		if size*peakGain > peak && size*peakLevel+steepness(step)*peakSlope > peak {
			peak = max(peak, interpolated(step))
		}
	}
	copy(w[:before], reach[len(samples):])
	return peak
}

// magnitude returns the largest magnitude among the samples. Floats without
// their sign are ordered as whole numbers are.
func magnitude(samples []float32) float32 {
	const sign = 1 << 31
	var m0, m1, m2, m3 uint32
	for ; len(samples) >= 4; samples = samples[4:] {
		m0 = max(m0, math.Float32bits(samples[0])&^sign)
		m1 = max(m1, math.Float32bits(samples[1])&^sign)
		m2 = max(m2, math.Float32bits(samples[2])&^sign)
		m3 = max(m3, math.Float32bits(samples[3])&^sign)
	}
	for _, x := range samples {
		m0 = max(m0, math.Float32bits(x)&^sign)
	}
	return math.Float32frombits(max(m0, m1, m2, m3))
}

// steepness returns the largest magnitude of the difference between neighbours.
func steepness(samples []float32) float32 {
	largest, last := uint32(0), samples[0]
	for _, x := range samples {
		largest = max(largest, math.Float32bits(unsigned(x-last)))
		last = x
	}
	return math.Float32frombits(largest)
}

// interpolated returns the largest magnitude that the filter gives on the
// samples. Since two phases are the other two backwards, each pair comes from
// the sums and the differences of samples at equal distance from the middle:
// with S = Σ (h[k]+h[11−k])·(x[k]+x[11−k]) and D = Σ (h[k]−h[11−k])·(x[k]−x[11−k])
// over k < 6, a phase and its mirror are (S+D)/2 and (S−D)/2, and the larger
// magnitude is (|S|+|D|)/2.
func interpolated(samples []float32) float32 {
	var even, odd [2][peakTaps / 2]float32
	for p, h := range peakPhases {
		for k := range peakTaps / 2 {
			even[p][k] = (h[k] + h[peakTaps-1-k]) / 2
			odd[p][k] = (h[k] - h[peakTaps-1-k]) / 2
		}
	}
	largest := uint32(0) // a float without sign, as in magnitude
	for ; len(samples) >= peakTaps; samples = samples[1:] {
		x := (*[peakTaps]float32)(samples)
		var s0, d0, s1, d1 float32
		for k := range peakTaps / 2 {
			s, d := x[k]+x[peakTaps-1-k], x[k]-x[peakTaps-1-k]
			s0 += even[0][k] * s
			d0 += odd[0][k] * d
			s1 += even[1][k] * s
			d1 += odd[1][k] * d
		}
		largest = max(largest,
			math.Float32bits(unsigned(s0)+unsigned(d0)),
			math.Float32bits(unsigned(s1)+unsigned(d1)))
	}
	return math.Float32frombits(largest)
}

func unsigned(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }
