package pluck

import "math/rand/v2"

// A chance gives numbers that look random, and the same each time for the same
// beginning.
type chance struct{ *rand.Rand }

// chanceOf returns the chance that belongs to some numbers.
func chanceOf(numbers ...int) chance {
	var seed uint64
	for _, n := range numbers {
		seed = seed*1_000_003 + uint64(n)
	}
	return chance{rand.New(rand.NewPCG(seed, 0))}
}

// between returns the next number from low to high.
func (c chance) between(low, high float64) float64 { return low + (high-low)*c.Float64() }

// sign returns 1 or −1.
func (c chance) sign() float64 { return float64(2*c.IntN(2) - 1) }
