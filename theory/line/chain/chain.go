// Package chain finds the best way along a row of places where what the ways between
// them cost is dear to work out: a cost is worked out only where a bound does not rule
// its way out.
package chain

import "slices"

// Unreachable is the cost of what cannot be. Sums of a few stay far from overflow.
const Unreachable = 1 << 40

// None is the home of a way that does not go round.
const None = -1

// A Chain is a row of places, each with several rungs to choose among, and the ways
// between neighbours. What a way costs is worked out only where a bound does not
// rule it out.
type Chain struct {
	Rungs [][]int // by place
	costs [][][]int
	known [][][]bool // whether the cost is no bound
	exact func(i, from, to int) int
}

// New makes a chain. The ways from a place to the next are told by the place's
// number and the indices of the two rungs.
func New(rungs [][]int, atLeast, exact func(i, from, to int) int) *Chain {
	c := &Chain{Rungs: rungs, exact: exact}
	for i := range len(rungs) - 1 {
		costs, known := make([][]int, len(rungs[i])), make([][]bool, len(rungs[i]))
		for from := range costs {
			costs[from], known[from] = make([]int, len(rungs[i+1])), make([]bool, len(rungs[i+1]))
			for to := range costs[from] {
				costs[from][to] = atLeast(i, from, to)
			}
		}
		c.costs, c.known = append(c.costs, costs), append(c.known, known)
	}
	return c
}

// Best returns the indices of the rungs on the best way along the chain, and what
// it costs. A way that goes round ends with the rung that it has at a place, home; one
// that does not has [None]. Of several that cost the same it is the one that is
// lowest at home, then at its beginning, then from its end back.
func (c *Chain) Best(home int) ([]int, int) {
	for {
		way, cost := c.cheapest(home)
		sure := true
		for i := range c.costs {
			from, to := way[i], way[i+1]
			if !c.known[i][from][to] {
				c.costs[i][from][to], c.known[i][from][to] = c.exact(i, from, to), true
				sure = false
			}
		}
		if sure {
			return way, cost
		}
	}
}

// AtLeast returns a bound of what the best way costs.
func (c *Chain) AtLeast() int {
	_, cost := c.cheapest(None)
	return cost
}

// cheapest returns the way that seems best by the costs as they are.
func (c *Chain) cheapest(home int) ([]int, int) {
	var best []int
	least := Unreachable
	take := func(way []int, cost int) {
		if best == nil || cost < least {
			best, least = way, cost
		}
	}
	if home < 0 {
		for first := range c.Rungs[0] {
			take(c.between(0, len(c.costs), first, None))
		}
		return best, least
	}
	for rung := range c.Rungs[home] {
		round, ahead := c.between(home, len(c.costs), rung, rung)
		for first := range c.Rungs[0] {
			way, cost := c.between(0, home, first, rung)
			take(append(way, round[1:]...), cost+ahead)
		}
	}
	return best, least
}

// between returns the way that seems best from a rung of one place to one of another,
// or to any where last is None.
func (c *Chain) between(place, until, first, last int) ([]int, int) {
	costs := slices.Repeat([]int{Unreachable}, len(c.Rungs[place]))
	costs[first] = 0
	var befores [][]int
	for i := place; i < until; i++ {
		next := slices.Repeat([]int{Unreachable}, len(c.Rungs[i+1]))
		before := make([]int, len(next))
		for from, row := range c.costs[i] {
			for to, cost := range row {
				if sum := costs[from] + cost; sum < next[to] {
					next[to], before[to] = sum, from
				}
			}
		}
		costs, befores = next, append(befores, before)
	}
	if last < 0 {
		last = slices.Index(costs, slices.Min(costs))
	}
	way := make([]int, len(befores)+1)
	way[len(befores)] = last
	for i := len(befores) - 1; i >= 0; i-- {
		way[i] = befores[i][way[i+1]]
	}
	return way, costs[last]
}
