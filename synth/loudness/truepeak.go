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
	p.peak = p.left.read(left, p.peak)
	p.peak = p.right.read(right, p.peak)
	return nil
}

// TruePeak returns the true peak of all that was written, in dBTP; −Inf for
// silence. It is never below the largest sample.
func (p *PeakMeter) TruePeak() float64 {
	ended := *p
	var silence [peakReach]float32
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

// peakReach is the samples before a place that the filter reaches.
const peakReach = peakTaps - 1

// peakWindow is the latest samples of a channel that the filter still reaches, with
// room behind them for as many of the next.
type peakWindow [2 * peakReach]float32

// read takes the next samples, and returns the peak so far.
func (w *peakWindow) read(samples []float32, peak float32) float32 {
	n := copy(w[peakReach:], samples)
	peak = peakOf(w[:peakReach+n], peak)
	peak = peakOf(samples, peak)
	if n < peakReach {
		copy(w[:], w[n:peakReach+n])
	} else {
		copy(w[:], samples[len(samples)-peakReach:])
	}
	return peak
}

// peakOf returns the peak of samples, and of what the filter gives where it reaches none
// but these, where it passes a peak, otherwise that one.
func peakOf(samples []float32, peak float32) float32 {
	for {
		stretch := samples[:min(peakReach+peakStretch, len(samples))]
		largest := magnitude(stretch)
		peak = max(peak, largest)
		for from := 0; from < len(stretch)-peakReach && largest*peakGain > peak; from += peakStep {
			step := stretch[from:min(from+peakReach+peakStep, len(stretch))]
			size := magnitude(step)
			if size*peakGain > peak && size*peakLevel+steepness(step)*peakSlope > peak {
				peak = max(peak, interpolated(step))
			}
		}
		if len(stretch) == len(samples) {
			return peak
		}
		samples = samples[peakStretch:]
	}
}

// magnitude returns the largest magnitude among the samples.
func magnitude(samples []float32) float32 {
	most := len(samples) &^ (magnitudes - 1)
	return max(magnitudeOf(samples[:most]), magnitudePlainly(samples[most:]))
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

// interpolated returns the largest magnitude that the filter gives on the samples.
func interpolated(samples []float32) float32 {
	results := len(samples) - peakReach
	if results < 1 {
		return 0
	}
	most := results &^ (interpolations - 1)
	return max(interpolate(samples[:most+peakReach]), interpolatePlainly(samples[most:]))
}

func unsigned(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }
