package system

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
)

// costOfRows adds up what a division costs, independently of how it was found; least and
// natural are the widths of the bars.
func costOfRows(m *Music, phrases paper.Phrases, rows []Row, least, natural []float64, thrift, width float64) float64 {
	sum, before := 0.0, 0.0 // the density of the row before
	ends := func(i int) bool { return i == len(m.bars)-1 || m.bars[i].SectionEnds }
	for k, r := range rows {
		needs, asks, room := 0.0, 0.0, m.room(width, r.First)
		for i := r.First; i <= r.Last; i++ {
			needs += least[i]
			asks += natural[i]
			if i > r.First && !mayShare(m, i) {
				return math.Inf(1)
			}
		}
		if needs > room {
			return math.Inf(1)
		}
		density := math.Log2(room / asks)
		sum += thrift + m.rowCost(phrases, spacedRow{r, density})
		if k > 0 && !ends(r.First-1) && (density < before || !ends(r.Last)) {
			sum += unlikeCost * (density - before) * (density - before)
		}
		before = density
	}
	return sum
}

// mayShare reports whether a bar may stand inside a row: where no section begins, where
// a pickup stands before it, and beside a section of a single bar.
func mayShare(m *Music, i int) bool {
	short := func(i int) bool { return i == len(m.bars)-1 || m.bars[i+1].Section != "" }
	return m.bars[i].Section == "" || i == 1 && m.bars[0].Number == 0 || short(i) || m.bars[i-1].Section != "" && short(i-1)
}

// Every way to divide the bars is tried.
func TestBreaksAreTheCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Of(paper.Notate(arrangetest.AnyScore(t)), Both, UsualFinger)
		m.bars = m.bars[:min(10, len(m.bars))]
		width := rapid.Float64Range(50, 120).Draw(t, "width")
		thrift := rapid.Float64Range(0, 4).Draw(t, "thrift")
		phrases := m.notation.Phrases()
		var least, natural []float64
		for i := range m.bars {
			least, natural = append(least, m.bars[i].width(0)), append(natural, m.bars[i].width(1))
		}
		cheapest := math.Inf(1)
		for breaks := range 1 << (len(m.bars) - 1) { // bit i: a line ends with bar i
			var rows []Row
			first := 0
			for i := range m.bars {
				if i == len(m.bars)-1 || breaks>>i&1 == 1 {
					rows = append(rows, Row{First: first, Last: i})
					first = i + 1
				}
			}
			cheapest = min(cheapest, costOfRows(m, phrases, rows, least, natural, thrift, width))
		}
		rows, _, ok := m.Break(width, thrift)
		require.Equal(t, !math.IsInf(cheapest, 1), ok)
		if ok {
			require.InDelta(t, cheapest, costOfRows(m, phrases, rows, least, natural, thrift, width), 1e-9)
		}
	})
}

// Rows of four bars, where they fit; and no bar alone at the end.
func TestBarsFallIntoRowsOfFour(t *testing.T) {
	for _, c := range []struct {
		bars int
		want string
	}{
		{4, "4"}, {8, "4 4"}, {12, "4 4 4"}, {16, "4 4 4 4"}, {5, "5"}, {9, "4 5"}, {13, "4 4 5"},
	} {
		chart := "|" + strings.Repeat(" C |", c.bars)
		s := arrangetest.Score(t, fmt.Sprintf("title: Even\nkey: C major\nchart: |\n  %s\nline:\n  density: 50%%\n", chart))
		rows, _, ok := Of(paper.Notate(s), Both, UsualFinger).Break(pageWidth, 0)
		require.True(t, ok)
		require.Equal(t, c.want, barsOf(rows), "%d bars", c.bars)
	}
}

// barsOf lists how many bars each row has.
func barsOf(rows []Row) string {
	var bars []string
	for _, r := range rows {
		bars = append(bars, fmt.Sprint(r.Last-r.First+1))
	}
	return strings.Join(bars, " ")
}

// Systems follow the lines of the chart as the teacher wrote them (common
// practice: a system is a phrase).
func TestRowsFollowTheLinesOfTheChart(t *testing.T) {
	for _, c := range []struct{ chart, want string }{
		{"| C | F | G | C |\n  | F | G | C |\n  | G | C | F | C |", "4 3 4"},
		{"| C | F | G |\n  | F | G | C |\n  | C | F | G |", "3 3 3"},
		{"| C | F | G | C | F | G | C | F |\n  | F | G | C | F |", "4 4 4"},
		{"[A] | C | F | G | C | F |\n  [B] | C | F | G |", "5 3"},
	} {
		s := arrangetest.Score(t, fmt.Sprintf("title: Lines\nkey: C major\nchart: |\n  %s\nline:\n  density: 50%%\n", c.chart))
		rows, _, ok := Of(paper.Notate(s), Both, UsualFinger).Break(pageWidth, 0)
		require.True(t, ok)
		require.Equal(t, c.want, barsOf(rows), c.chart)
	}
}

// Twice the length has more room, but less than twice as much (Gould; Ross).
func TestLongerNotesHaveMoreRoom(t *testing.T) {
	for ticks := 60; ticks <= 1920; ticks *= 2 {
		ratio := Both.naturalSpace(2*ticks) / Both.naturalSpace(ticks)
		require.Greater(t, ratio, 1.3)
		require.Less(t, ratio, 1.7)
	}
}

// Where a student is to write eighths between the arrivals, these stand where they would
// if the eighths were there.
func TestASheetToFillInHasRoomForEighths(t *testing.T) {
	const song = "title: Room\nkey: C major\nchart: '| C | F | G | C |'\nline: {density: %s}\n"
	full := Of(paper.Notate(arrangetest.Score(t, fmt.Sprintf(song, "100%"))), FillIn, UsualFinger)
	empty := Of(paper.Notate(arrangetest.Score(t, fmt.Sprintf(song, "0%"))), FillIn, UsualFinger)
	for i := range full.bars {
		require.Greater(t, len(full.bars[i].gaps), len(empty.bars[i].gaps))
		require.InDelta(t, full.bars[i].width(1.5), empty.bars[i].width(1.5), 0.5)
	}
}

// The last row of a section has the spacing of the row before it, and is then so much
// shorter that it is seen to be meant; but it is not as crowded as that may be.
func TestTheLastRowIsAsLooseAsTheOneBefore(t *testing.T) {
	for _, c := range []struct {
		bars  int
		line  string
		width float64
		ends  float64 // the last row, as a part of the width
	}{
		{6, "{density: 100%}", pageWidth, 0.52},
		{7, "{density: 100%}", pageWidth, 0.75},
		{6, "{density: 100%, grid: triplets}", pageWidth, 0.56},
		{5, "{density: 50%}", 60, 1},
		{3, "{density: 0%}", pageWidth, 1},
		{2, "{density: 0%}", pageWidth, 0.8},
	} {
		s := arrangetest.Score(t, fmt.Sprintf("title: Last\nkey: C major\nchart: |\n  |%s\nline: %s\n", strings.Repeat(" C |", c.bars), c.line))
		m := Of(paper.Notate(s), Both, UsualFinger)
		rows, _, ok := m.Break(c.width, 0)
		require.True(t, ok)
		last := rows[len(rows)-1]
		assert.InDelta(t, c.ends, newSystem(m, last).width/c.width, 0.02, "%v", c)
		if c.ends < 1 && len(rows) > 1 {
			require.Equal(t, max(1, rows[len(rows)-2].Stretch), last.Stretch)
		}
	}
}
