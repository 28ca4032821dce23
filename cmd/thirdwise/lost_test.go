package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/place"
)

func TestAnExerciseWithinItsKitStays(t *testing.T) {
	folder := t.TempDir()
	inside := filepath.Join(folder, "small", "small.yaml")
	require.NoError(t, os.MkdirAll(filepath.Dir(inside), 0o777))
	require.NoError(t, os.WriteFile(inside, []byte(small), 0o666))
	r := thirdwise("render", "--mix", "click", "-o", folder, file(t, "small.yaml", small))
	require.Equal(t, wrong, r.status, "a folder of another's is no kit")
	require.NoError(t, os.RemoveAll(filepath.Dir(inside)))

	require.Equal(t, done, thirdwise("render", "--mix", "click", "-o", folder, file(t, "small.yaml", small)).status)
	require.NoError(t, os.WriteFile(inside, []byte(small), 0o666))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "small", "my take.wav"), []byte("la la"), 0o666))
	for range 2 {
		r := thirdwise("render", "--mix", "full", "-o", folder, inside)
		require.Equal(t, done, r.status, r.stderr)
		files := contents(t, filepath.Join(folder, "small"))
		assert.Equal(t, small, files["small.yaml"])
		assert.Equal(t, "la la", files["my take.wav"])
		assert.Contains(t, files, "small-180-full.wav")
		assert.NotContains(t, files, "small-180-click.wav")
	}
}

func TestAKitOfAnotherExerciseIsNotReplaced(t *testing.T) {
	folder := t.TempDir()
	require.Equal(t, done, thirdwise("render", "--mix", "click", "-o", folder, file(t, "Small.yaml", small)).status)
	before := contents(t, filepath.Join(folder, "small"))
	r := thirdwise("render", "--mix", "full", "-o", folder, file(t, "small.yaml", small))
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stderr, filepath.Join(folder, "small")+" is the kit of another exercise, Small.yaml")
	assert.Equal(t, before, contents(t, filepath.Join(folder, "small")))
	var m kit.Manifest
	require.NoError(t, json.Unmarshal([]byte(before[kit.ManifestName]), &m))
	assert.Equal(t, "Small.yaml", m.Exercise)
}

func TestAKitIsNotMadeOutFromUnderOneself(t *testing.T) {
	folder := t.TempDir()
	path := file(t, "small.yaml", small)
	require.Equal(t, done, thirdwise("render", "--mix", "click", "-o", folder, path).status)
	t.Chdir(filepath.Join(folder, "small"))
	before := contents(t, ".")
	r := thirdwise("render", "--mix", "full", "-o", "..", path)
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stderr, "the folder that you are in")
	assert.Equal(t, before, contents(t, "."))
}

func TestOutputThatCannotBeWrittenIsAnError(t *testing.T) {
	path := file(t, "small.yaml", small)
	for _, args := range [][]string{
		{}, {"--help"}, {"--version"}, {"help", "render"}, {"new", "-"}, {"check", path}, {"check", "--json", path},
		{"show", path}, {"show", "--json", path}, {"neck", "C"}, {"neck", "--json", "C"},
		{"render", "--mix", "click", "-o", t.TempDir(), path},
	} {
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		if err != nil {
			t.Skip("no device here that is always full")
		}
		var stderr bytes.Buffer
		assert.Equal(t, wrong, run(t.Context(), args, nil, full, &stderr, &place.Drafts{}), args)
		assert.Contains(t, stderr.String(), "no space left", args)
		require.NoError(t, full.Close())
	}
}

func TestAnInterruptBeforeTheKitIsThereKeepsTheOldOne(t *testing.T) {
	folder := t.TempDir()
	before := render(t, folder, "--mix", "click")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stdout, stderr bytes.Buffer
	status := run(ctx, []string{"render", "-o", folder, file(t, "small.yaml", small)}, nil, &stdout, &stderr, &place.Drafts{})
	assert.Equal(t, wrong, status)
	assert.Equal(t, "thirdwise: the kit "+filepath.Join(folder, "small")+" was not written: interrupted\n", stderr.String())
	assert.Empty(t, stdout.String())
	assert.Equal(t, before, contents(t, filepath.Join(folder, "small")))
	assert.Equal(t, []string{"small"}, entries(t, folder))
}

// A dying is a program that is about to be interrupted.
type dying struct {
	*exec.Cmd
	stderr bytes.Buffer
}

// start starts the program.
func start(t *testing.T, args ...string) *dying {
	t.Helper()
	d := &dying{Cmd: exec.Command(os.Args[0], args...)}
	d.Env = append(os.Environ(), asProgram+"=1")
	d.Stderr = &d.stderr
	require.NoError(t, d.Start())
	t.Cleanup(func() { d.Process.Kill() })
	return d
}

// long is hours of audio, so that a signal comes while it is made.
var long = strings.Replace(small, "passes: 1", "passes: 100", 1)

const slowTempos = "20,21,22,23,24,25,26,27,28,29"

// Exit statuses are those of shells: 128 and the number of the signal (POSIX:
// SIGHUP 1, SIGINT 2, SIGTERM 15).
func TestASignalEndsTheProgramWithoutATrace(t *testing.T) {
	for signal, status := range map[os.Signal]int{os.Interrupt: 130, syscall.SIGTERM: 143, syscall.SIGHUP: 129} {
		folder := filepath.Join(t.TempDir(), "kits")
		program := start(t, "render", "--tempo", slowTempos, "-o", folder, file(t, "long.yaml", long))
		require.Eventually(t, func() bool {
			drafts, _ := filepath.Glob(filepath.Join(folder, ".thirdwise-*", "draft", "long", "*.wav"))
			return len(drafts) > 0
		}, time.Minute, 5*time.Millisecond)
		require.NoError(t, program.Process.Signal(signal))
		assert.Error(t, program.Wait())
		assert.Equal(t, status, program.ProcessState.ExitCode())
		assert.Contains(t, program.stderr.String(), "interrupted")
		assert.NoDirExists(t, folder, "not even the folder that was made for it")
	}
}

// Wherever it is, the program stops: here as it waits for standard input, and as
// it arranges an exercise that takes long.
func TestAnInterruptStopsTheProgramWhereverItIs(t *testing.T) {
	reading := &dying{Cmd: exec.Command(os.Args[0], "check", "-")}
	reading.Env = append(os.Environ(), asProgram+"=1")
	in, err := reading.StdinPipe()
	require.NoError(t, err)
	defer in.Close()
	require.NoError(t, reading.Start())
	t.Cleanup(func() { reading.Process.Kill() })

	bars := strings.Repeat("  | C Am Dm G7 | E7 | F Fm |\n", 1300)
	arranging := start(t, "check", file(t, "many.yaml", "title: Many\nkey: C major\nchart: |\n"+bars+"line: {density: 100%, grid: sixteenths}\n"))
	for _, program := range []*dying{reading, arranging} {
		time.Sleep(150 * time.Millisecond) // until it is at it
		interrupted := time.Now()
		require.NoError(t, program.Process.Signal(os.Interrupt))
		assert.Error(t, program.Wait())
		assert.Equal(t, 130, program.ProcessState.ExitCode())
		assert.Less(t, time.Since(interrupted), 5*time.Second, "not when it is done anyway")
	}
}

// kills is few enough for every day; .ci/run kills a hundred.
var kills = flag.Int("kills", 8, "how often the program is killed in each way of putting folders into place")

// The program may be killed at any moment: what is there is a whole kit, and the
// run after it finds nothing of the others.
func TestAfterManyKillsThePlaceHoldsWholeKitsAndNothingElse(t *testing.T) {
	path := file(t, "small.yaml", small)
	for _, setting := range []string{"", plainRenames + "=1"} {
		folder := t.TempDir()
		require.Equal(t, done, thirdwise("render", "--mix", "click", "-o", folder, path).status)
		require.NoError(t, os.WriteFile(filepath.Join(folder, "small", "notes.txt"), []byte("mine"), 0o666))
		random := rand.New(rand.NewPCG(1, 2))
		for range *kills {
			program := exec.Command(os.Args[0], "render", "--mix", "click", "-o", folder, path)
			program.Env = append(os.Environ(), asProgram+"=1", setting)
			require.NoError(t, program.Start())
			time.Sleep(time.Duration(random.IntN(60)) * time.Millisecond)
			program.Process.Kill()
			program.Wait()
			for _, name := range entries(t, folder) {
				if name == "small" {
					assertWhole(t, filepath.Join(folder, name))
				} else {
					assert.Regexp(t, `^\.thirdwise-`, name)
				}
			}
		}
		r := thirdwise("render", "--mix", "click", "-o", folder, path)
		require.Equal(t, done, r.status, r.stderr)
		assert.Empty(t, r.stderr)
		assert.Equal(t, []string{"small"}, entries(t, folder))
		assertWhole(t, filepath.Join(folder, "small"))
		assert.Equal(t, "mine", contents(t, filepath.Join(folder, "small"))["notes.txt"])
	}
}

// assertWhole asserts that a folder holds the files that its kit.json lists, as it
// lists them, and one more that is not the kit's.
func assertWhole(t *testing.T, folder string) {
	t.Helper()
	files := contents(t, folder)
	var m kit.Manifest
	require.NoError(t, json.Unmarshal([]byte(files[kit.ManifestName]), &m))
	assert.Len(t, files, len(m.Files)+2)
	for _, f := range m.Files {
		assert.EqualValues(t, f.Bytes, len(files[f.Name]), f.Name)
	}
}
