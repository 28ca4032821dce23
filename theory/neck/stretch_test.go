package neck

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

// Who can play a third within the position on other strings does not stretch for it
// (common practice).
func TestNoStretchWhereOtherStringsHelp(t *testing.T) {
	n := Neck{Tuning: Standard()}
	key := theorytest.Key(t, "A major")
	line := []theory.Third{thirdOn(t, key, "C#4"), thirdOn(t, key, "A3"), thirdOn(t, key, "C#4")}
	pairs, err := n.Finger(line, At(3))
	require.NoError(t, err)
	assert.Equal(t, Pair{Lower: Place{4, 7}, Upper: Place{3, 6}}, pairs[1], "not at fret 2, on the strings of the others")

	rapid.Check(t, func(t *rapid.T) {
		k, p := theorytest.AnyKey().Draw(t, "key"), rapid.SampledFrom(n.Candidates()).Draw(t, "position")
		thirds := rapid.SliceOfN(rapid.SampledFrom(n.playable(k.Scale(), p)), 1, 12).Draw(t, "line")
		pairs, err := n.Finger(thirds, p)
		require.NoError(t, err)
		for i, pair := range pairs {
			effort, _ := pair.effort(p)
			if least, _ := n.Effort(thirds[i], p); least < stretchEffort {
				require.Less(t, effort, stretchEffort, "%s in position %s: %v", thirds[i], p, pair)
			}
		}
	})
}
