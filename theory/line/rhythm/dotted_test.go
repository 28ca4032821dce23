package rhythm_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
)

// A dotted beat divides by three. A sixteenth between two of its eighths comes right
// behind an eighth, so that nothing halves the beat (common practice: a duplet is written
// as one, and is rare).
func TestSixteenthsDoNotHalveDottedBeats(t *testing.T) {
	for _, name := range []string{"6/8", "9/8", "12/8"} {
		in, err := meter.Parse(name)
		require.NoError(t, err)
		for style := range 4 {
			for density := 5; density <= 100; density += 5 {
				m := rhythm.Maker{Meter: in, Grid: eighth / 2, Density: density, Style: style}
				spans := spansOf(8, 1, in.Bar())
				begins := map[int]bool{}
				notes := m.Notes(spans, phrasesOf(8, 1))
				for _, n := range notes {
					begins[n.Tick] = true
				}
				for _, n := range notes {
					if n.Tick%eighth != 0 {
						require.True(t, begins[n.Tick-eighth/2], "%s, style %d at %d %%: %s", name, style, density, draw(m, notes, 8))
					}
				}
			}
		}
	}
}
