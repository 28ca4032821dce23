package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/cmd/thirdwise/kit/place"
)

// asProgram is set in the environment of a test binary that is to be the program
// itself.
const asProgram = "THIRDWISE_TEST_AS_PROGRAM"

// plainRenames is set for a program that shall not exchange folders in one step.
const plainRenames = "THIRDWISE_TEST_PLAIN_RENAMES"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		os.Exit(program(os.Args[1:], &place.Drafts{PlainRenames: os.Getenv(plainRenames) != ""}))
	}
	os.Exit(m.Run())
}

// A reply is what the program answered to a command line.
type reply struct {
	status         int
	stdout, stderr string
}

// thirdwise runs the program with nothing on its standard input.
func thirdwise(args ...string) reply { return thirdwiseWith("", args...) }

// thirdwiseWith runs the program with a text on its standard input.
func thirdwiseWith(stdin string, args ...string) reply {
	var stdout, stderr bytes.Buffer
	status := run(context.Background(), args, strings.NewReader(stdin), &stdout, &stderr, &place.Drafts{})
	return reply{status, stdout.String(), stderr.String()}
}

// golden compares a text with the one in a file that a person has looked at.
func golden(t *testing.T, name, got string) {
	t.Helper()
	goldentest.Equal(t, filepath.Join("testdata", name+".txt"), got)
}

// exercises lists the project's own exercises.
func exercises(t *testing.T) []string {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/exercises/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	return paths
}

// fileWith writes an exercise into a folder of the test and returns its path.
func fileWith(t *testing.T, name, text string) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
	return path
}

func assertFits80Columns(t *testing.T, text string) {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
	}
}

func TestHelpOfEachCommandHasAnExample(t *testing.T) {
	for _, command := range []string{"new", "check", "show", "neck", "render", "workbench", "completion", "man", "help"} {
		r := thirdwise(command, "--help")
		assert.Equal(t, done, r.status)
		assert.Empty(t, r.stderr)
		assert.Contains(t, r.stdout, "\n  thirdwise "+command+" ")
		assert.Equal(t, r, thirdwise(command, "-h"))
		assertFits80Columns(t, r.stdout)
		golden(t, "help-"+command, r.stdout)
	}
}

func TestHelpOfTheProgramNamesEveryCommand(t *testing.T) {
	r := thirdwise("--help")
	assert.Equal(t, done, r.status)
	assertFits80Columns(t, r.stdout)
	golden(t, "help", r.stdout)
}

func TestAloneTheProgramTellsWhatToDoFirst(t *testing.T) {
	r := thirdwise()
	assert.Equal(t, thirdwise("--help"), r)
	assert.Regexp(t, `thirdwise new \S+\n.*thirdwise render \S+\n$`, r.stdout)
}

func TestHelpIsACommandToo(t *testing.T) {
	assert.Equal(t, thirdwise("--help"), thirdwise("help"))
	assert.Equal(t, thirdwise("render", "--help"), thirdwise("help", "render"))
	assert.Contains(t, thirdwise("help", "play").stderr, `"play" is not a command`)
}

func TestAnExerciseWithoutACommandIsAnsweredWithTheCommand(t *testing.T) {
	assert.Equal(t, "thirdwise: to make the kit of my-song.yaml, write: thirdwise render my-song.yaml\n", thirdwise("my-song.yaml").stderr)
}

func TestAMixOfAnotherNameIsAnsweredWithItsOwn(t *testing.T) {
	assert.Contains(t, thirdwise("render", "--mix", "echo", "-").stderr, `"echo" is not a mix; did you mean turns?`)
}

func TestVersionIsAnAnswer(t *testing.T) {
	r := thirdwise("--version")
	assert.Equal(t, done, r.status)
	assert.Regexp(t, `^thirdwise \d+\.\d+\.\d+(, commit [0-9a-f]+)?, go\d+\.\d+\S*\n$`, r.stdout)
	assert.Empty(t, r.stderr)
}

func TestAWrongCommandLineIsStatusTwoAndWritesNothing(t *testing.T) {
	path := fileWith(t, "small.yaml", small)
	for _, args := range [][]string{
		{"play"},
		{"help", "play"},
		{path},
		{"render", "--mix", "echo", path},
		{"check"},
		{"show"},
		{"render"},
		{"check", "--loud", path},
		{"show", path, path},
		{"check", "-", "-"},
		{"render", "-", "-"},
		{"render", "--tempo", "fast", path},
		{"render", "--tempo", "19", path},
		{"render", "--tempo", "401", path},
		{"render", "--tempo", "-60", path},
		{"render", "--tempo", "60.5", path},
		{"render", "--tempo", "60,60", path},
		{"render", "--mix", "loud", path},
		{"render", "--mix", "full", "--mix", "full", path},
		{"render", "--key", "H", path},
		{"render", "--key", "C jazz", path},
		{"render", "--key", "G# major", path},
		{"render", "--key", "G#", path},
		{"render", "--key", "A minor", path},
		{"render", "--rate", "96000", path},
		{"render", "--rate", "x", path},
		{"render", "--depth", "8", path},
		{"render", "--format", "ogg", path},
		{"render", "--loudness", "-5", path},
		{"render", "--loudness", "NaN", path},
		{"render", "--paper", "a5", path},
		{"render", "--position", "middle", path},
		{"render", "--position", "0", path},
		{"render", "--position", "30", path},
		{"render", "-o"},
		{"render", path, "-o"},
		{"render", path, "--position"},
		{"neck", "C", "--position"},
		{"neck", "C", "--strings"},
		{"workbench", "--output"},
		{"render", "-o", "--dry", path},
	} {
		t.Chdir(t.TempDir())
		r := thirdwise(args...)
		assert.Equal(t, wrongCommand, r.status, args)
		assert.Empty(t, r.stdout, args)
		assert.Regexp(t, `^thirdwise: .+`, r.stderr, args)
		assert.Empty(t, entries(t, "."), args)
	}
}

func TestAWrongCommandLineIsToldInTheWordsOfTheHelp(t *testing.T) {
	for line, want := range map[string]string{
		"rendr":                  `"rendr" is not a command, did you mean "render"?`,
		"render":                 "FILE is missing",
		"show":                   "FILE is missing",
		"check --loud a.yaml":    "unknown option --loud",
		"completion tcsh":        `SHELL must be one of "bash","zsh","fish" but got "tcsh"`,
		"render a.yaml -o":       "render: -o: the value is missing",
		"neck C --position":      "neck: --position: the value is missing",
		"render a.yaml --key":    "render: --key: the value is missing",
		"new my song.yaml":       "unexpected argument song.yaml; a name with blanks in it stands in quotation marks",
		"show a.yaml --variants": "show: --variants: the value is missing",
	} {
		assert.Contains(t, thirdwise(strings.Fields(line)...).stderr, "thirdwise: "+want+"\n", line)
	}
}

func TestAWrongNumberIsToldInPlainWords(t *testing.T) {
	path := fileWith(t, "small.yaml", small)
	for _, args := range [][]string{
		{"render", "--tempo", "60.5", path},
		{"render", "--tempo", "50,60.5", path},
		{"neck", "C", "--capo", "60.5"},
	} {
		assert.Contains(t, thirdwise(args...).stderr, `"60.5" is not a whole number`, args)
	}
	assert.Contains(t, thirdwise("render", "--loudness", "loud", path).stderr, `"loud" is not a number`)
}

// entries lists what is in a folder.
func entries(t testing.TB, folder string) []string {
	t.Helper()
	list, err := os.ReadDir(folder)
	require.NoError(t, err)
	names := []string{}
	for _, e := range list {
		names = append(names, e.Name())
	}
	return names
}
