package sheet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// costOfRows adds up what a division costs, independently of how it was found.
func costOfRows(bars []bar, rows []row, thrift, room float64) float64 {
	sum := 0.0
	for _, r := range rows {
		least, natural := 0.0, 0.0
		for i := r.first; i <= r.last; i++ {
			least += bars[i].width(0)
			natural += bars[i].width(1)
			if i > r.first && bars[i].Section != "" {
				sum += insideCost
			}
		}
		if least > room {
			return math.Inf(1)
		}
		sum += thrift + lineCost(bars, r.first, r.last, room/natural)
	}
	return sum
}

// Every way to divide the bars is tried.
func TestLineBreaksAreTheCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bars := barsOf(paper.Notate(anyScore(t)))
		if len(bars) > 10 {
			bars = bars[:10]
		}
		room := rapid.Float64Range(40, 110).Draw(t, "room")
		thrift := rapid.Float64Range(0, 4).Draw(t, "thrift")
		cheapest := math.Inf(1)
		for breaks := range 1 << (len(bars) - 1) { // bit i: a line ends with bar i
			var rows []row
			first := 0
			for i := range bars {
				if i == len(bars)-1 || breaks>>i&1 == 1 {
					rows = append(rows, row{first: first, last: i})
					first = i + 1
				}
			}
			cheapest = min(cheapest, costOfRows(bars, rows, thrift, room))
		}
		rows, ok := breakLines(bars, thrift, func(int) float64 { return room })
		require.Equal(t, !math.IsInf(cheapest, 1), ok)
		if ok {
			require.InDelta(t, cheapest, costOfRows(bars, rows, thrift, room), 1e-9)
		}
	})
}

// Lines of four bars, where they fit; and no bar alone at the end.
func TestBarsFallIntoLinesOfFour(t *testing.T) {
	for _, c := range []struct {
		bars int
		want string
	}{
		{4, "4"}, {8, "4 4"}, {12, "4 4 4"}, {16, "4 4 4 4"}, {5, "5"}, {9, "5 4"}, {13, "4 5 4"},
	} {
		chart := "|" + strings.Repeat(" C |", c.bars)
		s := scoreOf(t, "even", fmt.Sprintf("title: Even\nkey: C major\nchart: |\n  %s\nline:\n  density: 50%%\n", chart))
		l := newLayout(paper.Notate(s), drawing.A4, usualStaff)
		rows, ok := breakLines(l.bars, 0, l.room)
		require.True(t, ok)
		var got []string
		for _, r := range rows {
			got = append(got, fmt.Sprint(r.last-r.first+1))
		}
		require.Equal(t, c.want, strings.Join(got, " "), "%d bars", c.bars)
	}
}

// Twice the length has more room, but less than twice as much (Gould; Ross).
func TestLongerNotesHaveMoreRoom(t *testing.T) {
	for ticks := 60; ticks <= 1920; ticks *= 2 {
		ratio := naturalSpace(2*ticks) / naturalSpace(ticks)
		require.Greater(t, ratio, 1.3)
		require.Less(t, ratio, 1.7)
	}
}
