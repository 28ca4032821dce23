//go:build linux || darwin

package machine

import (
	"math"

	"golang.org/x/sys/unix"
)

func freeDisk(folder string) (bytes int64, ok bool) {
	var disk unix.Statfs_t
	if err := unix.Statfs(folder, &disk); err != nil {
		return 0, false
	}
	return int64(disk.Bavail) * int64(disk.Bsize), true
}

// OpenFiles returns how many files the program may have open at once; ok is false
// where that cannot be known.
func OpenFiles() (n int, ok bool) {
	var limit unix.Rlimit
	if err := unix.Getrlimit(unix.RLIMIT_NOFILE, &limit); err != nil {
		return 0, false
	}
	return int(min(limit.Cur, math.MaxInt32)), true
}
