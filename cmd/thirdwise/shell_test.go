package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a shell is offered is what the command line takes.
func TestAShellIsOfferedWhatCouldStandNext(t *testing.T) {
	t.Chdir(filepath.Dir(fileWith(t, "small.yaml", small)))
	for line, want := range map[string][]string{
		"thirdwise ren":                    {"render"},
		"thirdwise render --dens":          {"--density"},
		"thirdwise render sma":             {"small.yaml"},
		"thirdwise render --mix guide-":    {"guide-lower", "guide-upper"},
		"thirdwise render --key Eb":        {"Eb"},
		"thirdwise render --position f":    {"free"},
		"thirdwise render --print ":        {"large", "normal"},
		"thirdwise render --position al":   {"all"},
		"thirdwise render --rate ":         {"44100", "48000"},
		"thirdwise render --depth ":        {"16", "24"},
		"thirdwise neck C --position o":    {"open"},
		"thirdwise neck C --position al":   {},
		"thirdwise render --format flac -": nil,
		"thirdwise help wor":               {"workbench"},
		"thirdwise completion ":            {"bash", "fish", "zsh"},
	} {
		t.Setenv("COMP_LINE", line)
		r := thirdwise()
		require.Equal(t, done, r.status, r.stderr)
		offered := strings.Fields(r.stdout)
		if want == nil {
			assert.Greater(t, len(offered), 10, line)
			continue
		}
		assert.ElementsMatch(t, want, offered, line)
	}
}

// Each script is one that its shell can read, where there is that shell here.
func TestTheScriptsAreOnesThatShellsRead(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish"} {
		script := thirdwise("completion", shell)
		require.Equal(t, done, script.status)
		require.Contains(t, script.stdout, "thirdwise")
		if program, err := exec.LookPath(shell); err == nil {
			read := exec.Command(program, "-n")
			read.Stdin = strings.NewReader(script.stdout)
			out, err := read.CombinedOutput()
			assert.NoError(t, err, "%s: %s", shell, out)
		}
	}
	assert.Equal(t, wrongCommand, thirdwise("completion", "tcl").status)
}

// On a Mac zsh starts with nothing that finishes words, unless somebody has asked for it.
func TestZshNeedsNothingButItsScript(t *testing.T) {
	zsh, err := exec.LookPath("zsh")
	if err != nil {
		t.Skip("no zsh here")
	}
	t.Setenv("HOME", t.TempDir())
	out, err := exec.Command(zsh, "-f", "-c", thirdwise("completion", "zsh").stdout+"echo $_comps[thirdwise]").CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Equal(t, "_thirdwise\n", string(out))
}

// Bash leaves what it inserts as it is, unless it is told that these are names of files.
func TestBashTakesNamesWithBlanksForOneWord(t *testing.T) {
	assert.Contains(t, thirdwise("completion", "bash").stdout, " -o filenames ")
}

// The page holds the help of every command, and nothing in it is taken for a request
// of roff but what is meant as one.
func TestTheManualHoldsAllHelp(t *testing.T) {
	page := thirdwise("man").stdout
	plain := strings.NewReplacer(`\-`, "-", `\(aq`, "'", `\e`, `\`, `\(ga`, "`", `\(ti`, "~", `\(ha`, "^").Replace(page)
	for _, command := range []string{"new", "check", "show", "neck", "render", "workbench", "completion", "man", "help"} {
		_, help, _ := strings.Cut(thirdwise("help", command).stdout, "\n\n")
		assert.Contains(t, plain, help, command)
	}
	for line := range strings.Lines(page) {
		if strings.HasPrefix(line, ".") {
			assert.Regexp(t, `^\.(TH|SH|SS|nf|fi)\b`, line)
		}
	}
}
