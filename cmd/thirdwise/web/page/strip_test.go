package page

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
)

// A page holds each outline once: a strip refers to its own and to those of the strips
// before it.
func TestStripsHaveTheirOutlinesBesideOrBeforeThem(t *testing.T) {
	s := arrangetest.Score(t, "title: Any\nkey: F# minor\nchart: '[A] | F#m | Bm E7/G# | C#m7b5 F#7 | Bm |'\nline: {grid: sixteenths, density: 90%}\n")
	known := map[string]bool{}
	strips := 0
	require.NoError(t, eachStrip(s, func(strip Strip) error {
		strips++
		for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(strip.Outlines, -1) {
			require.False(t, known[m[1]], "the outline %s is there already", m[1])
			known[m[1]] = true
		}
		for _, row := range strip.Rows {
			for _, m := range regexp.MustCompile(`href="#([^"]+)"`).FindAllStringSubmatch(row.SVG, -1) {
				require.True(t, known[m[1]], "%s of %s in strip %d", m[1], strip.Staves, strips)
			}
		}
		return nil
	}))
	require.Greater(t, strips, 9)
}
