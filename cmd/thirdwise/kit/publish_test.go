package kit

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// oldKit puts a kit into a folder and returns its path.
func oldKit(t *testing.T, folder string) (target string) {
	target = filepath.Join(folder, "old")
	require.NoError(t, os.MkdirAll(target, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(target, ManifestName), []byte(`{"software": "thirdwise 0.0.1"}`), 0o666))
	require.NoError(t, os.WriteFile(filepath.Join(target, "old.wav"), []byte("old"), 0o666))
	return target
}

// names lists a folder.
func names(t *testing.T, folder string) []string {
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	list := []string{}
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return list
}

func writeText(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

func TestPublishReplacesAKitWhole(t *testing.T) {
	folder := t.TempDir()
	target := oldKit(t, folder)
	d, err := newDraft(target)
	require.NoError(t, err)
	require.NoError(t, d.write(&File{Name: "new.wav"}, writeText("new")))
	assert.Equal(t, []string{ManifestName, "old.wav"}, names(t, target), "before it is published nothing changes")
	require.NoError(t, d.publish())
	require.NoError(t, d.discard())
	assert.Equal(t, []string{"new.wav"}, names(t, target))
	assert.Equal(t, []string{"old"}, names(t, folder), "no draft is left behind")
}

func TestReplaceWithoutExchangeKeepsOneOfTheTwo(t *testing.T) {
	folder := t.TempDir()
	target := oldKit(t, folder)
	err := replace(filepath.Join(folder, "missing"), target, filepath.Join(folder, "aside"))
	assert.Error(t, err)
	assert.Equal(t, []string{ManifestName, "old.wav"}, names(t, target))
	assert.Equal(t, []string{"old"}, names(t, folder))
}

func TestADiscardedDraftLeavesWhatWasThere(t *testing.T) {
	folder := t.TempDir()
	target := oldKit(t, folder)
	d, err := newDraft(target)
	require.NoError(t, err)
	failed := errors.New("the disk is full")
	assert.ErrorIs(t, d.write(&File{Name: "new.wav"}, func(io.Writer) error { return failed }), failed)
	require.NoError(t, d.discard())
	assert.Equal(t, []string{ManifestName, "old.wav"}, names(t, target))
	assert.Equal(t, []string{"old"}, names(t, folder))
}

func TestADiscardedDraftTakesTheFoldersMadeForItAlong(t *testing.T) {
	folder := t.TempDir()
	d, err := newDraft(filepath.Join(folder, "a", "b", "kit"))
	require.NoError(t, err)
	require.NoError(t, d.discard())
	assert.Empty(t, names(t, folder))
}

func TestWhatIsNoKitIsNotReplaced(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "file")
	require.NoError(t, os.WriteFile(file, []byte("mine"), 0o666))
	photos := filepath.Join(folder, "photos")
	require.NoError(t, os.Mkdir(photos, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(photos, "one.jpg"), []byte("mine"), 0o666))
	other := filepath.Join(folder, "other")
	require.NoError(t, os.Mkdir(other, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(other, ManifestName), []byte(`{"software": "a kit of drums"}`), 0o666))
	link := filepath.Join(folder, "link")
	require.NoError(t, os.Symlink(photos, link))
	for _, target := range []string{file, photos, other, link} {
		_, err := newDraft(target)
		assert.ErrorContains(t, err, target)
	}
	assert.Equal(t, []string{"file", "link", "other", "photos"}, names(t, folder))
	assert.Equal(t, []string{"one.jpg"}, names(t, photos))
}

func TestAnEmptyFolderIsFilled(t *testing.T) {
	target := filepath.Join(t.TempDir(), "empty")
	require.NoError(t, os.Mkdir(target, 0o777))
	d, err := newDraft(target)
	require.NoError(t, err)
	require.NoError(t, d.write(&File{Name: "new.wav"}, writeText("new")))
	require.NoError(t, d.publish())
	assert.Equal(t, []string{"new.wav"}, names(t, target))
}

// The hash of "abc" is that of FIPS 180-2, appendix B.1.
func TestWriteCountsAndHashesAFile(t *testing.T) {
	d, err := newDraft(filepath.Join(t.TempDir(), "kit"))
	require.NoError(t, err)
	f := File{Name: "abc"}
	require.NoError(t, d.write(&f, writeText("abc")))
	assert.EqualValues(t, 3, f.Bytes)
	assert.Equal(t, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", f.SHA256)
}
