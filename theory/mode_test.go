package theory_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory"
	"thirdwise/theory/chordscale"
	"thirdwise/theory/theorytest"
)

// Any seven-note scale can be a mode. Hungarian minor, 1 2 ♭3 ♯4 5 ♭6 7 (common
// practice), has thirds on its degrees that are none, and so degrees without a
// chord.
func TestAnUnusualModeNeedsNoMoreThanItsRow(t *testing.T) {
	_, undo := theory.AddMode("hungarian minor", [7]int{0, 2, 3, 6, 7, 8, 11}, -3, true)
	defer undo()
	k := theorytest.Key(t, "A hungarian minor")
	tones := k.Tones()
	assert.Equal(t, "A B C D# E F G#", spell(tones[:]))
	assert.Equal(t, "A hungarian minor", k.String())
	assert.True(t, k.MinorThird())

	var triads []string
	for _, c := range k.Triads() {
		triads = append(triads, c.ASCII())
	}
	assert.Equal(t, []string{"Am", "B(b5)", "Caug", "E", "F", "G#m"}, triads)
	for _, c := range k.Sevenths() {
		assert.True(t, k.Owns(c.Chord), c)
	}
	_, err := theory.ParseDegree("4", k)
	assert.EqualError(t, err, "degree 4 of A hungarian minor has no triad with a name; write a chord symbol")

	for _, key := range k.Mode.Keys() {
		require.NoError(t, key.Check())
		for _, q := range theory.Qualities() {
			for _, root := range key.Tones() {
				scale := chordscale.Over(key, theory.Chord{Root: root, Quality: q, Bass: root})
				for staff := range 7 {
					assert.True(t, scale.Third(staff).IsThird(), "%s%s in %s", root, q, key)
				}
			}
		}
		for degree, third := range key.Thirds() {
			assert.Equal(t, degree == 3, third.Quality() == "d3", third)
		}
	}
	assert.True(t, slices.Contains(theory.Modes(), k.Mode))
}
