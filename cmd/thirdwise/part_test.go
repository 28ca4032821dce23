package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Who asks for the bass or the groove of an exercise that has none gets all else, and is
// told.
func TestAPartThatIsNotThereIsLeftOut(t *testing.T) {
	folder := t.TempDir()
	r := thirdwise("render", "--mix", "bass,groove,click", "-o", folder, fileWith(t, "small.yaml", small))
	require.Equal(t, done, r.status, r.stderr)
	assert.Contains(t, r.stderr, `warning: "Small Steps" has no bass`)
	assert.Contains(t, r.stderr, `warning: "Small Steps" has no groove`)
	assert.Contains(t, entries(t, folder+"/small"), "small-180-click.wav")
	assert.NotContains(t, entries(t, folder+"/small"), "small-180-bass.wav")
	assert.NotContains(t, entries(t, folder+"/small"), "small-180-groove.wav")
}

// One that has them has a file of each, and kit.json says what plays.
func TestAGrooveHasAMixOfItsOwn(t *testing.T) {
	folder := t.TempDir()
	r := thirdwise("render", "--mix", "groove,full", "-o", folder, fileWith(t, "small.yaml", small+"groove: brush\nclick: count-in\n"))
	require.Equal(t, done, r.status, r.stderr)
	assert.Contains(t, entries(t, folder+"/small"), "small-180-groove.wav")
	manifest, err := os.ReadFile(folder + "/small/kit.json")
	require.NoError(t, err)
	assert.Contains(t, string(manifest), `"groove": "brush"`)
	assert.Contains(t, string(manifest), `"click": "count-in"`)
}
