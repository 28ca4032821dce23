// Package build tells which program this is: its version, and what it was built of.
package build

import (
	"os"
	"runtime/debug"
	"strings"
	"time"

	"thirdwise/cmd/thirdwise/kit"
)

// commit is the one that a release is built of; the linker sets it.
var commit string

// Version tells the program's version, the commit that it was built of, where that
// is known, and the version of Go.
func Version() string {
	built, ok := debug.ReadBuildInfo()
	of := commit
	if ok && of == "" {
		for _, s := range built.Settings {
			if s.Key == "vcs.revision" {
				of = s.Value
			}
		}
	}
	parts := []string{kit.Software}
	if of != "" {
		parts = append(parts, "commit "+of)
	}
	if ok {
		parts = append(parts, built.GoVersion)
	}
	return strings.Join(parts, ", ")
}

// Time returns when the program's file was written, or the zero time where that
// cannot be known.
func Time() time.Time {
	program, err := os.Executable()
	if err != nil {
		return time.Time{}
	}
	entry, err := os.Stat(program)
	if err != nil {
		return time.Time{}
	}
	return entry.ModTime()
}
