package meter_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"thirdwise/theory/meter"
)

// Common practice: swung eighths are the first and the third note of a triplet.
func TestSwingPutsTheOffBeatOnTheLastThird(t *testing.T) {
	for _, beat := range []int{0, 480, 4800} {
		assert.Equal(t, beat, meter.Swing.Played(beat))
		assert.Equal(t, beat+320, meter.Swing.Played(beat+240))
		assert.Equal(t, beat+120, meter.Straight.Played(beat+120))
		for _, eighth := range []int{0, 240} {
			assert.Equal(t, beat+eighth, meter.SwingSixteenths.Played(beat+eighth))
			assert.Equal(t, beat+eighth+160, meter.SwingSixteenths.Played(beat+eighth+120))
		}
	}
}

// The sixteenths of a swung beat nearly halve what comes before its off-beat and
// what comes behind it: the second half of the beat swings too.
func TestBothHalvesOfASwungBeatAreDivided(t *testing.T) {
	for _, beat := range []int{0, 480, 4800} {
		assert.InDelta(t, beat+160, meter.Swing.Played(beat+120), 5)
		assert.InDelta(t, beat+400, meter.Swing.Played(beat+360), 5)
	}
}

// The shape of a swung beat, worked out by hand from its rows: what lies between two
// of them is in proportion.
func TestASwungBeatIsPlayedByItsRows(t *testing.T) {
	for written, played := range map[int]int{
		0: 0, 60: 78, 120: 156, 140: 158, 160: 160, 200: 240, 240: 320,
		280: 322, 320: 324, 340: 362, 360: 400, 380: 413, 420: 440, 440: 453, 480: 480,
	} {
		assert.Equal(t, played, meter.Swing.Played(written), "%d", written)
		assert.Equal(t, 960+played, meter.Swing.Played(960+written), "%d two beats on", written)
	}
}

// Common practice: a quarter divided by two, by three and by four.
func TestGridsDivideTheQuarter(t *testing.T) {
	for grid, ticks := range map[meter.Grid]int{meter.Quarters: 480, meter.Eighths: 240, meter.Triplets: 160, meter.Sixteenths: 120} {
		assert.Equal(t, ticks, grid.Ticks(), grid)
	}
	var names []string
	for _, grid := range meter.Grids() {
		names = append(names, grid.String())
	}
	assert.Equal(t, []string{"quarters", "eighths", "triplets", "sixteenths"}, names, "the widest first")
	assert.Equal(t, "swing sixteenths", meter.SwingSixteenths.String())
}

// Four ticks are 4 ms at 120 beats a minute, less than can be heard.
func TestTripletsStayAsTheyAre(t *testing.T) {
	for _, feel := range meter.Feels() {
		for _, tick := range []int{0, 160, 320, 480} {
			assert.InDelta(t, tick, feel.Played(tick), 4, "%s, %d", feel, tick)
		}
	}
}

func TestPlayedTicksKeepTheirOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		feel := rapid.SampledFrom(meter.Feels()).Draw(t, "feel")
		early := rapid.IntRange(0, 5000).Draw(t, "early")
		late := rapid.IntRange(early, 5000).Draw(t, "late")
		assert.LessOrEqual(t, feel.Played(early), feel.Played(late))
		// In steps of every grid there is, and of half of it, all are apart.
		step := rapid.SampledFrom([]int{20, 30, 40, 48, 60, 80, 96, 120, 160, 240, 480}).Draw(t, "step")
		assert.Less(t, feel.Played(early/step*step), feel.Played(early/step*step+step), "steps of %d", step)
	})
}

func TestFeelsFitTheirMeters(t *testing.T) {
	for _, m := range meter.Meters() {
		assert.True(t, meter.Straight.Fits(m))
		assert.Equal(t, m.Unit == 4, meter.Swing.Fits(m), m)
		assert.Equal(t, m.Unit != 2, meter.SwingSixteenths.Fits(m), m)
	}
}
