package paper_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/paper"
)

// A bars is a row of so many bars, from the first.
type bars struct{ first, count int }

// Every way to divide the bars is tried.
func TestBarsAreDividedIntoTheCheapestRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "bars")
		own := map[bars]float64{} // what rows cost; one that is left out cannot be
		for first := range n {
			for count := 1; first+count <= n; count++ {
				if rapid.IntRange(0, 4).Draw(t, "possible") > 0 {
					own[bars{first, count}] = float64(rapid.IntRange(0, 9).Draw(t, "cost"))
				}
			}
		}
		unlike := func(above, below bars) float64 { return math.Abs(float64(above.count - below.count)) }
		cheapest := math.Inf(1)
		for breaks := range 1 << (n - 1) { // bit i: a row ends with bar i
			cost, first := 0.0, 0
			var above bars
			for i := range n {
				if i < n-1 && breaks>>i&1 == 0 {
					continue
				}
				row := bars{first, i + 1 - first}
				by, possible := own[row]
				if !possible {
					by = math.Inf(1)
				}
				cost += by
				if first > 0 {
					cost += unlike(above, row)
				}
				above, first = row, i+1
			}
			cheapest = min(cheapest, cost)
		}
		rows, told, ok := paper.Divide(n, func(first int) (choices []paper.Choice[bars]) {
			for count := 1; first+count <= n; count++ {
				if cost, possible := own[bars{first, count}]; possible {
					choices = append(choices, paper.Choice[bars]{Row: bars{first, count}, End: first + count, Cost: cost})
				}
			}
			return choices
		}, unlike)
		require.Equal(t, !math.IsInf(cheapest, 1), ok)
		if !ok {
			require.Empty(t, rows)
			return
		}
		cost, next := 0.0, 0
		for i, row := range rows {
			require.Equal(t, next, row.first)
			next += row.count
			cost += own[row]
			if i > 0 {
				cost += unlike(rows[i-1], row)
			}
		}
		require.Equal(t, n, next)
		require.Equal(t, cheapest, cost)
		require.InDelta(t, cost, told, 1e-9)
	})
}

// Without a preference the room that lists the rows decides.
func TestOfRowsThatAreAsGoodTheFirstIsTaken(t *testing.T) {
	listed := func(first int) (choices []paper.Choice[int]) {
		for count := 1; first+count <= 4; count++ {
			choices = append(choices, paper.Choice[int]{Row: count, End: first + count})
		}
		return choices
	}
	alike := func(above, below int) float64 { return 0 }
	short, _, ok := paper.Divide(4, listed, alike)
	assert.True(t, ok)
	assert.Equal(t, []int{1, 1, 1, 1}, short)
	long, _, _ := paper.Divide(4, func(first int) []paper.Choice[int] {
		choices := listed(first)
		slices.Reverse(choices)
		return choices
	}, alike)
	assert.Equal(t, []int{4}, long)
}
