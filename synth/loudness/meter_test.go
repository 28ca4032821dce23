package loudness

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"thirdwise/synth/soundtest"
)

// tone appends a sine of the given level, in dB below full scale at its peak.
func tone(to []float32, rate int, hertz, dBFS, seconds float64) []float32 {
	amplitude := math.Pow(10, dBFS/20)
	for n := range int(seconds * float64(rate)) {
		to = append(to, float32(amplitude*math.Sin(2*math.Pi*hertz*float64(n)/float64(rate))))
	}
	return to
}

func integrated(rate int, left, right []float32) float64 {
	m := NewMeter(rate)
	for len(left) > 0 {
		n := min(len(left), 1000)
		_ = m.Write(left[:n], right[:n])
		left, right = left[n:], right[n:]
	}
	return m.Integrated()
}

// ITU-R BS.1770-5, annex 1: a 997 Hz sine at 0 dBFS in one front channel reads
// −3.01 LKFS.
func TestFullScaleSineReadsMinus3_01(t *testing.T) {
	for _, rate := range []int{44100, 48000, 96000} {
		sine := tone(nil, rate, 997, 0, 10)
		silence := make([]float32, len(sine))
		assert.InDelta(t, -3.01, integrated(rate, sine, silence), 0.005, "left, %d Hz", rate)
		assert.InDelta(t, -3.01, integrated(rate, silence, sine), 0.005, "right, %d Hz", rate)
	}
}

// EBU Tech 3341, minimum requirements test signals 1 to 5 (from memory), in
// both channels, 1000 Hz: integrated loudness within 0.1 LU. Signal 6 has five
// channels, 7 and 8 are recorded programmes.
func TestEBUSignalsForIntegratedLoudness(t *testing.T) {
	type step struct{ dBFS, seconds float64 }
	for n, signal := range []struct {
		steps []step
		want  float64
	}{
		{[]step{{-23, 20}}, -23},
		{[]step{{-33, 20}}, -33},
		{[]step{{-36, 10}, {-23, 60}, {-36, 10}}, -23},
		{[]step{{-72, 10}, {-36, 10}, {-23, 60}, {-36, 10}, {-72, 10}}, -23},
		{[]step{{-26, 20}, {-20, 20.1}, {-26, 20}}, -23},
	} {
		for _, rate := range []int{44100, 48000} {
			var sine []float32
			for _, s := range signal.steps {
				sine = tone(sine, rate, 1000, s.dBFS, s.seconds)
			}
			assert.InDelta(t, signal.want, integrated(rate, sine, sine), 0.1, "signal %d, %d Hz", n+1, rate)
		}
	}
}

func TestNothingPassesTheGatesOfSilence(t *testing.T) {
	silence := make([]float32, 44100)
	assert.Equal(t, math.Inf(-1), integrated(44100, silence, silence))
	quiet := tone(nil, 44100, 1000, -75, 2)
	assert.Equal(t, math.Inf(-1), integrated(44100, quiet, quiet))
	short := tone(nil, 44100, 1000, -20, 0.39)
	assert.Equal(t, math.Inf(-1), integrated(44100, short, short))
}

// A gain is what the signal would have been written with.
func TestLoudnessAtAGainIsThatOfTheLouderSignal(t *testing.T) {
	var sine, louder []float32
	for _, dBFS := range []float64{-75, -40, -55, -68, -50} {
		sine = tone(sine, 48000, 1000, dBFS, 2)
		louder = tone(louder, 48000, 1000, dBFS+12, 2)
	}
	m := NewMeter(48000)
	_ = m.Write(sine, sine)
	assert.InDelta(t, integrated(48000, louder, louder), m.IntegratedAt(12), 1e-3)
}

func (f biquad) decibels(hertz float64, rate int) float64 {
	z := cmplx.Exp(complex(0, -2*math.Pi*hertz/float64(rate)))
	c := func(x float64) complex128 { return complex(x, 0) }
	h := (c(f.b0) + c(f.b1)*z + c(f.b2)*z*z) / (1 + c(f.a1)*z + c(f.a2)*z*z)
	return 20 * math.Log10(cmplx.Abs(h))
}

// BS.1770-5 gives the filters at 48 kHz, and asks of others that they have the
// same frequency response.
func TestKWeightingIsTheSameAtEveryRate(t *testing.T) {
	for _, table := range []biquad{kShelf48, kHighPass48} {
		same := table.at(48000)
		assert.InDeltaSlice(t,
			[]float64{table.b0, table.b1, table.b2, table.a1, table.a2},
			[]float64{same.b0, same.b1, same.b2, same.a1, same.a2}, 1e-12)
		for _, rate := range []int{44100, 96000} {
			for hertz := 20.0; hertz < 10000; hertz *= 1.1 {
				assert.InDelta(t, table.decibels(hertz, 48000), table.at(rate).decibels(hertz, rate), 0.02, "%.0f Hz at %d Hz", hertz, rate)
			}
		}
	}
}

func TestLoudnessDoesNotDependOnBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := rapid.SampledFrom([]int{44100, 48000}).Draw(t, "rate")
		left, right := soundtest.Noise(rapid.SampledFrom([]int{17640, 17639, 20001, 22050, 22053}).Draw(t, "frames"))
		atOnce, inBlocks := NewMeter(rate), NewMeter(rate)
		_ = atOnce.Write(left, right)
		block := rapid.IntRange(1, 5000).Draw(t, "block")
		for from := 0; from < len(left); from += block {
			end := min(from+block, len(left))
			_ = inBlocks.Write(left[from:end], right[from:end])
		}
		assert.Len(t, atOnce.quarters, len(left)/(rate/10))
		assert.InDeltaSlice(t, atOnce.quarters, inBlocks.quarters, 1e-9)
	})
}

// What the meter adds up is the squares of a signal that goes through the shelf and then
// the high-pass of BS.1770-5, sample by sample.
func TestQuartersAreTheEnergyBehindBothFilters(t *testing.T) {
	for _, rate := range []int{44100, 48000} {
		left, right := soundtest.Noise(rate)
		m := NewMeter(rate)
		_ = m.Write(left, right)
		want := make([]float64, 10)
		for _, samples := range [][]float32{left, right} {
			shelf, high := kShelf48.at(rate), kHighPass48.at(rate)
			var x, y, z [3]float64 // the latest first
			for i, sample := range samples {
				x[2], x[1], x[0] = x[1], x[0], float64(sample)
				y[2], y[1] = y[1], y[0]
				y[0] = shelf.b0*x[0] + shelf.b1*x[1] + shelf.b2*x[2] - shelf.a1*y[1] - shelf.a2*y[2]
				z[2], z[1] = z[1], z[0]
				z[0] = high.b0*y[0] + high.b1*y[1] + high.b2*y[2] - high.a1*z[1] - high.a2*z[2]
				want[i/(rate/10)] += z[0] * z[0]
			}
		}
		assert.InDeltaSlice(t, want, m.quarters, 1e-6)
	}
}

// The strokes are a click's, with silence between them, in which the filters' own
// decay must not take longer than a signal.
func BenchmarkLoudnessMeter(b *testing.B) {
	const rate, frames = 44100, 60 * 44100
	left, right := soundtest.Noise(frames)
	strokes := make([]float32, frames)
	for i := 0; i < frames; i += rate {
		strokes[i] = 1
	}
	for _, signal := range []struct {
		name        string
		left, right []float32
	}{
		{"noise", left, right},
		{"strokes", strokes, strokes},
	} {
		b.Run(signal.name, func(b *testing.B) {
			for b.Loop() {
				m := NewMeter(rate)
				_ = m.Write(signal.left, signal.right)
				if math.IsInf(m.Integrated(), 0) {
					b.Fatal("the signal is not silence")
				}
			}
			soundtest.PerFrame(b, frames)
		})
	}
}
