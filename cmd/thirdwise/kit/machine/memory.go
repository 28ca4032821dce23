package machine

import (
	"os"
	"strconv"
	"strings"
)

// FreeMemory returns how many bytes of memory a program can still have, within the
// limits of its container (cgroup v2) where it has one; ok is false where that
// cannot be known, as outside Linux.
func FreeMemory() (bytes int64, ok bool) {
	text, err := os.ReadFile("/proc/meminfo")
	if err != nil {
		return 0, false
	}
	bytes, ok = available(string(text))
	limit, limited := number("/sys/fs/cgroup/memory.max")
	used, known := number("/sys/fs/cgroup/memory.current")
	if limited && known {
		bytes = min(bytes, max(0, limit-used))
	}
	return bytes, ok
}

// available returns what a meminfo (proc(5)) says that programs can have.
func available(meminfo string) (bytes int64, ok bool) {
	for line := range strings.Lines(meminfo) {
		if rest, found := strings.CutPrefix(line, "MemAvailable:"); found {
			kilobytes, err := strconv.ParseInt(strings.TrimSuffix(strings.TrimSpace(rest), " kB"), 10, 64)
			return kilobytes << 10, err == nil
		}
	}
	return 0, false
}

// number reads a file that holds a number and nothing else.
func number(path string) (n int64, ok bool) {
	text, err := os.ReadFile(path)
	if err != nil {
		return 0, false
	}
	n, err = strconv.ParseInt(strings.TrimSpace(string(text)), 10, 64)
	return n, err == nil
}
