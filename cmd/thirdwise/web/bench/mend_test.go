package bench_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/cmd/thirdwise/web/bench"
)

// unseen are the names in the slips of what cannot be seen.
var unseen = regexp.MustCompile(`\{[a-z][a-z0-9é -]+\}`)

// What is offered for the slips of teachers mends them, and is what a teacher would want
// to be written there; where a finding leaves it open, nothing is offered. The golden
// file has each line with what stands there, the finding, and the line as it would be.
func TestMendsOfSlips(t *testing.T) {
	files, err := filepath.Glob("../../../../arrange/testdata/slips/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	var got strings.Builder
	for _, file := range files {
		slips, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, slip := range strings.Split("\n"+string(slips), "\n=== ")[1:] {
			name, text, _ := strings.Cut(slip, "\n")
			text, _, _ = strings.Cut(text, "\n>>>")
			if unseen.MatchString(text) {
				continue
			}
			made, err := new(bench.Bench).Arrange("", text+"\n", 60, "both", 0)
			require.NoError(t, err)
			for _, f := range made.Findings {
				if len(f.Mends) == 0 {
					continue
				}
				line := strings.Split(text, "\n")[f.Line-1]
				fmt.Fprintf(&got, "%s\n    %s\n%s\n", name, line, strings.TrimRight(strings.TrimSpace(f.Message+"; "+f.Remedy), "; "))
				for _, m := range f.Mends {
					fmt.Fprintf(&got, " -> %s\n", m.Written(line))
				}
			}
		}
	}
	goldentest.Equal(t, "testdata/mends.txt", got.String())
}
