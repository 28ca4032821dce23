package place

import (
	"os"
	"path/filepath"
)

// Free returns how many bytes the disk of a folder has room for, or of the first
// above it that exists; ok is false where that cannot be known.
func Free(folder string) (bytes int64, ok bool) {
	for {
		if _, err := os.Stat(folder); err == nil {
			return free(folder)
		}
		above := filepath.Dir(folder)
		if above == folder {
			return 0, false
		}
		folder = above
	}
}
