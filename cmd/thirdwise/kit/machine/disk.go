// Package machine tells what is free on the machine that the program runs on: disk,
// memory, and how many files it may have open.
package machine

import (
	"os"
	"path/filepath"
)

// FreeDisk returns how many bytes the disk of a folder has room for, or of the first
// above it that exists; ok is false where that cannot be known.
func FreeDisk(folder string) (bytes int64, ok bool) {
	for {
		if _, err := os.Stat(folder); err == nil {
			return freeDisk(folder)
		}
		above := filepath.Dir(folder)
		if above == folder {
			return 0, false
		}
		folder = above
	}
}
