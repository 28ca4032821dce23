package machine

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The lines are those of proc(5)'s own example of a meminfo, from memory.
func TestFreeMemoryIsWhatProgramsCanHave(t *testing.T) {
	bytes, ok := available("MemTotal:       16315468 kB\nMemFree:          804412 kB\nMemAvailable:    9212404 kB\n")
	assert.True(t, ok)
	assert.EqualValues(t, 9212404<<10, bytes)
	for _, text := range []string{"", "MemTotal: 1 kB\n", "MemAvailable: much kB\n"} {
		_, ok := available(text)
		assert.False(t, ok, text)
	}
}

func TestTheDiskOfAFolderThatIsNotYetThereIsThatOfTheOneAbove(t *testing.T) {
	folder := t.TempDir()
	_, known := FreeDisk(folder)
	_, ok := FreeDisk(filepath.Join(folder, "kits", "lessons"))
	assert.Equal(t, known, ok)
}
