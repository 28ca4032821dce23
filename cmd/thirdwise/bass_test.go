package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Who asks for the bass of an exercise that has none gets all else, and is told.
func TestABassThatIsNotThereIsLeftOut(t *testing.T) {
	folder := t.TempDir()
	r := thirdwise("render", "--mix", "bass,click", "-o", folder, file(t, "small.yaml", small))
	require.Equal(t, done, r.status, r.stderr)
	assert.Contains(t, r.stderr, `warning: "Small Steps" has no bass`)
	assert.Contains(t, entries(t, folder+"/small"), "small-180-click.wav")
	assert.NotContains(t, entries(t, folder+"/small"), "small-180-bass.wav")
}
