package system

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
)

// The same note has about the same room in a row as in the row before it, as engravers
// want it (Gould, Behind Bars; Ross: from memory). Behind each exercise stands by how much
// it may differ, as a part of the smaller: where a bar is left over, or the music itself
// becomes denser, there is no better division.
func TestANoteHasTheSameRoomInNeighbouringRows(t *testing.T) {
	const eighths, triplets, sixteenths = "{density: 100%}", "{density: 100%, grid: triplets}", "{density: 100%, grid: sixteenths}"
	bars := func(n int) string {
		return "|" + strings.Join(strings.SplitAfter(strings.Repeat(" C | Am | Dm | G |", n/4+1), "|")[:n], "")
	}
	sum, neighbours := 0.0, 0
	for _, c := range []struct {
		chart, meter, line string
		most               float64
	}{
		{bars(6), "4/4", eighths, 0.05},
		{bars(7), "4/4", eighths, 0.05},
		{bars(8), "4/4", eighths, 0.05},
		{bars(9), "4/4", eighths, 0.3},
		{bars(10), "4/4", eighths, 0.05},
		{bars(11), "4/4", eighths, 0.05},
		{bars(14), "4/4", eighths, 0.05},
		{bars(24), "4/4", eighths, 0.05},
		{bars(8), "4/4", triplets, 0.05},
		{bars(10), "4/4", triplets, 0.15},
		{bars(5), "4/4", sixteenths, 0.6},
		{bars(6), "4/4", sixteenths, 0.05},
		{bars(7), "4/4", sixteenths, 0.6},
		{bars(8), "4/4", sixteenths, 0.05},
		{bars(10), "4/4", sixteenths, 0.05},
		{bars(12), "4/4", sixteenths, 0.05},
		{bars(16), "4/4", sixteenths, 0.05},
		{bars(8), "3/4", sixteenths, 0.05},
		{bars(10), "3/4", eighths, 0.05},
		{bars(12), "3/4", eighths, 0.05},
		{bars(8), "6/8", sixteenths, 0.05},
		{bars(12), "6/8", eighths, 0.05},
		{bars(8), "12/8", eighths, 0.05},
		{bars(8), "12/8", sixteenths, 0.05},
		{bars(10), "7/8", eighths, 0.05},
		{bars(10), "5/4", eighths, 0.15},
		{"[pickup] N.C. / / G7 |\n  " + bars(8), "4/4", eighths, 0.1},
		{"[pickup] N.C. / / G7 |\n  " + bars(8), "4/4", sixteenths, 0.2},
		{"|: C | Am | Dm |1. G :|2. C |\n  |: F | Em | Dm |1. G :|2. C |", "4/4", sixteenths, 0.05},
		{"[A] " + bars(6) + "\n  [B] " + bars(4) + "\n  [C] " + bars(7), "4/4", eighths, 0.05},
		{"[A] " + bars(6) + "\n  [B] " + bars(4), "4/4", sixteenths, 0.05},
		{bars(8), "4/4", "{rhythm: 'x--- x--- x--- x--- | x--- x--- x--- x--- | x--- x--- x--- x--- | x--- x--- x--- x--- | xxxxxxxxxxxxxxxx | xxxxxxxxxxxxxxxx | xxxxxxxxxxxxxxxx | xxxxxxxxxxxxxxxx', grid: sixteenths}", 0.2},
	} {
		s := arrangetest.Score(t, fmt.Sprintf("title: Rows\nkey: C major\nmeter: %s\nchart: |\n  %s\nline: %s\n", c.meter, c.chart, c.line))
		rows, _, ok := Of(paper.Notate(s), Both, UsualFinger).Break(pageWidth, 0)
		require.True(t, ok)
		for i, r := range rows[1:] {
			before := rows[i].Stretch
			differs := max(before, r.Stretch)/min(before, r.Stretch) - 1
			assert.LessOrEqual(t, differs, c.most, "%s %s %s: row %d", c.chart, c.meter, c.line, i+2)
			sum, neighbours = sum+math.Log2(1+differs), neighbours+1
		}
	}
	assert.Less(t, math.Exp2(sum/float64(neighbours)), 1.04, "on average")
}
