package goldentest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFirstDifferenceIsShownWhereItIs(t *testing.T) {
	long := strings.Repeat("x", 500)
	for _, row := range []struct{ want, got, difference string }{
		{"", "", ""},
		{"same\n", "same\n", ""},
		{"C♯ major\n", "C♭ major\n", "line 1, column 2\n  want \"C♯ major\"\n  got  \"C♭ major\""},
		{"one\ntwo\n", "one\ntwo \n", "line 2, column 4\n  want \"two\"\n  got  \"two \""},
		{"one\n", "one\ntwo\n", "line 2, column 1\n  want the end\n  got  \"two\""},
		{"", "\x00", "line 1, column 1\n  want the end\n  got  \"\\x00\""},
		{long + "a" + long, long + "b" + long, "line 1, column 501\n" +
			"  want \"" + long[:shownBefore] + "a" + long[:shownBehind-1] + "\"\n" +
			"  got  \"" + long[:shownBefore] + "b" + long[:shownBehind-1] + "\""},
	} {
		assert.Equal(t, row.difference, Difference(row.want, row.got))
	}
}

// A recorder is a test that may fail.
type recorder struct{ failed bool }

func (r *recorder) Errorf(string, ...any) { r.failed = true }
func (r *recorder) FailNow()              { r.failed = true }

func TestOnlyTheGoldenBytesPass(t *testing.T) {
	file := filepath.Join(t.TempDir(), "golden.txt")
	require.NoError(t, os.WriteFile(file, []byte("as it was\n"), 0o666))
	for got, fails := range map[string]bool{"as it was\n": false, "as it was": true, "otherwise\n": true} {
		var r recorder
		Equal(&r, file, got)
		assert.Equal(t, fails, r.failed, got)
	}
}
