//go:build !linux && !darwin && !windows

package machine

func freeDisk(string) (bytes int64, ok bool) { return 0, false }

// OpenFiles returns how many files the program may have open at once; ok is false
// where that cannot be known.
func OpenFiles() (n int, ok bool) { return 0, false }
