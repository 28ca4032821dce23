package kit

import (
	"fmt"
	"path/filepath"
	"runtime"

	"thirdwise/cmd/thirdwise/kit/machine"
)

// What all kits of a run take together.
const (
	memoryLimit    = 300_000_000 // bytes, whatever is made
	memoryShared   = 135_000_000 // bytes: sounds of notes, fonts, the program itself
	memoryInCommon = 120_000_000 // bytes at most: what accompanies the guide, which kits of one key have in common
	filesShared    = 24          // open files beside the tracks
)

// Fit returns an error where kits, of these names and sizes, cannot be made in a
// folder: where the disk has no room for them, the memory none for one of them, or
// the system does not let as many files be open. It says by how much. What cannot be
// known of the machine is no reason.
func Fit(folder string, names []string, sizes []Size) error {
	for i, size := range sizes {
		if err := size.fit(names[i]); err != nil {
			return err
		}
	}
	return fitDisk(folder, names, sizes)
}

// fit returns an error where there is not even room for this kit alone.
func (s Size) fit(name string) error {
	if limit, known := machine.OpenFiles(); known && s.Tracks+filesShared > limit {
		return fmt.Errorf("the kit %s has %d tracks, which are written side by side, and the system lets the program have %d files open: %d are missing; "+
			"ask for fewer tempos or mixes, or raise the limit (ulimit -n %d)",
			name, s.Tracks, limit, s.Tracks+filesShared-limit, s.Tracks+filesShared)
	}
	if free, known := machine.FreeMemory(); known && s.Alone > free {
		return fmt.Errorf("the kit %s takes about %s of memory, and %s are free: %s are missing; end other programs, or write a shorter chart",
			name, Space(s.Alone), Space(free), Space(s.Alone-free))
	}
	return nil
}

// fitDisk returns an error where the disk of a folder has no room for kits. One that
// replaces another of its name gives back what that took.
func fitDisk(folder string, names []string, sizes []Size) error {
	free, known := machine.FreeDisk(folder)
	if !known {
		return nil
	}
	left := free
	var all, most int64 // bytes of all kits; that are missing at the worst moment
	for i, name := range names {
		all += sizes[i].Bytes
		left -= sizes[i].Bytes
		most = max(most, -left)
		if old, err := ReadManifest(filepath.Join(folder, name)); err == nil {
			for _, f := range old.Files {
				left += f.Bytes
			}
		}
	}
	if most == 0 {
		return nil
	}
	return fmt.Errorf("the disk of %s has %s free, and the kits take about %s: %s are missing; ask for fewer, or for --format flac",
		folder, Space(free), Space(all), Space(most))
}

// Time returns about how many seconds making the kit takes on this machine.
func (s Size) Time() float64 { return max(s.Longest, s.Work/float64(runtime.GOMAXPROCS(0))) }

// AtOnce returns how many kits of these sizes can be made at the same time within
// the limits of memory and open files, at least one.
func AtOnce(sizes []Size) int {
	var memory int64
	tracks := 0
	for _, s := range sizes {
		memory, tracks = max(memory, s.Memory), max(tracks, s.Tracks)
	}
	most := len(sizes)
	if memory > 0 {
		most = min(most, int((memoryLimit-memoryShared)/memory))
	}
	if limit, known := machine.OpenFiles(); known && tracks > 0 {
		most = min(most, (limit-filesShared)/tracks)
	}
	return max(1, most)
}

// InCommon returns how many bytes are left, beside so many kits of these sizes that are
// made at once, for what they have in common. It need not be more than three tempos of a
// song take.
func InCommon(sizes []Size, atOnce int) int {
	var memory int64
	for _, s := range sizes {
		memory = max(memory, s.Memory)
	}
	return int(max(0, min(memoryInCommon, memoryLimit-memoryShared-int64(atOnce)*memory)))
}

// Space writes a number of bytes, on a disk or in memory, as people read it; a few
// bytes are as much as 0.1 MB.
func Space(bytes int64) string {
	if bytes < 1e9 {
		return fmt.Sprintf("%.1f MB", max(0.1, float64(bytes)/1e6))
	}
	return fmt.Sprintf("%.1f GB", float64(bytes)/1e9)
}
