package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/exercise"
)

func TestNewWritesAStarterThatIsWell(t *testing.T) {
	t.Chdir(t.TempDir())
	r := thirdwise("new")
	assert.Equal(t, done, r.status, r.stderr)
	assert.Equal(t, []string{"exercise.yaml"}, entries(t, "."))
	r = thirdwise("check", "exercise.yaml")
	assert.Equal(t, done, r.status)
	assert.Contains(t, r.stdout, "exercise.yaml: no mistakes")
}

func TestNewNeverWritesOverAFile(t *testing.T) {
	path := fileWith(t, "mine.yaml", "mine")
	r := thirdwise("new", path)
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stderr, path+" already exists")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(text))
}

func TestNewSaysWhereItCannotWrite(t *testing.T) {
	path := filepath.Join(t.TempDir(), "missing", "exercise.yaml")
	r := thirdwise("new", path)
	assert.Equal(t, wrong, r.status)
	assert.Equal(t, "thirdwise: "+path+" was not written: no such file or directory\n", r.stderr)
}

func TestNewPrintsTheStarterToStandardOutput(t *testing.T) {
	assert.Equal(t, reply{done, exercise.Starter, ""}, thirdwise("new", "-"))
}
