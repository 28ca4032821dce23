package arrange_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
)

// unseen is written in the slips for what cannot be seen.
var unseen = strings.NewReplacer(
	"{tab}", "\t", "{return}", "\r", "{byte order mark}", "\uFEFF", "{no-break space}", "\u00A0",
	"{zero-width space}", "\u200B", "{blank}", " ", "{latin-1 é}", "\xE9",
)

// The files in testdata/slips hold exercises that teachers write when they slip, each
// behind a line === NAME, and behind a line >>> what is said about it, read by a person.
func TestSlipsOfTeachersAreExplained(t *testing.T) {
	const slip, says = "=== ", ">>>\n"
	files, err := filepath.Glob("testdata/slips/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	named := map[string]bool{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var got strings.Builder
		for _, written := range strings.Split("\n"+string(text), "\n"+slip)[1:] {
			name, written, _ := strings.Cut(written, "\n")
			assert.False(t, named[name], "%s: %s", file, name)
			named[name] = true
			written, _, _ = strings.Cut(written+"\n", says)
			report := said([]byte(unseen.Replace(strings.TrimRight(written, "\n") + "\n"))).Report()
			assert.NotEmpty(t, report, "%s: %s is no slip", file, name)
			fmt.Fprintf(&got, "%s%s\n%s\n%s%s\n", slip, name, strings.TrimRight(written, "\n"), says, report)
		}
		goldentest.Equal(t, file, got.String())
	}
}

// said returns what a teacher is told of an exercise: mistakes or else warnings and
// notes.
func said(text []byte) source.Findings {
	e, err := exercise.Parse("exercise", text)
	if err == nil {
		_, findings, wrong := arrange.Arrange(e)
		if wrong == nil {
			return findings
		}
		err = wrong
	}
	var findings source.Findings
	if !errors.As(err, &findings) {
		return source.Findings{{Message: err.Error()}}
	}
	return findings
}
