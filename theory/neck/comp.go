package neck

import (
	"fmt"

	"thirdwise/theory"
)

// What a change from grip to grip costs, beside the cost of the grips. It is
// little, so that a beginner's grip gives way only to one nearly as good.
const (
	fingerMovedCost = 1 // each string that is stopped anew; where a finger stays, the change is easier
	handMovedCost   = 1 // each fret by which the hand goes up or down the neck
)

// gripsTried is how many of a chord's grips, the best, Comp chooses among.
const gripsTried = 16

// Comp returns a grip for each chord of a succession: good ones, as [Neck.Grips]
// rates them, of which each follows the one before it comfortably. A chord that
// has no grip is a [*NoGripError].
func (n Neck) Comp(chords []theory.Chord) ([]Grip, error) {
	choices, err := n.choices(chords)
	if err != nil || len(chords) == 0 {
		return nil, err
	}

	// least[k] is the cost of the succession so far if it ends with the k-th
	// choice, and from[i][k] the choice that comes before that at chord i.
	least := make([]int, gripsTried)
	from := make([][]int, len(chords))
	for i, grips := range choices {
		from[i] = make([]int, len(grips))
		reached := make([]int, gripsTried)
		for k, grip := range grips {
			best := 0
			if i > 0 {
				from[i][k], best = easiest(choices[i-1], least, grip)
			}
			reached[k] = best + grip.cost
		}
		least = reached
	}

	last := choices[len(chords)-1]
	k := 0
	for other := range last {
		if least[other] < least[k] {
			k = other
		}
	}
	comp := make([]Grip, len(chords))
	for i := len(chords) - 1; i >= 0; i-- {
		comp[i] = choices[i][k].Grip
		k = from[i][k]
	}
	return comp, nil
}

// choices returns the best grips of each chord. Chords that are the same share
// them.
func (n Neck) choices(chords []theory.Chord) ([][]ratedGrip, error) {
	known := map[theory.Chord][]ratedGrip{}
	choices := make([][]ratedGrip, len(chords))
	for i, c := range chords {
		grips, ok := known[c]
		if !ok {
			grips = n.rated(c)
			grips = grips[:min(len(grips), gripsTried)]
			known[c] = grips
		}
		if len(grips) == 0 {
			return nil, &NoGripError{Index: i, Chord: c}
		}
		choices[i] = grips
	}
	return choices, nil
}

// easiest returns from which of the grips before it a grip is best reached, and
// the cost up to the change.
func easiest(before []ratedGrip, least []int, to ratedGrip) (best, cost int) {
	for k, g := range before {
		if c := least[k] + g.change(to); k == 0 || c < cost {
			best, cost = k, c
		}
	}
	return best, cost
}

// change returns what it costs to go from one grip to another.
func (g ratedGrip) change(to ratedGrip) int {
	cost := 0
	for i, fret := range to.Grip {
		if fret > 0 && g.Grip[i] != fret {
			cost += fingerMovedCost
		}
	}
	if g.hand > 0 && to.hand > 0 {
		cost += handMovedCost * max(g.hand-to.hand, to.hand-g.hand)
	}
	return cost
}

// A NoGripError tells which chord of a succession cannot be played on a neck.
type NoGripError struct {
	Index int // of the chord, from 0
	Chord theory.Chord
}

// Error names the chord.
func (e *NoGripError) Error() string {
	return fmt.Sprintf("the chord %s has no grip on this neck", e.Chord)
}
