package synth

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/score"
)

// What tells a plucked string from a tone that a machine sustains. The ranges are
// what the literature on the timbre of instruments gives for the guitar, from
// memory: attacks of a few milliseconds, decays of 60 dB in 1.5 to 12 s, a spectral
// centroid below 3 kHz that falls as the note decays, crest factors over 10 dB.

// played is notes across the guitars' compass.
var played = []sound{
	{chordsGuitar, 40, 0, 5}, {chordsGuitar, 48, 3, 5}, {chordsGuitar, 55, 0, 5}, {chordsGuitar, 64, 0, 5},
	{guideGuitar, 55, 0, 6}, {guideGuitar, 60, 1, 6}, {guideGuitar, 67, 3, 6}, {guideGuitar, 76, 12, 6},
}

// strength is the root mean square of samples in dB.
func strength(samples []float32) float64 {
	sum := 0.0
	for _, x := range samples {
		sum += float64(x) * float64(x)
	}
	return 10 * math.Log10(sum/float64(len(samples)))
}

// centroid is the spectral centroid of the next 4,096 samples in Hz.
func centroid(samples []float32) float64 {
	var sum, weighted float64
	for i, amplitude := range spectrum(samples[:4096]) {
		sum += amplitude
		weighted += amplitude * float64(i) * 44100 / 4096
	}
	return weighted / sum
}

func TestNotesAttackAtOnce(t *testing.T) {
	for _, of := range played {
		samples := strike(of.modes(44100), 44100, 44100)
		// One period of the lowest note is 12 ms: nothing shorter has a strength.
		const period = 540
		highest := math.Inf(-1)
		for at := 0; at < 8820; at += period {
			highest = max(highest, strength(samples[at:at+period]))
		}
		assert.Greater(t, strength(samples[:period]), highest-4, "key %d", of.key)
	}
}

func TestNotesDieAwayFromTheBeginning(t *testing.T) {
	for _, of := range played {
		samples := strike(of.modes(44100), 2*44100, 44100)
		at := func(seconds float64) float64 {
			from := int(seconds * 44100)
			return strength(samples[from : from+4410])
		}
		assert.Greater(t, at(0), at(0.25)+2, "key %d", of.key)
		assert.Greater(t, at(0.25), at(0.5)+1.5, "key %d", of.key)
		seconds := 60 / (at(0.3) - at(1.3))
		assert.Greater(t, seconds, 1.5, "key %d", of.key)
		assert.Less(t, seconds, 12.0, "key %d", of.key)
	}
}

func TestNotesDarkenAsTheyDecay(t *testing.T) {
	for _, of := range played {
		samples := strike(of.modes(44100), 2*44100, 44100)
		early, later, last := centroid(samples), centroid(samples[11025:]), centroid(samples[44100:])
		assert.Less(t, early, 3000.0, "key %d", of.key)
		assert.Greater(t, early, 1.1*later, "key %d", of.key)
		assert.Greater(t, later, 1.1*last, "key %d", of.key)
	}
}

func TestNoNoteStandsOut(t *testing.T) {
	for _, on := range []instrument{chordsGuitar, guideGuitar} {
		for key := int8(40); key <= 76; key++ {
			samples := strike(sound{on, key, 0, 5}.modes(44100), 11025, 44100)
			assert.InDelta(t, -3, strength(samples), 1, "key %d", key)
		}
	}
}

func TestMixesBreathe(t *testing.T) {
	recordings := recordedPractice(t)
	for _, m := range []score.Mix{score.Full, score.Backing, score.Guide} {
		r := recordings[m].result
		crest := r.TruePeak - r.Loudness
		assert.Greater(t, crest, 10.0, m.String())
		assert.Less(t, crest, 20.0, m.String())
	}
}

// The guide is heard over the chords, and the click through both.
func TestGuideStandsOutOverChords(t *testing.T) {
	recordings := recordedPractice(t)
	chords := recordings[score.ChordsAlone].result.Loudness
	upper := recordings[score.GuideUpperAlone].result.Loudness
	lower := recordings[score.GuideLowerAlone].result.Loudness
	guide := 10 * math.Log10(math.Pow(10, upper/10)+math.Pow(10, lower/10))
	assert.InDelta(t, 3, guide-chords, 1.5)
	click := recordings[score.ClickAlone].result.TruePeak
	full := recordings[score.Full].result.TruePeak
	assert.InDelta(t, -8, click-full, 3)
}
