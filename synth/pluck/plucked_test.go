package pluck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/synth/soundtest"
)

// What tells a plucked string from a tone that a machine sustains. The ranges are
// what the literature on the timbre of instruments gives for the guitar, from
// memory: attacks of a few milliseconds, decays of 60 dB in 1.5 to 12 s, a spectral
// centroid below 4 kHz that falls as the note decays, crest factors over 10 dB.

// played is notes across the guitars' compass.
var played = []Sound{
	{ChordsGuitar, 40, 0, 3, 0}, {ChordsGuitar, 48, 3, 3, 0}, {ChordsGuitar, 55, 0, 3, 0}, {ChordsGuitar, 64, 0, 3, 0},
	{GuideGuitar, 55, 0, 4, 0}, {GuideGuitar, 60, 1, 4, 0}, {GuideGuitar, 67, 3, 4, 0}, {GuideGuitar, 76, 12, 4, 0},
}

// rms is the root mean square of samples in dB.
func rms(samples []float32) float64 {
	sum := 0.0
	for _, x := range samples {
		sum += float64(x) * float64(x)
	}
	return 10 * math.Log10(sum/float64(len(samples)))
}

func TestNotesAttackAtOnce(t *testing.T) {
	for _, of := range played {
		samples := of.Modes(44100).Strike(44100, 44100)
		// One period of the lowest note is 12 ms: nothing shorter has a strength.
		const period = 540
		loudest := math.Inf(-1)
		for at := 0; at < 8820; at += period {
			loudest = max(loudest, rms(samples[at:at+period]))
		}
		assert.Greater(t, rms(samples[:period]), loudest-4, "key %d", of.Key)
	}
}

func TestNotesDieAwayFromTheBeginning(t *testing.T) {
	for _, of := range played {
		samples := of.Modes(44100).Strike(2*44100, 44100)
		at := func(seconds float64) float64 {
			from := int(seconds * 44100)
			return rms(samples[from : from+4410])
		}
		assert.Greater(t, at(0), at(0.25)+2, "key %d", of.Key)
		assert.Greater(t, at(0.25), at(0.5)+1.5, "key %d", of.Key)
		seconds := 60 / (at(0.3) - at(1.3))
		assert.Greater(t, seconds, 1.5, "key %d", of.Key)
		assert.Less(t, seconds, 12.0, "key %d", of.Key)
	}
}

func TestNotesDarkenAsTheyDecay(t *testing.T) {
	for _, of := range played {
		samples := of.Modes(44100).Strike(2*44100, 44100)
		early, later, last := soundtest.Centroid(samples, 44100), soundtest.Centroid(samples[11025:], 44100), soundtest.Centroid(samples[44100:], 44100)
		assert.Less(t, early, 4000.0, "key %d", of.Key)
		assert.Greater(t, early, 1.1*later, "key %d", of.Key)
		assert.Greater(t, later, 1.1*last, "key %d", of.Key)
	}
}

func TestNoNoteStandsOut(t *testing.T) {
	for _, on := range []Instrument{ChordsGuitar, GuideGuitar} {
		for key := int8(40); key <= 76; key++ {
			samples := Sound{on, key, 0, 3, 0}.Modes(44100).Strike(11025, 44100)
			assert.InDelta(t, -3, rms(samples), 1, "key %d", key)
		}
	}
}
