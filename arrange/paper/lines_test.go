package paper

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func ExampleLines() {
	for _, line := range Lines("C♯ minor, as slow as the hand asks for", Columns(10)) {
		fmt.Println(line)
	}
	// Output:
	// C♯ minor,
	// as slow as
	// the hand
	// asks for
}

func TestLinesAreFullAndLoseNoWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[a-z♯é]{1,12}`), 1, 30).Draw(t, "words")
		fits := Columns(rapid.IntRange(1, 20).Draw(t, "columns"))
		lines := Lines(strings.Join(words, " "), fits)
		require.Equal(t, words, strings.Fields(strings.Join(lines, " ")))
		for i, line := range lines {
			require.True(t, fits(line) || !strings.Contains(line, " "), "%q is too long", line)
			if i > 0 {
				next, _, _ := strings.Cut(line, " ")
				require.False(t, fits(lines[i-1]+" "+next), "%q had room for %q", lines[i-1], next)
			}
		}
	})
}
