package place

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAFileIsReplacedWhole(t *testing.T) {
	parent := t.TempDir()
	path := filepath.Join(parent, "index.html")
	drafts := new(Drafts)
	require.NoError(t, drafts.WriteFile(path, []byte("old")))
	require.NoError(t, os.Chmod(path, 0o640))
	before, err := os.Open(path)
	require.NoError(t, err)
	defer before.Close()
	require.NoError(t, drafts.WriteFile(path, []byte("new")))
	assert.Equal(t, map[string]string{"index.html": "new"}, tree(t, parent))
	entry, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o640), entry.Mode().Perm())
	text := make([]byte, 3)
	_, err = before.Read(text)
	require.NoError(t, err)
	assert.Equal(t, "old", string(text), "it is another file: the old one was whole to the end")
}

func TestAFileThatCannotBeWrittenLeavesWhatWasThere(t *testing.T) {
	parent := t.TempDir()
	path := filepath.Join(parent, "page", "index.html")
	require.Error(t, new(Drafts).WriteFile(path, []byte("new")), "there is no such folder")
	assert.Empty(t, tree(t, parent))
	require.NoError(t, os.WriteFile(filepath.Join(parent, "page"), []byte("old"), 0o666))
	require.Error(t, new(Drafts).WriteFile(path, []byte("new")), "it is a file")
	require.Error(t, new(Drafts).WriteFile(parent, []byte("new")), "it is a folder")
	abandoned := new(Drafts)
	abandoned.Abandon()
	require.Error(t, abandoned.WriteFile(filepath.Join(parent, "page"), []byte("new")))
	assert.Equal(t, map[string]string{"page": "old"}, tree(t, parent))
}

func TestALinkIsWrittenThrough(t *testing.T) {
	parent := t.TempDir()
	target, link := filepath.Join(parent, "bench.html"), filepath.Join(parent, "link.html")
	require.NoError(t, os.WriteFile(target, []byte("old"), 0o666))
	require.NoError(t, os.Symlink(target, link))
	require.NoError(t, new(Drafts).WriteFile(link, []byte("new")))
	text, err := os.ReadFile(target)
	require.NoError(t, err)
	assert.Equal(t, "new", string(text))
}
