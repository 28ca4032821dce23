package main

import (
	"fmt"
	"os"
	"runtime/debug"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"thirdwise/cmd/thirdwise/kit"
)

// commit is the one that a release is built of; the linker sets it.
var commit string

// version tells the program's version, the commit that it was built of, where that
// is known, and the version of Go.
func version() string {
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

// A versionFlag prints the version and leaves it at that.
type versionFlag bool

// BeforeReset makes kong act on the flag before it looks for a command.
func (versionFlag) BeforeReset(app *kong.Kong) error {
	fmt.Fprintln(app.Stdout, version())
	app.Exit(done)
	return nil
}

// built returns when the program's file was written, or the zero time where that
// cannot be known.
func built() time.Time {
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
