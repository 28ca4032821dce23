package pluck

import (
	"math"
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

// sampled are the notes that .ci/checks/timbre measures.
var sampled = []struct{ open, fret int }{{40, 0}, {45, 0}, {50, 2}, {55, 0}, {59, 0}, {64, 0}, {64, 3}}

// Sampled: 3,220, 1,950 and 1,130 Hz at 0, 0.25 and 1 s.
func TestSteelIsBrightAndDarkens(t *testing.T) {
	var centroids [3][]float64
	for _, n := range across[3:] {
		samples := note(ChordsGuitar, n.open, n.fret, 84)
		for i, at := range []int{0, rate / 4, rate} {
			centroids[i] = append(centroids[i], soundtest.Centroid(samples[at:], rate))
		}
	}
	for i, want := range []float64{3220, 1950, 1130} {
		got := soundtest.Quantile(centroids[i], 0.5)
		t.Logf("centroid %.0f Hz, sampled %.0f Hz", got, want)
		assert.InDelta(t, want, got, want/6)
	}
}

// Sampled: −17, −20 and −24 dB of the first second. A body hands on little at 2 kHz, and
// plain strings keep their treble.
func TestSteelHasAGuitarsSpectrum(t *testing.T) {
	for _, octave := range []struct{ centre, sampled float64 }{{2000, -16.8}, {4000, -20.5}, {8000, -24.4}} {
		var levels []float64
		for _, n := range sampled {
			levels = append(levels, soundtest.Octave(note(ChordsGuitar, n.open, n.fret, 84)[:rate], octave.centre, rate))
		}
		got := soundtest.Quantile(levels, 0.5)
		t.Logf("octave at %.0f Hz: %.1f dB, sampled %.1f dB", octave.centre, got, octave.sampled)
		assert.InDelta(t, octave.sampled, got, 3)
	}
}

// Sampled: 11.1 dB, the median of the crest in the first quarter of a second. What the
// plectrum does to strings that are struck together must not add up to a peak of its own.
func TestPlucksHaveNoNeedlessPeak(t *testing.T) {
	var crests []float64
	together := make([]float32, rate/4)
	for _, n := range sampled {
		samples := note(ChordsGuitar, n.open, n.fret, 84)[:rate/4]
		crests = append(crests, crest(samples))
		for i, x := range samples {
			together[i] += x
		}
	}
	got, all := soundtest.Quantile(crests, 0.5), crest(together)
	t.Logf("crest %.1f dB, sampled 11.1 dB; all together %.1f dB", got, all)
	assert.Less(t, got, 12.3)
	assert.Less(t, all, 15.3)
}

// crest is the highest of samples against their root mean square, in dB.
func crest(samples []float32) float64 {
	highest := float32(0)
	for _, x := range samples {
		highest = max(highest, x, -x)
	}
	return 20*math.Log10(float64(highest)) - rms(samples)
}

// Sampled: −21 dB, the median of notes that have −7 to −37, the highest the least. Wood and
// plectrum are heard between the partials.
func TestWoodIsHeardBetweenPartials(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar} {
		var levels []float64
		for _, n := range across {
			partial, _ := partialsOf(on, n.open, n.fret)
			got := soundtest.Between(note(on, n.open, n.fret, 84), partial, rate)
			t.Logf("%v %v: %.1f dB", on, n, got)
			assert.Greater(t, got, -30.0)
			assert.Less(t, got, -10.0)
			levels = append(levels, got)
		}
		assert.InDelta(t, -20.5, soundtest.Quantile(levels, 0.5), 3)
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
