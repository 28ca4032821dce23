package place

import "golang.org/x/sys/windows"

func free(folder string) (bytes int64, ok bool) {
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
