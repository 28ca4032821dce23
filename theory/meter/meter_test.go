package meter_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/theory/meter"
)

// The tempo counts the beat of the meter, and is a whole number of microseconds
// a quarter, as Standard MIDI Files 1.0 says it.
func TestTempoCountsTheBeat(t *testing.T) {
	for _, c := range []struct {
		in    meter.Meter
		tempo int
		want  int
	}{
		{meter.Meter{Beats: 4, Unit: 4}, 120, 500_000},
		{meter.Meter{Beats: 4, Unit: 4}, 70, 857_143},
		{meter.Meter{Beats: 6, Unit: 8}, 60, 666_667},
		{meter.Meter{Beats: 2, Unit: 2}, 60, 500_000},
	} {
		assert.Equal(t, c.want, c.in.QuarterMicros(c.tempo), "%v at %d", c.in, c.tempo)
	}
}
