package synth

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/score"
)

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
