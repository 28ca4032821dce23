// Mutants changes the program in small ways, one at a time, and tells which changes
// no test notices.
//
//	go run ./.ci/mutants [-sample 100 [-seed 1]] [-also "arrange arrange/score"] theory/line smf
//
// Of each room it changes comparisons, sums, conditions and whole numbers: all of
// them, or so many of them, drawn by a seed. It runs the room's own tests and those
// of the rooms that -also names, and prints the survivors with their share. What
// does not compile is not counted. A survivor is a test that is missing, or a change
// that makes no difference. With -again FILE only those changes are made that
// survived in an earlier run, whose output the file is.
//
// A test binary is built once, with every change in it behind a switch (file
// switch.go), and asked once, test by test, how long each takes and which switches
// it passes. So a change costs only the tests that can notice it, the quick ones
// first. A constant cannot be switched; it is changed in the source, and built anew.
package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"time"
)

func main() {
	sample := flag.Int("sample", 0, "try so many changes, drawn by the seed; 0 tries all")
	seed := flag.Uint64("seed", 1, "what the sample is drawn by")
	also := flag.String("also", "", "rooms whose tests are run too, with spaces between them")
	again := flag.String("again", "", "a file with the survivors of an earlier run, which alone are tried")
	flag.Parse()
	for _, room := range flag.Args() {
		begun := time.Now()
		all := changesIn(room)
		chosen := slices.Clone(all)
		if *again != "" {
			chosen = survivorsIn(*again, all)
		}
		if *sample > 0 && *sample < len(chosen) {
			rand.New(rand.NewPCG(*seed, 0)).Shuffle(len(chosen), func(i, j int) { chosen[i], chosen[j] = chosen[j], chosen[i] })
			chosen = chosen[:*sample]
			slices.SortFunc(chosen, func(a, b *change) int { return a.number - b.number })
		}
		tried, survived := try(room, strings.Fields(*also), all, chosen)
		fmt.Printf("%s: %d of %d survived (%.1f %%), of %d changes, in %s\n", room, survived, tried, 100*float64(survived)/float64(max(1, tried)), len(all), time.Since(begun).Round(time.Second))
	}
}

// survivorsIn returns the changes that the output of an earlier run names.
func survivorsIn(path string, all []*change) (named []*change) {
	text, err := os.ReadFile(path)
	check(err)
	lines := strings.Split(string(text), "\n")
	for _, c := range all {
		if slices.ContainsFunc(lines, func(line string) bool { return strings.TrimSuffix(line, unreached) == c.String() }) {
			named = append(named, c)
		}
	}
	return named
}

// unreached ends the line of a survivor that no test could have noticed.
const unreached = " (no test comes here)"

// try makes the chosen changes of a room, one at a time, prints those that no test
// notices, and counts them.
func try(room string, also []string, all, chosen []*change) (tried, survived int) {
	work, err := os.MkdirTemp("", "mutants-")
	check(err)
	defer os.RemoveAll(work)
	var binaries []*binary
	for _, tested := range append([]string{room}, also...) {
		binaries = append(binaries, buildSwitched(work, room, tested, all))
	}
	for _, b := range binaries {
		b.measure(work)
	}
	for _, c := range chosen {
		var outcome result
		if c.switched != nil {
			outcome = noticedBy(work, binaries, c)
		} else {
			outcome = rebuilt(work, binaries, c)
		}
		switch outcome {
		case survives:
			fmt.Println(c)
			survived++
		case passedBy:
			fmt.Println(c.String() + unreached)
			survived++
		case unbuilt:
			continue
		}
		tried++
	}
	return tried, survived
}

// A result is what came of a change.
type result int

const (
	noticed  result = iota // a test failed, or took for ever
	survives               // all tests pass
	passedBy               // there is no test that comes to the change
	unbuilt                // it does not compile
)

// noticedBy runs the tests that pass a change's switch, with it switched.
func noticedBy(work string, binaries []*binary, c *change) result {
	outcome := passedBy
	for _, b := range binaries {
		var passing []test
		for _, t := range b.tests {
			if t.passes[c.number] {
				passing = append(passing, t)
			}
		}
		if len(passing) > 0 {
			outcome = survives
		}
		if b.fails(work, passing, c.number) {
			return noticed
		}
	}
	return outcome
}

// rebuilt runs all tests with a change made in the source.
func rebuilt(work string, binaries []*binary, c *change) result {
	overlay := newOverlay(work)
	overlay.replace(c.file.path, applied(c.file.text, c.plain))
	for _, b := range binaries {
		changed := &binary{room: b.room, path: b.path + "-changed", flags: b.flags}
		if output := overlay.build(changed); output != "" {
			return unbuilt
		}
		if changed.fails(work, b.tests, 0) {
			return noticed
		}
	}
	return survives
}

func check(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
