package machine

import "golang.org/x/sys/windows"

func freeDisk(folder string) (bytes int64, ok bool) {
	path, err := windows.UTF16PtrFromString(folder)
	if err != nil {
		return 0, false
	}
	var available uint64
	if err := windows.GetDiskFreeSpaceEx(path, &available, nil, nil); err != nil {
		return 0, false
	}
	return int64(available), true
}

// OpenFiles returns how many files the program may have open at once; ok is false
// where that cannot be known. Windows has no limit that a kit comes near.
func OpenFiles() (n int, ok bool) { return 0, false }
