package chain_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory/line/chain"
)

// The best way is the best of all ways, which are tried one by one, whether it goes on
// to the end, round, or round without its beginning; and what it costs is the sum of
// what its parts cost. Of ways that cost the same, the same one is always taken.
func TestTheBestWayIsTheCheapestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.IntRange(2, 5).Draw(t, "places")
		home := rapid.IntRange(-1, places-2).Draw(t, "home")
		rungs := make([][]int, places)
		for i := range rungs {
			rungs[i] = make([]int, rapid.IntRange(1, 3).Draw(t, "rungs"))
		}
		if home >= 0 {
			rungs[places-1] = rungs[home]
		}
		costs := map[[3]int]int{}
		for i := range places - 1 {
			for from := range rungs[i] {
				for to := range rungs[i+1] {
					costs[[3]int{i, from, to}] = rapid.IntRange(0, 3).Draw(t, "cost")
				}
			}
		}
		sum := func(way []int) (sum int) {
			for i := range places - 1 {
				sum += costs[[3]int{i, way[i], way[i+1]}]
			}
			return sum
		}
		order := func(way []int) (rungs []int) { // what makes one way come before another
			if home >= 0 {
				rungs = append(rungs, way[home])
			}
			rungs = append(rungs, way[0])
			for _, rung := range slices.Backward(way) {
				rungs = append(rungs, rung)
			}
			return rungs
		}
		least := 1 << 30
		var best []int
		var try func(way []int)
		try = func(way []int) {
			if len(way) < places {
				for rung := range rungs[len(way)] {
					try(append(way, rung))
				}
			} else if home < 0 || way[home] == way[places-1] {
				if cost := sum(way); cost < least || cost == least && slices.Compare(order(way), order(best)) < 0 {
					least, best = cost, slices.Clone(way)
				}
			}
		}
		try(nil)
		c := chain.New(rungs,
			func(i, from, to int) int { return costs[[3]int{i, from, to}] / 2 },
			func(i, from, to int) int { return costs[[3]int{i, from, to}] })
		way, cost := c.Best(home)
		require.Equal(t, least, cost)
		require.Equal(t, best, way)
	})
}
