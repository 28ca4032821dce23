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
		{meter.Meter{Beats: 4, Unit: 4}, 110, 545_455}, // 545454.5…, rounded
		{meter.Meter{Beats: 6, Unit: 8}, 60, 666_667},
		{meter.Meter{Beats: 7, Unit: 8}, 60, 1_000_000},
		{meter.Meter{Beats: 2, Unit: 2}, 60, 500_000},
	} {
		assert.Equal(t, c.want, c.in.QuarterMicros(c.tempo), "%v at %d", c.in, c.tempo)
	}
}

// Common practice.
func TestStrongBeatsBeginTheGroups(t *testing.T) {
	for name, want := range map[string][]int{
		"2/4":         {0},
		"3/4":         {0},
		"4/4":         {0, 960},
		"5/4":         {0, 1440},
		"7/4":         {0, 960, 1920},
		"2/2":         {0, 960},
		"6/8":         {0, 720},
		"9/8":         {0, 720, 1440},
		"12/8":        {0, 720, 1440, 2160},
		"7/8":         {0, 480, 960},
		"7/8 (3+2+2)": {0, 720, 1200},
		"5/4 2 + 3":   {0, 960},
	} {
		m, err := meter.Parse(name)
		assert.NoError(t, err)
		assert.Equal(t, want, m.Strong(), name)
		assert.Subset(t, m.BeatStarts(), want, name)
		for beat, start := range m.BeatStarts() {
			assert.Equal(t, beat, m.BeatAt(start), name)
			assert.Equal(t, max(0, beat-1), m.BeatAt(max(0, start-1)), name)
		}
	}
}

// Common practice: compound meters have beats of three eighths, and the beats of 7/8
// are of two lengths.
func TestBeatsOfEachMeter(t *testing.T) {
	for name, want := range map[string]struct {
		starts           []int
		compound, uneven bool
	}{
		"2/4":  {[]int{0, 480}, false, false},
		"3/4":  {[]int{0, 480, 960}, false, false},
		"4/4":  {[]int{0, 480, 960, 1440}, false, false},
		"2/2":  {[]int{0, 960}, false, false},
		"6/8":  {[]int{0, 720}, true, false},
		"7/8":  {[]int{0, 480, 960}, false, true},
		"9/8":  {[]int{0, 720, 1440}, true, false},
		"12/8": {[]int{0, 720, 1440, 2160}, true, false},
	} {
		m, err := meter.Parse(name)
		assert.NoError(t, err)
		assert.Equal(t, want.starts, m.BeatStarts(), name)
		assert.Equal(t, want.compound, m.Compound(), name)
		assert.Equal(t, want.uneven, m.Uneven(), name)
	}
}

func TestMetersReadWhatTheyPrint(t *testing.T) {
	for _, m := range append(meter.Meters(), meter.Meter{Beats: 7, Unit: 8, Grouping: "3+2+2"}) {
		got, err := meter.Parse(m.String())
		assert.NoError(t, err)
		assert.Equal(t, m, got)
		sum := 0
		for _, units := range m.Groups() {
			sum += units
		}
		assert.Equal(t, m.Beats, sum, m)
	}
}

func TestWhatIsNoMeterIsAnsweredWithWhatToWrite(t *testing.T) {
	for found, want := range map[string]string{
		"4":                          `"4" is not a meter; did you mean 4/4?`,
		"6/4":                        `"6/4" is not a supported meter; use 2/4, 3/4, 4/4, 5/4, 7/4, 2/2, 6/8, 7/8, 9/8 or 12/8`,
		"7/8 (3+3)":                  "the groups of 7/8 add up to 6 and not to 7; write, for example, 7/8 (2+2+3)",
		"7/8 (4+3)":                  "the groups of 7/8 have two or three eighths; write, for example, 7/8 (3+2+2)",
		"6/8 (2+2+2)":                "6/8 has groups of three eighths; leave the grouping out",
		"4-4":                        `"4-4" is not a meter; did you mean 4/4?`,
		"12:8":                       `"12:8" is not a meter; did you mean 12/8?`,
		"3/4 | 4/4":                  "an exercise has one meter; write 3/4 or 4/4",
		"2/2 (0+2)":                  `"0+2" is not a grouping of beats; write numbers with + between them, as in 2+2+3`,
		"4/4 (99999999999999999999)": `"99999999999999999999" is not a grouping of beats; write numbers with + between them, as in 2+2+3`,
		"7/8 slow":                   `"slow" is not a grouping of beats; write numbers with + between them, as in 2+2+3`,
	} {
		_, err := meter.Parse(found)
		assert.EqualError(t, err, want)
	}
	halves, err := meter.Parse("2/2 (1+1)")
	assert.NoError(t, err)
	assert.Equal(t, meter.Meter{Beats: 2, Unit: 2}, halves)
}
