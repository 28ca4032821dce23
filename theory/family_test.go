package theory_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

func TestFamiliesAreOfTheScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := theorytest.AnyKey().Draw(t, "key")
		triads, sevenths := k.Triads(), k.Sevenths()
		for i, root := range k.Tones() {
			assert.Equal(t, i+1, triads[i].Degree)
			assert.Equal(t, i+1, sevenths[i].Degree)
			assert.Equal(t, root, triads[i].Root)
			assert.Len(t, triads[i].Tones(), 3)
			assert.Len(t, sevenths[i].Tones(), 4)
			assert.Equal(t, triads[i].Tones(), sevenths[i].Tones()[:3])
			for _, tone := range sevenths[i].Tones() {
				assert.True(t, k.Scale().Contains(tone))
			}
		}
	})
}

func TestDegreesAreTheKeysOwnTriads(t *testing.T) {
	for key, want := range map[string]string{
		"C major":          "C Dm Em F G Am Bdim", // common practice
		"A minor":          "Am Bdim C Dm Em F G",
		"A harmonic minor": "Am Bdim Caug Dm E F G#dim",
		"Eb mixolydian":    "Eb Fm Gdim Ab Bbm Cm Db",
	} {
		for i, symbol := range strings.Fields(want) {
			c, err := theory.ParseDegree(fmt.Sprint(i+1), theorytest.Key(t, key))
			require.NoError(t, err)
			assert.Equal(t, theorytest.Chord(t, symbol), c, "%d in %s", i+1, key)
		}
	}
	for _, s := range []string{"", "0", "8", "-1", "11", "5m", "V", "٣"} {
		_, err := theory.ParseDegree(s, theory.Key{})
		assert.ErrorContains(t, err, "a number from 1 to 7", s)
	}
}

func ExampleParseDegree() {
	k, _ := theory.ParseKey("C major")
	for _, degree := range []string{"1", "6", "2", "5"} {
		c, _ := theory.ParseDegree(degree, k)
		fmt.Print(c, " ")
	}
	// Output: C Am Dm G
}
