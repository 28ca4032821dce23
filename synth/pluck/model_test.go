package pluck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/synth/soundtest"
)

// The formulas of J. Woodhouse, On the Synthesis of Guitar Plucks, Acta Acustica
// 90 (2004), written out once more beside the code, from the wave number up; the
// wave speed c is the one that puts the first partial on its equal-tempered pitch.
type woodhouse struct{ first, length, tension, bending, friction, bendingLoss, air float64 }

func (w woodhouse) frequency(n int) float64 {
	p := func(n int) float64 { return float64(n) * math.Pi / w.length }
	stiff := func(n int) float64 { return 1 + p(n)*p(n)*w.bending/(2*w.tension) }
	c := w.first * 2 * math.Pi / (p(1) * stiff(1))
	return c / (2 * math.Pi) * p(n) * stiff(n)
}

func (w woodhouse) decay(n int) float64 {
	p := float64(n) * math.Pi / w.length
	f := w.frequency(n)
	zeta := (w.tension*(w.friction+w.air/(2*math.Pi*f)) + w.bendingLoss*w.bending*p*p) /
		(2 * (w.tension + w.bending*p*p))
	return 2 * math.Pi * f * zeta
}

// soundOf returns a note's samples with one polarisation, so that each partial has
// one decay.
func soundOf(on Instrument, key, fret, rate int, seconds float64) []float32 {
	v := voices[on]
	v.tilt = 1
	return v.modes(key, fret, 100, rate).Strike(int(seconds*float64(rate)), rate)
}

// The strings that are measured: open, at the fifth and at the twelfth fret.
var measured = []struct{ open, fret int }{
	{40, 0}, {45, 5}, {50, 0}, {55, 12}, {59, 5}, {64, 0}, {64, 12},
}

func TestFundamentalIsEqualTempered(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar} {
		for _, m := range measured {
			// ISO 16: A4 = 440 Hz.
			want := 440 * math.Pow(2, float64(m.open+m.fret-69)/12)
			got := soundtest.Read(soundOf(on, m.open+m.fret, m.fret, 44100, 1.3)[8820:], want, 44100, 22050, 11025)
			assert.InDelta(t, 0, soundtest.Cents(got.Hertz, want), 0.1, "key %d, fret %d", m.open+m.fret, m.fret)
		}
	}
}

// The open strings as handbooks print them (common practice): E2 82.41, A2 110.00,
// D3 146.83, G3 196.00, B3 246.94, E4 329.63 Hz.
func TestOpenStringsSoundAsHandbooksPrint(t *testing.T) {
	for key, want := range map[int]float64{40: 82.41, 45: 110, 50: 146.83, 55: 196, 59: 246.94, 64: 329.63} {
		got := soundtest.Read(soundOf(GuideGuitar, key, 0, 44100, 1.3)[8820:], want, 44100, 22050, 11025)
		assert.InDelta(t, want, got.Hertz, 0.01)
	}
}

func TestPartialsFollowStiffnessAndLoss(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar} {
		for _, m := range measured {
			g := gaugeFor(voices[on].strings, m.open)
			w := woodhouse{
				first:   440 * math.Pow(2, float64(m.open+m.fret-69)/12),
				length:  voices[on].scale * math.Pow(2, -float64(m.fret)/12),
				tension: g.tension, bending: g.bending,
				friction: g.friction, bendingLoss: g.bendingLoss, air: g.air,
			}
			// The body's own modes have died away after a third of a second.
			signal := soundOf(on, m.open+m.fret, m.fret, 44100, 1.3)[14700:]
			read1 := 0
			for n := 1; w.frequency(n) < 6000; n++ {
				got := soundtest.Read(signal, w.frequency(n), 44100, 13230, 4410)
				if got.Amplitude*math.Exp(-0.3*w.decay(n)) < 2*inaudible {
					continue // a node of the pluck, or over before the windows are
				}
				read1++
				assert.InDelta(t, 0, soundtest.Cents(got.Hertz, w.frequency(n)), 0.1, "key %d, partial %d", m.open+m.fret, n)
				assert.InEpsilon(t, w.decay(n), got.Decay, 0.02, "key %d, partial %d", m.open+m.fret, n)
			}
			assert.GreaterOrEqual(t, read1, 4, "key %d", m.open+m.fret)
		}
	}
}

func TestNothingSoundsBetweenPartials(t *testing.T) {
	const rate, frames = 44100, 1 << 15
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar, BassGuitar} {
		v := voices[on]
		const key, fret = 47, 2
		modes := v.modes(key, fret, 127, rate)
		bins := soundtest.Spectrum(modes.Strike(frames+rate/10, rate)[rate/10:])
		for i, amplitude := range bins {
			hertz := float64(i) * rate / frames
			nearest := math.Inf(1)
			for _, m := range modes {
				nearest = min(nearest, math.Abs(m.frequency-hertz))
			}
			if nearest > 25 {
				require.Less(t, 20*math.Log10(amplitude), -90.0, "%v at %.0f Hz", on, hertz)
			}
		}
	}
}

func TestNoPartialAliases(t *testing.T) {
	for _, rate := range []int{44100, 48000} {
		for _, on := range []Instrument{ChordsGuitar, GuideGuitar, BassGuitar} {
			for key := 40; key <= 88; key += 8 {
				for _, m := range voices[on].modes(key, 0, 127, rate) {
					assert.LessOrEqual(t, m.frequency, 0.45*float64(rate))
				}
			}
		}
	}
	bins := soundtest.Spectrum(voices[ChordsGuitar].modes(64, 0, 127, 44100).Strike(1<<14, 44100))
	for i := (1 << 14) * 46 / 100; i < len(bins); i++ {
		require.Less(t, 20*math.Log10(bins[i]), -90.0)
	}
}

// A real string decays in two stages: its motion towards the bridge, fast, and
// its motion across, slow (G. Weinreich, Coupled Piano Strings, JASA 62 (1977),
// for the same in a piano; from memory).
func TestNoteDecaysInTwoStages(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar} {
		signal := voices[on].modes(64, 0, 100, 44100).Strike(3*44100, 44100)
		early := soundtest.Read(signal[4410:], 329.63, 44100, 8820, 4410)
		late := soundtest.Read(signal[88200:], 329.63, 44100, 8820, 4410)
		assert.Greater(t, early.Decay, 1.3*late.Decay)
	}
}

func TestHarderPluckIsLouderAndBrighter(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar, BassGuitar} {
		before := 0.0
		for layer := range int8(layers) {
			modes := Sound{on, 52, 2, layer}.Modes(44100)
			now := brightness(modes)
			assert.Greater(t, now, before, "%v, layer %d", on, layer)
			before = now
		}
	}
	for velocity := 2; velocity <= 127; velocity++ {
		assert.Greater(t, Gain(velocity), Gain(velocity-1))
	}
}

// brightness is the spectral centroid of modes at their beginning, in Hz.
func brightness(modes Modes) float64 {
	var weighted, sum float64
	for _, m := range modes {
		power := real(m.amplitude)*real(m.amplitude) + imag(m.amplitude)*imag(m.amplitude)
		weighted += m.frequency * power
		sum += power
	}
	return weighted / sum
}

// A note begins and ends without a step: no sample differs from the one before by
// more than its partials together can move.
func TestNoteEndsWithoutAStep(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar, BassGuitar} {
		for _, release := range []int{2048, 4416, 22048} {
			modes := Sound{on, 52, 2, 5}.Modes(44100)
			sounding := modes.Strike(release, 44100)
			end := modes.Damp(release, 44100)
			largest := func(x []float32) float64 {
				step := 0.0
				for i := 1; i < len(x); i++ {
					step = max(step, math.Abs(float64(x[i]-x[i-1])))
				}
				return step
			}
			before := largest(sounding[release-1000:])
			joint := math.Abs(float64(end[0] - sounding[release-1]))
			assert.LessOrEqual(t, joint, 1.05*before, "%v after %d", on, release)
			assert.LessOrEqual(t, largest(end), 1.05*before, "%v after %d", on, release)
			assert.Less(t, math.Abs(float64(end[len(end)-1])), 5*inaudible)

			// The ending goes on where the sound would have: same phase, same strength.
			whole := modes.Strike(release+8, 44100)
			for i := range 8 {
				assert.InDelta(t, whole[release+i], end[i], 3e-3)
			}
			// After 90 ms it has lost 60 dB.
			assert.Less(t, soundtest.Magnitude(end[4100:]), soundtest.Magnitude(sounding[release-1000:])/700)
		}
	}
}

func TestStringsOfAnyTuning(t *testing.T) {
	// A seven-string's low B, an eight-string's F♯, a dropped D, a high A.
	for _, open := range []int{30, 35, 38, 41, 66, 69} {
		g := gaugeFor(steel, open)
		assert.InDelta(t, 120, g.tension, 20)
		assert.Greater(t, g.bending, 50e-6)
		assert.Less(t, g.bending, 500e-6)
		want := 440 * math.Pow(2, float64(open-69)/12)
		got := soundtest.Read(soundOf(ChordsGuitar, open, 0, 44100, 1.3)[8820:], want, 44100, 22050, 11025)
		assert.InDelta(t, 0, soundtest.Cents(got.Hertz, want), 0.1)
	}
	for _, row := range steel {
		assert.Equal(t, row, gaugeFor(steel, int(row.open)))
	}
}

// The table of nylon strings agrees with its own measures: √(T/ρ)/2L is the pitch
// within 0.4 %, with the masses that stand beside it in the source (from memory).
func TestNylonTableAgreesWithItself(t *testing.T) {
	masses := []float64{6.24e-3, 3.61e-3, 1.95e-3, 0.90e-3, 0.52e-3, 0.38e-3} // kg/m
	for i, g := range nylon {
		want := 440 * math.Pow(2, (g.open-69)/12)
		assert.InEpsilon(t, want, math.Sqrt(g.tension/masses[i])/(2*0.65), 0.004)
	}
}
