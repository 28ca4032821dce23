package paper

import (
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
)

// A pickup is written as long as it sounds, and is not counted (Gould, Behind Bars,
// from memory); in all staves alike.
func TestAPickupIsAsLongAsItSounds(t *testing.T) {
	for _, c := range []struct {
		chart, meter string
		length       int
	}{
		{"[pickup] N.C. / / D7 | G | C |", "4/4", 480},
		{"[pickup] N.C. / D7 / | G | C |", "4/4", 960},
		{"[pickup] N.C. D7 / | G | C |", "3/4", 960},
		{"[pickup] D7 | G | C |", "4/4", 1920},
		{"[pickup] N.C. D7 | G | C |", "6/8", 720},
	} {
		s := arrangetest.Score(t, "title: Gate\nkey: G major\nmeter: "+c.meter+"\nchart: |\n  "+c.chart+"\nbass: walking\n")
		n := Notate(s)
		for _, staff := range []*Notation{n, n.Bass()} {
			first := staff.Measures[0]
			require.Equal(t, 0, first.Number)
			require.Equal(t, c.length, first.Length, c.chart)
			require.Equal(t, s.Meter.Bar()-c.length, first.Events[0].Tick, c.chart)
			require.Equal(t, s.Meter.Bar(), first.Events[len(first.Events)-1].End(), c.chart)
			require.Equal(t, s.Meter.Bar(), staff.Measures[1].Length)
		}
		require.Equal(t, "D7", n.Measures[0].Chords[0].Symbol())
	}
}
