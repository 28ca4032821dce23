package vary

import (
	"sync/atomic"

	"thirdwise/arrange"
	"thirdwise/arrange/score"
	"thirdwise/theory/neck"
)

// keptThirds is how many thirds a keeper keeps: some 20 MB of them, the lines of a
// thousand short exercises.
const keptThirds = 150_000

// A Keeper keeps of the scores of variants what takes long to find, until they are
// wanted again: their lines, but not more of them than the memory is meant for. Several
// goroutines may use it.
type Keeper struct{ thirds atomic.Int64 }

// A found is the line of a variant and its position.
type found struct {
	line []score.Third
	in   neck.Position
}

// Keep returns a variant with the line of its score.
func (k *Keeper) Keep(v Variant, s *score.Score) Variant {
	if k.thirds.Add(int64(len(s.Line))) <= keptThirds {
		v.found = &found{s.Line, s.Position}
	}
	return v
}

// Score arranges the variant: sooner where its line was kept.
func (v Variant) Score() (*score.Score, error) {
	if v.found != nil {
		return arrange.Again(v.Exercise, v.found.line, v.found.in)
	}
	s, _, err := arrange.Arrange(v.Exercise)
	return s, err
}
