package vary

import (
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
)

// A variant's score is the same whether its line was kept or not; and of too many lines
// none more is kept.
func TestVariantsHaveTheirScoresAgain(t *testing.T) {
	e, err := exercise.Parse("steps.yaml", []byte("title: Steps\nkey: C\nchart: '| C | Am | F G | C |'\n"))
	require.NoError(t, err)
	want, _, err := arrange.Arrange(e)
	require.NoError(t, err)
	var k Keeper
	for _, full := range []bool{false, true} {
		if full {
			k.thirds.Store(keptThirds)
		}
		v := k.Keep(Variant{Exercise: e}, want)
		require.Equal(t, full, v.found == nil)
		got, err := v.Score()
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
}
