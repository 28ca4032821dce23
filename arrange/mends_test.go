package arrange_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/exercise/source"
)

// slips returns what teachers write when they slip, by its name in the order of the files.
func slips(t *testing.T) (all []struct{ name, text string }) {
	files, err := filepath.Glob("testdata/slips/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		written, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, slip := range strings.Split("\n"+string(written), "\n=== ")[1:] {
			name, text, _ := strings.Cut(slip, "\n")
			text, _, _ = strings.Cut(text+"\n", ">>>\n")
			all = append(all, struct{ name, text string }{name, unseen.Replace(strings.TrimRight(text, "\n") + "\n")})
		}
	}
	return all
}

// What is offered for the slips of teachers is what a teacher would want to be written
// there; where a finding leaves it open, nothing is offered. The golden file has each line
// with what stands there, the finding, and the line as it would be.
func TestMendsOfSlipsAreWhatATeacherWants(t *testing.T) {
	var got strings.Builder
	for _, slip := range slips(t) {
		lines := strings.Split(strings.TrimPrefix(slip.text, "\uFEFF"), "\n")
		for _, f := range said([]byte(slip.text)) {
			if len(f.Mends) == 0 {
				continue
			}
			fmt.Fprintf(&got, "%s\n    %s\n%s\n", slip.name, lines[f.Mends[0].Line-1], strings.TrimRight(strings.TrimSpace(f.Message+"; "+f.Remedy), "; "))
			for _, m := range f.Mends {
				fmt.Fprintf(&got, " -> %s\n", mended(lines, m)[m.Line-1])
			}
		}
	}
	goldentest.Equal(t, "testdata/mends.txt", got.String())
}

// mended returns the lines of an exercise with a mend in its place.
func mended(lines []string, m source.Mend) []string {
	with := append([]string{}, lines...)
	m.WriteTo(with)
	return with
}

// Whatever is offered takes its finding away, and leaves no mistake in its place.
func TestEachMendMendsWhatWasFound(t *testing.T) {
	texts := slips(t)
	files, err := filepath.Glob("exercise/testdata/mistakes/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		texts = append(texts, struct{ name, text string }{file, string(text)})
	}
	for _, slip := range texts {
		lines := strings.Split(strings.TrimPrefix(slip.text, "\uFEFF"), "\n")
		found := said([]byte(slip.text))
		for _, f := range found {
			for _, m := range f.Mends {
				now := said([]byte(strings.Join(mended(lines, m), "\n")))
				assert.Less(t, times(now, f), times(found, f), "%s: %q does not mend: %s", slip.name, m.Text, f.Message)
				for _, other := range now.Of(source.Mistake) {
					there := other.Line == m.Line && other.Column >= m.Column && other.Column+other.Length <= m.Column+len([]rune(m.Text))
					assert.False(t, there && len(found.Of(source.Mistake)) == 1, "%s: for %s\n%q has %s", slip.name, f.Error(), m.Text, other.Error())
				}
			}
		}
	}
}

// times counts how often something is said of a line.
func times(findings source.Findings, f source.Finding) (n int) {
	for _, other := range findings {
		if other.Line == f.Line && other.Message == f.Message {
			n++
		}
	}
	return n
}

// Whoever writes the first of all that is offered, over and over, comes to an end.
func TestMendsComeToAnEnd(t *testing.T) {
	for _, slip := range slips(t) {
		text, steps := slip.text, 0
		for ; steps < 40; steps++ {
			found := said([]byte(text))
			first := slices.IndexFunc(found, func(f source.Finding) bool { return len(f.Mends) > 0 })
			if first < 0 {
				break
			}
			text = strings.Join(mended(strings.Split(strings.TrimPrefix(text, "\uFEFF"), "\n"), found[first].Mends[0]), "\n")
		}
		assert.Less(t, steps, 40, "%s becomes\n%s", slip.name, text)
	}
}
