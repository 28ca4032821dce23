package theory

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNoSpellingStandsForTwoQualities(t *testing.T) {
	owner := map[string]Quality{}
	for _, q := range Qualities() {
		for _, s := range append([]string{qualities[q].symbol}, qualities[q].spellings...) {
			folded := foldSpelling(s)
			first, taken := owner[folded]
			assert.False(t, taken, "%q of %q is %q's already", s, q, first)
			owner[folded] = q
		}
	}
}

func TestNoTwoQualitiesAreTheSameChord(t *testing.T) {
	for _, q := range Qualities() {
		assert.Equal(t, q, qualityStacked(q.Intervals()), "%q", q)
	}
}

// Kitten to sitting takes three edits in every textbook (from memory). Two
// letters swapped are one edit more than textbooks' simplest count knows.
func TestEditsAreCounted(t *testing.T) {
	assert.Equal(t, 0, edits("", ""))
	assert.Equal(t, 3, edits("", "maj"))
	assert.Equal(t, 3, edits("kitten", "sitting"))
	assert.Equal(t, 1, edits("mja7", "maj7"))
	assert.Equal(t, 1, edits("sus3", "sus4"))
}
