package score_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// Whatever swings, in whatever grid, strum and share of a bar, each string and
// each voice of the guide sounds one note after the other.
func TestNotesAreAtLeastATickLongAndInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SampledFrom(meter.Meters()).Draw(t, "meter")
		feel := rapid.SampledFrom(meter.Feels()).Draw(t, "feel")
		if !feel.Fits(in) {
			feel = meter.Straight
		}
		grid := rapid.SampledFrom(meter.Grids()).Draw(t, "grid")
		if grid == meter.Triplets && in.Compound() || in.Bar()%grid.Ticks() != 0 {
			grid = meter.Eighths
		}
		var chart strings.Builder
		for range rapid.IntRange(1, 4).Draw(t, "bars") {
			share := rapid.SampledFrom([]int{in.Bar(), in.Beat(), 240, 160, 120}).Filter(func(share int) bool {
				return in.Bar()%share == 0 && (share != 160 || in.Unit != 8)
			}).Draw(t, "share")
			shares := in.Bar() / share
			chart.WriteString(" |")
			for i := range shares {
				if i > 0 && rapid.Bool().Draw(t, "prolonged") {
					chart.WriteString(" /")
					continue
				}
				chart.WriteString(" " + rapid.SampledFrom([]string{"C", "Am", "F", "G7", "E7"}).Draw(t, "chord"))
			}
		}
		slot := rapid.SampledFrom([]int{80, 120, 160, 240, 480}).Filter(func(slot int) bool { return in.Bar()%slot == 0 && (slot%120 == 0 || in.Unit != 8) }).Draw(t, "slot")
		signs := in.Bar() / slot
		strum := "D"
		for range signs - 1 {
			strum += rapid.SampledFrom([]string{" D", " U", " -"}).Draw(t, "sign")
		}
		text := fmt.Sprintf("title: t\nkey: C major\nmeter: %s\nchart: '%s |'\ntempos: [100]\nstrum: %s\nline:\n  grid: %s\n  density: %d%%\nbass: walking\n",
			in, chart.String(), strum, grid, rapid.SampledFrom([]int{0, 50, 100}).Draw(t, "density"))
		s := arrangetest.Score(t, text)
		s.Feel = feel
		requireInOrder(t, s, text)
	})
}

// An eighth that swings and the third note of a triplet lie side by side.
func TestSwingDoesNotGoBackBehindTriplets(t *testing.T) {
	text := "title: t\nkey: A mixolydian\nfeel: swing\ntempos: [100]\n" +
		"chart: '| A7 | D7 | A7 / / / / / / E7 | A7 |'\nstrum: D - U D - U D - U D - U\n"
	requireInOrder(t, arrangetest.Score(t, text), text)
}

func requireInOrder(t require.TestingT, s *score.Score, text string) {
	type voice struct {
		part   score.Part
		number int // the string, or 0 for a voice of the guide
	}
	ends := map[voice]int{}
	for _, n := range s.Perform(100).Notes {
		require.GreaterOrEqual(t, n.Length, 1, "%+v, %s, in\n%s", n, s.Feel, text)
		v := voice{n.Part, n.Place.String}
		if n.Part == score.GuideLower || n.Part == score.GuideUpper {
			v.number = 0
		}
		require.LessOrEqual(t, ends[v], n.Tick, "%+v, %s, in\n%s", n, s.Feel, text)
		ends[v] = n.Tick + n.Length
	}
}
