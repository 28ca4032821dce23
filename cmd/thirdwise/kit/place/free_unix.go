//go:build linux || darwin

package place

import "golang.org/x/sys/unix"

func free(folder string) (bytes int64, ok bool) {
	var disk unix.Statfs_t
	if err := unix.Statfs(folder, &disk); err != nil {
		return 0, false
	}
	return int64(disk.Bavail) * int64(disk.Bsize), true
}
