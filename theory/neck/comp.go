package neck

import (
	"fmt"

	"thirdwise/theory"
)

// What a change from grip to grip costs, beside the cost of the grips. It is
// little, so that a beginner's grip gives way only to one nearly as good.
const (
	fingerMovedCost = 2 // each string that is stopped anew; where a finger stays, the change is easier
	handMovedCost   = 2 // each fret by which the hand goes up or down the neck
)

// nearlyAsGood is how much more than a chord's best grip one may cost that Comp
// takes in its place. It is less than what parts the grip that books print from
// the next in the fitting of the costs.
const nearlyAsGood = 2

// Comp returns a grip for each chord of a succession: good ones, as [Neck.Grips]
// rates them, of which each follows the one before it comfortably. A chord has one
// grip wherever it stands, since a student learns one. A chord that has no grip is
// a [*NoGripError].
//
// It begins with each chord's best grip and then takes, chord by chord as they
// first come, the grip with which the whole succession costs least, until there
// is nothing to gain.
func (n Neck) Comp(chords []theory.Chord) ([]Grip, error) {
	c, err := n.newComping(chords)
	if err != nil {
		return nil, err
	}
	for c.improve() {
	}
	grips := make([]Grip, len(chords))
	for i, chord := range c.played {
		grips[i] = c.choices[chord][c.chosen[chord]].Grip
	}
	return grips, nil
}

// A comping is a succession of chords with a grip for each of those that differ,
// which are numbered as they first come.
type comping struct {
	played  []int         // the number of the chord at each place
	places  [][]int       // the places of each chord
	choices [][]ratedGrip // of each chord, the best first
	chosen  []int         // of each chord, the index of its choice
}

func (n Neck) newComping(chords []theory.Chord) (*comping, error) {
	c := &comping{}
	numbers := map[theory.Chord]int{}
	for place, chord := range chords {
		number, known := numbers[chord]
		if !known {
			number = len(numbers)
			numbers[chord] = number
			grips := n.rated(chord)
			if len(grips) == 0 {
				return nil, &NoGripError{Index: place, Chord: chord}
			}
			good := 1
			for good < len(grips) && grips[good].cost-grips[0].cost <= nearlyAsGood {
				good++
			}
			c.choices, c.places = append(c.choices, grips[:good]), append(c.places, nil)
		}
		c.played = append(c.played, number)
		c.places[number] = append(c.places[number], place)
	}
	c.chosen = make([]int, len(c.choices))
	return c, nil
}

// improve goes once through the chords and reports whether a choice has changed.
// Every change makes the whole cost less, so it comes to an end.
func (c *comping) improve() bool {
	changed := false
	for chord := range c.choices {
		least, best := c.cost(chord), c.chosen[chord]
		for k := range c.choices[chord] {
			c.chosen[chord] = k
			if cost := c.cost(chord); cost < least {
				least, best, changed = cost, k, true
			}
		}
		c.chosen[chord] = best
	}
	return changed
}

// cost returns what a chord's grip costs at all its places, with the changes to it
// and from it.
func (c *comping) cost(chord int) int {
	grip := c.grip(chord)
	cost := 0
	for _, place := range c.places[chord] {
		cost += grip.cost
		if place > 0 {
			cost += c.grip(c.played[place-1]).change(grip)
		}
		if place+1 < len(c.played) && c.played[place+1] != chord {
			cost += grip.change(c.grip(c.played[place+1]))
		}
	}
	return cost
}

func (c *comping) grip(chord int) ratedGrip { return c.choices[chord][c.chosen[chord]] }

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
