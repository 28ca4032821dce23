package paper

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/theory/meter"
)

// Counting aloud: "one and two and", "one e and a", "one trip let", and in meters of
// eighths the eighths (common practice).
func TestBeatsAreCountedAsPlayersDo(t *testing.T) {
	for _, c := range []struct {
		beats, unit int
		ticks       []int
		want        string
	}{
		{4, 4, []int{0, 120, 240, 360, 480, 720, 1680}, "1 e & a 2 & &"},
		{4, 4, []int{480, 640, 800}, "2 t l"},
		{2, 2, []int{0, 240, 480, 960, 1440}, "1 e & 2 &"},
		{6, 8, []int{0, 240, 480, 720, 1200}, "1 2 3 4 6"},
		{6, 8, []int{120, 60, 180, 80, 160}, "    "}, // nothing within an eighth
	} {
		var got []string
		for _, tick := range c.ticks {
			got = append(got, Count(meter.Meter{Beats: c.beats, Unit: c.unit}, tick))
		}
		assert.Equal(t, c.want, strings.Join(got, " "), "%d/%d", c.beats, c.unit)
	}
}
