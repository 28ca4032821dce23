package loudness

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"thirdwise/synth/soundtest"
)

func truePeak(left, right []float32) float64 {
	p := new(PeakMeter)
	for len(left) > 0 {
		n := min(len(left), 1000)
		_ = p.Write(left[:n], right[:n])
		left, right = left[n:], right[n:]
	}
	return p.TruePeak()
}

// EBU Tech 3341, minimum requirements test signals 15 to 19 (from memory):
// sines at whole fractions of the rate whose samples miss the crest; true peak
// within +0.2 and −0.4 dB. Ours begin and end smoothly, for a sine that is cut
// off peaks higher.
func TestEBUSinesForTruePeak(t *testing.T) {
	for _, signal := range []struct {
		number    int
		fraction  float64 // of the rate
		amplitude float64
		degrees   float64
		want      float64
	}{
		{15, 1. / 4, 0.50, 0, -6},
		{16, 1. / 4, 0.50, 45, -6},
		{17, 1. / 6, 0.50, 60, -6},
		{18, 1. / 8, 0.50, 67.5, -6},
		{19, 1. / 4, 1.41, 45, 3},
	} {
		sine := make([]float32, 48000)
		for n := range sine {
			fade := min(1, float64(n)/4800, float64(len(sine)-1-n)/4800)
			sine[n] = float32(fade * signal.amplitude * math.Sin(2*math.Pi*signal.fraction*float64(n)+signal.degrees*math.Pi/180))
		}
		got := truePeak(sine, make([]float32, len(sine)))
		assert.GreaterOrEqual(t, got, signal.want-0.4, "signal %d", signal.number)
		assert.LessOrEqual(t, got, signal.want+0.2, "signal %d", signal.number)
	}
}

// EBU Tech 3341, test signals 20 to 23 place one peak of 0 dBTP on each of the
// four positions between two samples. This is a signal of that kind: a pulse
// whose spectrum ends at a quarter of the rate.
func TestTruePeakBetweenSamples(t *testing.T) {
	for quarter := range 4 {
		pulse := make([]float32, 4096)
		for n := range pulse {
			x := math.Pi / 4 * (float64(n-2000) - float64(quarter)/4)
			pulse[n] = 1
			if x != 0 {
				pulse[n] = float32(math.Pow(math.Sin(x)/x, 2))
			}
		}
		got := truePeak(make([]float32, len(pulse)), pulse)
		assert.GreaterOrEqual(t, got, -0.4, "offset %d/4", quarter)
		assert.LessOrEqual(t, got, 0.2, "offset %d/4", quarter)
	}
}

func TestTruePeakOfSilence(t *testing.T) {
	assert.Equal(t, math.Inf(-1), truePeak(make([]float32, 100), make([]float32, 100)))
}

// plainTruePeak filters every sample with every phase, as annex 2 draws it.
func plainTruePeak(left, right []float32) float64 {
	peak := 0.0
	for _, samples := range [][]float32{left, right} {
		padded := append(make([]float32, peakTaps), samples...)
		padded = append(padded, make([]float32, peakTaps)...)
		for n, x := range padded {
			peak = max(peak, math.Abs(float64(x)))
			if n < peakTaps-1 {
				continue
			}
			for _, phase := range peakPhases {
				var ahead, back float64
				for k, h := range phase {
					ahead += float64(h) * float64(padded[n-k])
					back += float64(h) * float64(padded[n-peakTaps+1+k])
				}
				peak = max(peak, math.Abs(ahead), math.Abs(back))
			}
		}
	}
	return 20 * math.Log10(peak)
}

func TestPassingOverQuietStretchesChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		frames := rapid.IntRange(1, 2000).Draw(t, "frames")
		left, right := soundtest.Noise(frames)
		if rapid.Bool().Draw(t, "dull") {
			left, right = soundtest.Plucks(frames)
		}
		for range rapid.IntRange(0, 5).Draw(t, "quiet stretches") {
			from := rapid.IntRange(0, frames-1).Draw(t, "from")
			gain := rapid.Float32Range(0.001, 1).Draw(t, "gain")
			for i := from; i < frames; i++ {
				left[i] *= gain
				right[i] *= gain * gain
			}
		}
		assert.InDelta(t, plainTruePeak(left, right), truePeak(left, right), 1e-5)
	})
}

// The bounds that quiet stretches are told by are those of the taps.
func TestBoundsHoldForTheTaps(t *testing.T) {
	for _, phase := range peakPhases {
		var level, gain, slope float64
		for k, h := range phase {
			level += float64(h)
			gain += math.Abs(float64(h))
			slope += math.Abs(float64(h)) * math.Abs(float64(k-6))
		}
		assert.Less(t, level, peakLevel)
		assert.Less(t, gain, peakGain)
		assert.Less(t, slope, peakSlope)
	}
}

func BenchmarkPeakMeter(b *testing.B) {
	const frames = 60 * 44100
	for name, signal := range map[string]func(int) ([]float32, []float32){"noise": soundtest.Noise, "plucks": soundtest.Plucks} {
		b.Run(name, func(b *testing.B) {
			left, right := signal(frames)
			b.SetBytes(frames * 8)
			for b.Loop() {
				p := new(PeakMeter)
				_ = p.Write(left, right)
				if p.TruePeak() > 0 {
					b.Fatal("beyond full scale")
				}
			}
			soundtest.PerFrame(b, frames)
		})
	}
}
