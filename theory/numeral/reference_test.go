package numeral_test

import (
	"bufio"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory/numeral"
	"thirdwise/theory/theorytest"
)

// The table comes from the npm package tonal 6.4.3; generate.mjs beside it says
// how, and what is left out.
func TestNumeralsAgreeWithTonal(t *testing.T) {
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", "tonal", "numerals.tsv"))
	require.NoError(t, err)
	defer f.Close()
	rows := 0
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		row := strings.Split(lines.Text(), "\t")
		c, err := numeral.Parse(row[1], theorytest.Key(t, row[0]))
		if assert.NoError(t, err) {
			assert.Equal(t, theorytest.Chord(t, row[2]), c, "%s in %s", row[1], row[0])
		}
		rows++
	}
	require.Equal(t, 600, rows) // a table cut short does not pass
}
