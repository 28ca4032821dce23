package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
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
	r := thirdwise("render", "--mix", "click", "-o", folder, fileWith(t, "small.yaml", small))
	require.Equal(t, wrong, r.status, "a folder of another's is no kit")
	require.NoError(t, os.RemoveAll(filepath.Dir(inside)))

	require.Equal(t, done, thirdwise("render", "--mix", "click", "-o", folder, fileWith(t, "small.yaml", small)).status)
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
	require.Equal(t, done, thirdwise("render", "--mix", "click", "-o", folder, fileWith(t, "Small!.yaml", small)).status)
	before := contents(t, filepath.Join(folder, "small"))
	r := thirdwise("render", "--mix", "full", "-o", folder, fileWith(t, "small.yaml", small))
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stderr, filepath.Join(folder, "small")+" is the kit of another exercise, Small!.yaml")
	assert.Equal(t, before, contents(t, filepath.Join(folder, "small")))
	var m kit.Manifest
	require.NoError(t, json.Unmarshal([]byte(before[kit.ManifestName]), &m))
	assert.Equal(t, "Small!.yaml", m.Exercise)
}

// A kit belongs to its exercise, too, where the file's name is not UTF-8, and to no other
// whose name differs in such bytes alone.
func TestAKitBelongsToAFileWhoseNameIsNotUTF8(t *testing.T) {
	path := filepath.Join(t.TempDir(), "caf\xe9.yaml")
	if err := os.WriteFile(path, []byte(small), 0o666); err != nil {
		t.Skip("the file system takes UTF-8 alone: ", err)
	}
	other := filepath.Join(t.TempDir(), "caf\xe8.yaml")
	require.NoError(t, os.WriteFile(other, []byte(small), 0o666))
	folder := t.TempDir()
	for range 2 {
		r := thirdwise("render", "--again", "--mix", "none", "-o", folder, path)
		require.Equal(t, done, r.status, r.stderr)
	}
	r := thirdwise("render", "--mix", "none", "-o", folder, other)
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stderr, `is the kit of another exercise, caf\xe9.yaml`)
}

func TestAKitIsNotMadeOutFromUnderOneself(t *testing.T) {
	folder := t.TempDir()
	path := fileWith(t, "small.yaml", small)
	require.Equal(t, done, thirdwise("render", "--mix", "click", "-o", folder, path).status)
	t.Chdir(filepath.Join(folder, "small"))
	before := contents(t, ".")
	r := thirdwise("render", "--mix", "full", "-o", "..", path)
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stderr, "the folder that you are in")
	assert.Equal(t, before, contents(t, "."))
}

func TestOutputThatCannotBeWrittenIsAnError(t *testing.T) {
	path := fileWith(t, "small.yaml", small)
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
	status := run(ctx, []string{"render", "-o", folder, fileWith(t, "small.yaml", small)}, nil, &stdout, &stderr, &place.Drafts{})
	assert.Equal(t, wrong, status)
	assert.Equal(t, "thirdwise: interrupted\n", stderr.String())
	assert.Empty(t, stdout.String())
	assert.Equal(t, before, contents(t, filepath.Join(folder, "small")))
	assert.Equal(t, []string{"small"}, entries(t, folder))
}

// A dying is a program that is about to be interrupted.
type dying struct {
	*exec.Cmd
	stdin  io.WriteCloser
	stderr bytes.Buffer
	ended  chan struct{} // closed once it has ended
	err    error         // with which it ended
}

// start starts the program, with no signal ignored, as a test that is itself run
// under nohup would have it.
func start(t testing.TB, args ...string) *dying {
	t.Helper()
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	defer signal.Stop(caught)
	d := &dying{Cmd: exec.Command(os.Args[0], args...), ended: make(chan struct{})}
	d.Env = append(os.Environ(), asProgram+"=1")
	d.Stderr = &d.stderr
	var err error
	d.stdin, err = d.StdinPipe()
	require.NoError(t, err)
	require.NoError(t, d.Start())
	go func() {
		d.err = d.Wait()
		close(d.ended)
	}()
	t.Cleanup(func() {
		d.Process.Kill()
		<-d.ended
	})
	return d
}

// writes waits until the program has begun a file whose path matches a pattern. It fails
// the test where the program ends before.
func (d *dying) writes(t testing.TB, pattern string) {
	t.Helper()
	for {
		if there, _ := filepath.Glob(pattern); len(there) > 0 {
			return
		}
		select {
		case <-d.ended:
			require.FailNow(t, "the program ended without "+pattern, d.stderr.String())
		case <-time.After(time.Millisecond):
		}
	}
}

// dies asserts that the program ends on a signal with an exit status.
func (d *dying) dies(t testing.TB, with os.Signal, status int) {
	t.Helper()
	require.NoError(t, d.Process.Signal(with))
	<-d.ended
	assert.Error(t, d.err)
	assert.Equal(t, status, d.ProcessState.ExitCode())
	assert.Contains(t, d.stderr.String(), "interrupted")
}

// startLong starts a render and returns the folder that it makes once a track is being
// written. The track is long enough for a signal to come while it is made, and
// compressed, which takes time and little of the disk.
func startLong(t *testing.T) (folder string, program *dying) {
	t.Helper()
	long := fileWith(t, "long.yaml", strings.Replace(small, "passes: 1", "passes: 100", 1))
	folder = filepath.Join(t.TempDir(), "kits")
	program = start(t, "render", "--tempo", "20", "--mix", "click", "--format", "flac", "-o", folder, long)
	program.writes(t, filepath.Join(folder, ".thirdwise-*", "draft", "long", "*.flac"))
	return folder, program
}

// Exit statuses are those of shells: 128 and the number of the signal (POSIX:
// SIGHUP 1, SIGINT 2, SIGTERM 15).
func TestASignalEndsTheProgramWithoutATrace(t *testing.T) {
	for with, status := range map[os.Signal]int{os.Interrupt: 130, syscall.SIGTERM: 143, syscall.SIGHUP: 129} {
		folder, program := startLong(t)
		program.dies(t, with, status)
		assert.NoDirExists(t, folder, "not even the folder that was made for it")
	}
}

// Who has read enough, as head or a pager has, ends the program.
func TestAnOutputThatNobodyReadsEndsTheProgramWithoutATrace(t *testing.T) {
	folder, path := t.TempDir(), fileWith(t, "small.yaml", small)
	for _, args := range [][]string{{"man"}, {"show", path}, {"render", "--key", "all", "--mix", "click", "-o", folder, path}} {
		program := exec.Command(os.Args[0], args...)
		program.Env = append(os.Environ(), asProgram+"=1")
		var stderr bytes.Buffer
		program.Stderr = &stderr
		output, err := program.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, output.Close())
		require.Error(t, program.Run())
		assert.Equal(t, 141, program.ProcessState.ExitCode(), "128 and SIGPIPE, 13: %s", stderr.String())
		assert.NotContains(t, stderr.String(), "broken pipe")
	}
	for _, name := range entries(t, folder) {
		assert.NotRegexp(t, `^\.`, name, "a draft")
	}
}

// Each line that nobody reads is one more signal, but no second interrupt, which would
// end the program before its drafts are removed.
func TestManyBrokenPipesAreOneInterrupt(t *testing.T) {
	folder, program := startLong(t)
	for running := true; running; {
		_ = program.Process.Signal(syscall.SIGPIPE) // an error once the program has ended
		select {
		case <-program.ended:
			running = false
		case <-time.After(100 * time.Microsecond):
		}
	}
	assert.Error(t, program.err)
	assert.Equal(t, 141, program.ProcessState.ExitCode(), program.stderr.String())
	assert.NoDirExists(t, folder, "not even the folder that was made for it")
}

// The stages of the program's work, each with an exercise that keeps it there for many
// seconds.
var stages = []struct {
	name, exercise string
	ends           bool     // the exercise does, so that more than reading is done
	args           []string // of render
	begins         string   // a pattern of files that are there once the stage has begun; "" for none
}{
	{"reading", dense, false, []string{"--mix", "none"}, ""},
	{"arranging", dense, true, []string{"--key", "all", "--position", "all"}, ""},
	{"engraving", sparse, true, []string{"--mix", "none"}, "*.mid"},
	{"writing", sparse, true, []string{"--tempo", "20", "--format", "flac"}, "*-full.flac"},
}

// dense takes half a minute to be arranged, sparse as long to be engraved.
var (
	dense = "title: Dense\nkey: C major\nline: {density: 100%, grid: sixteenths}\nchart: |\n" +
		strings.Repeat("  | C Am Dm G7 | E7 | F Fm |\n", 1300) + passedOver
	sparse = "title: Sparse\nkey: C major\nline: {density: 0%}\nstrum: D\npasses: 1\ntempos: [100]\nchart: |\n" +
		strings.Repeat("  | C | Am | Dm | G |\n", 900) + passedOver
	passedOver = strings.Repeat("# a line that a pipe does not hold many of\n", 4000) // so that it is read from once all is written
)

// interrupted brings the program into a stage, and returns how long it took to end
// once it was interrupted there.
func interruptedIn(t testing.TB, stage int) time.Duration {
	s, folder := stages[stage], t.TempDir()
	program := start(t, append(append([]string{"render"}, s.args...), "-o", folder, "-")...)
	_, err := io.WriteString(program.stdin, s.exercise)
	require.NoError(t, err)
	if s.ends {
		require.NoError(t, program.stdin.Close())
	}
	if s.begins != "" {
		program.writes(t, filepath.Join(folder, ".thirdwise-*", "draft", "*", s.begins))
	}
	begun := time.Now()
	program.dies(t, os.Interrupt, 130)
	took := time.Since(begun)
	require.Empty(t, entries(t, folder))
	return took
}

// Wherever it is, the program stops: as it reads, arranges, engraves and writes.
func TestAnInterruptStopsTheProgramWhereverItIs(t *testing.T) {
	for i, s := range stages {
		t.Run(s.name, func(t *testing.T) { interruptedIn(t, i) })
	}
}

// How long the program takes to end after an interrupt, at most: a tenth of a second
// is promised.
func BenchmarkInterrupt(b *testing.B) {
	for i, s := range stages {
		b.Run(s.name, func(b *testing.B) {
			var longest time.Duration
			for b.Loop() {
				longest = max(longest, interruptedIn(b, i))
			}
			b.ReportMetric(float64(longest.Milliseconds()), "ms-at-most")
		})
	}
}

// kills is few enough for every day; .ci/run kills a hundred.
var kills = flag.Int("kills", 8, "how often the program is killed in each way of putting folders into place")

// The program may be killed at any moment: what is there is a whole kit, and the
// run after it finds nothing of the others.
func TestAfterManyKillsThePlaceHoldsWholeKitsAndNothingElse(t *testing.T) {
	path := fileWith(t, "small.yaml", small)
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
