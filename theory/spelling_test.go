package theory

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNoSpellingStandsForTwoQualities(t *testing.T) {
	owner := map[string]Quality{}
	for _, q := range Qualities() {
		for _, s := range append([]string{qualities[q].symbol}, qualities[q].spellings...) {
			form := foldSpelling(s)
			first, taken := owner[form]
			assert.False(t, taken, "%q of %q is %q's already", s, q, first)
			owner[form] = q
		}
	}
}

func TestNoTwoQualitiesAreTheSameChord(t *testing.T) {
	for _, q := range Qualities() {
		for _, other := range Qualities() {
			assert.Equal(t, q == other, slices.Equal(q.Intervals(), other.Intervals()), "%q and %q", q, other)
		}
	}
}

// Kitten to sitting takes three edits in every textbook (from memory). Two
// letters swapped are one edit more than textbooks' simplest count knows.
func TestEditsAreCounted(t *testing.T) {
	assert.Equal(t, 0, Edits("", ""))
	assert.Equal(t, 3, Edits("", "maj"))
	assert.Equal(t, 3, Edits("kitten", "sitting"))
	assert.Equal(t, 1, Edits("mja7", "maj7"))
	assert.Equal(t, 1, Edits("sus3", "sus4"))
}

func TestOnlyANearSpellingIsSuggested(t *testing.T) {
	assert.Equal(t, []Quality{MajorSeventh}, NearestQualities("mja7"))
	for _, found := range []string{"foo", "q", "xyz7xyz", "maj7maj7maj7maj7x", "7#b8" /* five are as near */} {
		assert.Empty(t, NearestQualities(found), found)
	}
}
