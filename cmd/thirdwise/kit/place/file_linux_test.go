package place

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// That a system is asked to change permissions shows in the time of a file's last change.
func TestPermissionsThatAreRightAreLeftAlone(t *testing.T) {
	path, clock := filepath.Join(t.TempDir(), "kit"), filepath.Join(t.TempDir(), "clock")
	changed := func(path string) time.Time {
		entry, err := os.Stat(path)
		require.NoError(t, err)
		return time.Unix(entry.Sys().(*syscall.Stat_t).Ctim.Unix())
	}
	require.NoError(t, os.Mkdir(path, 0o700))
	begun := changed(path)
	require.Eventually(t, func() bool {
		require.NoError(t, os.WriteFile(clock, nil, 0o666))
		return changed(clock).After(begun)
	}, time.Minute, time.Millisecond)
	require.NoError(t, permit(path, 0o700))
	assert.Equal(t, begun, changed(path))
	require.NoError(t, permit(path, 0o755))
	entry, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o755), entry.Mode().Perm())
	require.Error(t, permit(path+"-missing", 0o755))
}
