package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A binary holds the tests of a room.
type binary struct {
	room, path string
	flags      []string // what its tests understand beside Go's own flags
	tests      []test   // the quick ones first
}

// A test is one of a binary's.
type test struct {
	name   string
	takes  time.Duration
	passes map[int]bool // the switches that it comes to
}

// buildSwitched builds the tests of a room with all changes of a room behind
// switches. What does not compile so is left to be changed in the source.
func buildSwitched(work, changed, tested string, all []*change) *binary {
	b := &binary{room: tested, path: filepath.Join(work, strings.ReplaceAll(tested, "/", "-"))}
	for {
		overlay := newOverlay(work)
		edits := map[*source][]edit{}
		for _, c := range all {
			edits[c.file] = append(edits[c.file], c.switched...)
		}
		for file, e := range edits {
			overlay.replace(file.path, applied(file.text, e))
		}
		overlay.replace(filepath.Join(changed, "mutants_switch.go"), []byte("package "+all[0].file.room+switches))
		output := overlay.build(b)
		if output == "" {
			return b
		}
		left := false
		for complaint := range strings.Lines(output) {
			for _, c := range all {
				if c.switched != nil && c.namedIn(complaint) {
					c.switched, left = nil, true
				}
			}
		}
		if !left {
			check(fmt.Errorf("the tests of %s cannot be built:\n%s", tested, output))
		}
	}
}

// measure asks each test how long it takes and which switches it comes to. What a test
// draws at random it draws by the same seed each time, and so comes to the same ones
// when they are switched. Tests that fail as things are tell nothing and are left out.
func (b *binary) measure(work string) {
	if exec.Command(b.path, "-test.run=^$", "-rapid.nofailfile").Run() == nil {
		b.flags = []string{"-rapid.nofailfile", "-rapid.shrinktime=0s", "-rapid.seed=1"}
	}
	output, err := b.command("-test.list=.").Output()
	check(err)
	for name := range strings.Lines(string(output)) {
		name = strings.TrimSpace(name)
		if !strings.HasPrefix(name, "Test") && !strings.HasPrefix(name, "Example") && !strings.HasPrefix(name, "Fuzz") {
			continue
		}
		t := test{name: name, passes: map[int]bool{}}
		passed := filepath.Join(work, "passed")
		command := b.command("-test.short", "-test.run=^"+name+"$")
		command.Env = append(command.Env, "MUTANTS_PASSED="+passed)
		begun := time.Now()
		if output, err := command.CombinedOutput(); err != nil {
			fmt.Fprintf(os.Stderr, "%s fails unchanged:\n%s", name, output)
			continue
		}
		t.takes = time.Since(begun)
		if numbers, err := os.ReadFile(passed); err == nil {
			for _, field := range strings.Fields(string(numbers)) {
				number, err := strconv.Atoi(field)
				check(err)
				t.passes[number] = true
			}
			check(os.Remove(passed))
		}
		b.tests = append(b.tests, t)
	}
	slices.SortStableFunc(b.tests, func(x, y test) int { return cmp.Compare(x.takes, y.takes) })
}

// fails runs tests with a switch on and reports whether one fails: the quick ones
// together, then one after the other. A test that takes ten times as long as it
// should, and some seconds, never ends, if it does so twice: the first time the machine
// may have been busy.
func (b *binary) fails(work string, tests []test, on int) bool {
	const together = time.Second
	for len(tests) > 0 {
		var names []string
		var takes time.Duration
		for len(tests) > 0 && (len(names) == 0 || takes+tests[0].takes < together) {
			names, takes, tests = append(names, tests[0].name), takes+tests[0].takes, tests[1:]
		}
		most := 5*time.Second + 10*takes
		passed := func() bool {
			command := b.command("-test.short", "-test.failfast", "-test.timeout="+most.String(), "-test.run=^("+strings.Join(names, "|")+")$")
			command.Env = append(command.Env, "MUTANT="+strconv.Itoa(on), "TMPDIR="+work)
			return command.Run() == nil
		}
		begun := time.Now()
		if !passed() && (time.Since(begun) < most || !passed()) {
			return true
		}
	}
	return false
}

// command runs the binary where go test runs it, with less memory than the machine
// has: a change can make a loop that collects for ever.
func (b *binary) command(args ...string) *exec.Cmd {
	command := exec.Command("sh", append([]string{"-c", `ulimit -v 6000000; exec "$0" "$@"`, b.path}, append(args, b.flags...)...)...)
	command.Dir, command.Env = b.room, os.Environ()
	return command
}

// An overlay has the go command read other texts in place of files.
type overlay struct {
	work     string
	replaced map[string]string
}

func newOverlay(work string) *overlay { return &overlay{work, map[string]string{}} }

func (o *overlay) replace(path string, text []byte) {
	whole, err := filepath.Abs(path)
	check(err)
	instead := filepath.Join(o.work, fmt.Sprintf("%d.go", len(o.replaced)))
	check(os.WriteFile(instead, text, 0o666))
	o.replaced[whole] = instead
}

// build builds the tests of a room and returns what the compiler complains of.
func (o *overlay) build(b *binary) string {
	file := filepath.Join(o.work, "overlay.json")
	text, err := json.Marshal(map[string]any{"Replace": o.replaced})
	check(err)
	check(os.WriteFile(file, text, 0o666))
	output, err := exec.Command("go", "test", "-c", "-overlay", file, "-vet=off", "-gcflags=-e", "-o", b.path, "./"+b.room).CombinedOutput()
	if err == nil {
		return ""
	}
	return string(output)
}
