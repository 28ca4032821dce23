package theory_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/theory/theorytest"
)

// What sounds the same is the same to the ear: B is C♭.
func TestSoundIsToldWhateverTheSpelling(t *testing.T) {
	scale := theorytest.Key(t, "C major").Scale()
	third := scale.Third(theorytest.Pitch(t, "G3").Staff()) // G3–B3
	for name, sounds := range map[string]struct{ inScale, inThird, inChord bool }{
		"B": {true, true, false}, "Cb": {true, true, false}, "A##": {true, true, false}, "G": {true, true, true},
		"E": {true, false, true}, "Fb": {true, false, true}, "F": {true, false, false}, "F#": {false, false, false}, "Bb": {false, false, false},
	} {
		tone := theorytest.Pitch(t, name+"4").Tone
		assert.Equal(t, sounds.inScale, scale.Sounds(tone), "%s in C major", name)
		assert.Equal(t, sounds.inThird, third.Has(tone), "%s in %s", name, third)
		assert.Equal(t, sounds.inChord, theorytest.Chord(t, "C").Contains(tone), "%s in C", name)
	}
}
