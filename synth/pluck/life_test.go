package pluck

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/synth/soundtest"
)

// What a played string has and a machine's tone has not. The figures beside each
// measure are those of a sampled steel-string guitar, that of a free General MIDI sound
// font (Debian's fluid-soundfont-gm, measured the same way; .ci/checks/timbre prints
// them side by side); they are a reference and no truth.

const rate = 44100

// note returns four seconds of a note on a string's open pitch and fret. It is made
// once for all tests.
func note(on Instrument, open, fret, velocity int) []float32 {
	of := Sound{Instrument: on, Key: int8(open + fret), Fret: int8(fret), Layer: Layer(velocity)}
	if made, known := notes.Load(of); known {
		return made.([]float32)
	}
	samples := make([]float32, 4*rate+rate/10)
	copy(samples, of.Modes(rate).Strike(4*rate, rate))
	notes.Store(of, samples)
	return samples
}

var notes sync.Map

// partialsOf returns where the partials of a note lie, by the string's own law.
func partialsOf(on Instrument, open, fret int) (partial func(n int) float64, first float64) {
	g := gaugeFor(voices[on].strings, open)
	length := voices[on].lengthAt(fret)
	first = pitchOf(open + fret)
	frequencies := []float64{0}
	g.partials(first, length, 20000, func(_ int, frequency, _ float64) { frequencies = append(frequencies, frequency) })
	return func(n int) float64 { return frequencies[n] }, first
}

// across are notes over the neck: open strings and fretted ones.
var across = []struct{ open, fret int }{{40, 0}, {45, 0}, {45, 3}, {50, 2}, {55, 0}, {59, 1}, {64, 0}, {64, 3}}

// Sampled: 3,220, 1,950 and 1,130 Hz at 0, 0.25 and 1 s.
func TestSteelIsBrightAndDarkens(t *testing.T) {
	var centroids [3][]float64
	for _, n := range across[3:] {
		samples := note(ChordsGuitar, n.open, n.fret, 84)
		for i, at := range []int{0, rate / 4, rate} {
			centroids[i] = append(centroids[i], soundtest.Centroid(samples[at:], rate))
		}
	}
	for i, sampled := range []float64{3220, 1950, 1130} {
		got := soundtest.Quantile(centroids[i], 0.5)
		t.Logf("centroid %.0f Hz, sampled %.0f Hz", got, sampled)
		assert.InDelta(t, sampled, got, sampled/3)
	}
}

// Sampled: −15 dB. Wood and plectrum are heard between the partials.
func TestWoodIsHeardBetweenPartials(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar} {
		for _, n := range across {
			partial, _ := partialsOf(on, n.open, n.fret)
			got := soundtest.Between(note(on, n.open, n.fret, 84), partial, rate)
			t.Logf("%v %v: %.1f dB", on, n, got)
			if on == ChordsGuitar {
				assert.Greater(t, got, -25.0)
			}
			assert.Less(t, got, -10.0)
		}
	}
}

// Sampled: 0.30 for the scatter, 3.2 dB for the beating.
func TestPartialsLiveTheirOwnLives(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar} {
		var scatters, beatings []float64
		for _, n := range across {
			partial, first := partialsOf(on, n.open, n.fret)
			samples := note(on, n.open, n.fret, 84)[:rate*17/10]
			powers := soundtest.Powers(samples[2000:], soundtest.Hann(1<<15), 1<<16)
			var times []float64
			for k := 1; partial(k) < 4000 && k < 20; k++ {
				levels := soundtest.Envelope(samples, soundtest.Near(powers, partial(k), first, rate), first, rate)
				times = append(times, soundtest.ReverberationTime(levels[2:]))
				if k <= 8 {
					beatings = append(beatings, soundtest.Beating(levels[4:]))
				}
			}
			scatters = append(scatters, soundtest.Scatter(times))
		}
		scatter, beating := soundtest.Quantile(scatters, 0.5), soundtest.Quantile(beatings, 0.9)
		t.Logf("%v: scatter of T60 %.2f, beating %.1f dB", on, scatter, beating)
		assert.Greater(t, scatter, 0.2)
		assert.Greater(t, beating, 1.0)
	}
}

// Sampled: 50 to 130 % more.
func TestHarderPluckIsMuchBrighter(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar} {
		var more []float64
		for _, n := range across {
			soft := soundtest.Centroid(note(on, n.open, n.fret, 40), rate)
			hard := soundtest.Centroid(note(on, n.open, n.fret, 112), rate)
			more = append(more, hard/soft-1)
		}
		got := soundtest.Quantile(more, 0.5)
		t.Logf("%v: centroid %.0f %% higher", on, 100*got)
		assert.Greater(t, got, 0.3)
	}
}
