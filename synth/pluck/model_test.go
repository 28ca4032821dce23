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

// The strings that are measured: open, at the fifth and at the twelfth fret.
var measured = []struct{ open, fret int }{
	{40, 0}, {45, 5}, {50, 0}, {55, 12}, {59, 5}, {64, 0}, {64, 12},
}

// The guide's notes are in tune within half a hundredth of a semitone, all others
// within three, for all that the body does to them: whoever plays along tunes by them.
func TestFundamentalsAreEqualTempered(t *testing.T) {
	for on, within := range map[Instrument]float64{GuideGuitar: 0.5, ChordsGuitar: 3, BassGuitar: 3} {
		for _, m := range measured {
			for take := range int8(Takes) {
				of := Sound{Instrument: on, Key: int8(m.open + m.fret), Fret: int8(m.fret), Layer: 3, Take: take}
				if on == BassGuitar {
					of.Key -= 12
				}
				// ISO 16: A4 = 440 Hz.
				want := 440 * math.Pow(2, float64(of.Key-69)/12)
				samples := of.Modes(44100).Strike(2*44100, 44100)[8820:]
				got := soundtest.Read(samples, want, 44100, 22050, 11025)
				assert.InDelta(t, 0, soundtest.Cents(got.Hertz, want), within, "%v, key %d, fret %d", on, of.Key, m.fret)
			}
		}
	}
}

// The open strings as handbooks print them (common practice): E2 82.41, A2 110.00,
// D3 146.83, G3 196.00, B3 246.94, E4 329.63 Hz.
func TestOpenStringsSoundAsHandbooksPrint(t *testing.T) {
	for key, want := range map[int]float64{40: 82.41, 45: 110, 50: 146.83, 55: 196, 59: 246.94, 64: 329.63} {
		samples := Sound{Instrument: GuideGuitar, Key: int8(key), Layer: 3}.Modes(44100).Strike(2*44100, 44100)
		got := soundtest.Read(samples[8820:], want, 44100, 22050, 11025)
		assert.InDelta(t, 0, soundtest.Cents(got.Hertz, want), 0.5, "key %d", key)
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
			g.partials(w.first, w.length, 8000, func(n int, frequency, decay float64) {
				assert.InDelta(t, 0, soundtest.Cents(frequency, w.frequency(n)), 1e-6, "key %d, partial %d", m.open+m.fret, n)
				assert.InEpsilon(t, w.decay(n), decay, 1e-9, "key %d, partial %d", m.open+m.fret, n)
			})
		}
	}
}

func TestNoPartialAliases(t *testing.T) {
	for _, rate := range []int{44100, 48000} {
		for _, on := range []Instrument{ChordsGuitar, GuideGuitar, BassGuitar} {
			for key := 40; key <= 88; key += 8 {
				for _, m := range voices[on].modes(key, 0, 127, 0, rate) {
					assert.LessOrEqual(t, m.frequency, 0.45*float64(rate))
				}
			}
		}
	}
	bins := soundtest.Spectrum(voices[ChordsGuitar].modes(64, 0, 127, 0, 44100).Strike(1<<14, 44100))
	for i := (1 << 14) * 46 / 100; i < len(bins); i++ {
		require.Less(t, 20*math.Log10(bins[i]), -90.0)
	}
}

// A real string decays in two stages: its motion towards the bridge, fast, and
// its motion across, slow (G. Weinreich, Coupled Piano Strings, JASA 62 (1977),
// for the same in a piano; from memory).
func TestNoteDecaysInTwoStages(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar} {
		early, late := 0.0, 0.0
		for _, n := range across {
			samples := note(on, n.open, n.fret, 100)
			first := pitchOf(n.open + n.fret)
			early += soundtest.Read(samples[4410:], first, 44100, 8820, 8820).Decay
			late += soundtest.Read(samples[88200:], first, 44100, 22050, 22050).Decay
		}
		assert.Greater(t, early, 1.3*late)
	}
}

func TestHarderPluckIsLouderAndBrighter(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar, BassGuitar} {
		before := 0.0
		for layer := range int8(len(layers)) {
			now := soundtest.Centroid(Sound{on, 52, 2, layer, 0}.Modes(44100).Strike(8192, 44100), 44100)
			assert.Greater(t, now, before, "%v, layer %d", on, layer)
			before = now
		}
	}
	for velocity := 2; velocity <= 127; velocity++ {
		assert.Greater(t, Gain(velocity), Gain(velocity-1))
	}
}

// A finger ends a note smoothly: from nothing, and after 90 ms by 60 dB.
func TestTouchIsSmooth(t *testing.T) {
	for _, rate := range []int{44100, 48000} {
		factors := Touch(rate)
		assert.InDelta(t, 1, factors[0], 1e-9)
		for i := 1; i < len(factors); i++ {
			assert.Less(t, factors[i], factors[i-1])
			assert.Less(t, factors[i-1]-factors[i], float32(2e-3))
		}
		assert.Less(t, factors[rate*9/100], float32(1e-3))
		assert.Less(t, factors[len(factors)-1], float32(1e-5))
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
		got := soundtest.Read(Sound{Instrument: ChordsGuitar, Key: int8(open), Layer: 3}.Modes(44100).Strike(2*44100, 44100)[8820:], want, 44100, 22050, 11025)
		assert.InDelta(t, 0, soundtest.Cents(got.Hertz, want), 3)
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
