package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"thirdwise/cmd/thirdwise/kit"
)

// A progress tells how the making of a kit goes: on a terminal, in a line drawn
// over itself; elsewhere, when the kit is there, in a line a file.
type progress struct {
	w        io.Writer
	folder   string
	terminal bool
}

// eraseLine is the control sequence that goes back to the beginning of a line
// and empties it (ECMA-48, EL).
const eraseLine = "\r\x1b[K"

// count tells how many of all files are complete.
func (p *progress) count(complete, all int) {
	if p.terminal {
		fmt.Fprintf(p.w, "%s%s: %d of %d files", eraseLine, p.folder, complete, all)
	}
}

// clear takes away what was only for the time being.
func (p *progress) clear() {
	if p.terminal {
		fmt.Fprint(p.w, eraseLine)
	}
}

// advise tells, on a terminal, what to play and what to print of the first kit.
func (p *progress) advise(files []kit.File) {
	if !p.terminal {
		return
	}
	play := slices.IndexFunc(files, func(f kit.File) bool { return f.Kind == kit.KindAudio })
	sheet := slices.IndexFunc(files, func(f kit.File) bool { return f.Kind == kit.KindSheet })
	if play >= 0 && sheet >= 0 {
		fmt.Fprintf(p.w, "play %s; print %s\n", filepath.Join(p.folder, files[play].Name), filepath.Join(p.folder, files[sheet].Name))
	}
}

// list tells what the kit holds.
func (p *progress) list(files []kit.File) {
	if !p.terminal {
		for _, f := range files {
			fmt.Fprintln(p.w, filepath.Join(p.folder, f.Name))
		}
		return
	}
	var bytes int64
	for _, f := range files {
		bytes += f.Bytes
	}
	fmt.Fprintf(p.w, "%s%s: %s, %s\n", eraseLine, p.folder, counted(len(files), "file", "files"), kit.DiskSpace(bytes))
}
