// Package comping finds how chords are held: the grips of a chord, rated by what
// they ask of the hand and how they sound, and one grip for each chord of a
// succession, so that the changes are easy.
//
// In go a neck and chords; out come grips. The package is pure: no files, no clock,
// no randomness. When the grips are strummed is the business of package arrange.
package comping

import (
	"fmt"
	"slices"

	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// What a change from grip to grip costs, beside the cost of the grips. It is
// little, so that a beginner's grip gives way only to one nearly as good.
const (
	fingerMovedCost = 2 // each string that is stopped anew; where a finger stays, the change is easier
	handMovedCost   = 2 // each fret by which the hand goes up or down the neck
)

// nearlyAsGood is how much more than a chord's best grip one may cost that Choose
// takes in its place. It is less than what parts the grip that books print from
// the next in the fitting of the costs.
const nearlyAsGood = 2

// Choose returns a grip for each chord of a succession: good ones, as [Grips]
// rates them, of which each follows the one before it comfortably. A chord has one
// grip wherever it stands, since a student learns one. A chord that has no grip is
// a [*NoGripError].
//
// It begins with each chord's best grip and then takes, chord by chord as they
// first come, the grip with which the whole succession costs least, until there
// is nothing to gain.
func Choose(n neck.Neck, chords []theory.Chord) ([]neck.Grip, error) {
	return new(Memory).Choose(n, chords)
}

// A Memory remembers the grips of the succession of chords for which they were last
// chosen, so that the next, which often has most of them, is spared the search. The
// zero value remembers nothing. It serves one succession at a time.
type Memory struct {
	neck neck.Neck
	good map[theory.Chord][]ratedGrip
}

// Choose is the function [Choose] with what the memory knows.
func (m *Memory) Choose(n neck.Neck, chords []theory.Chord) ([]neck.Grip, error) {
	if n.Capo != m.neck.Capo || !slices.Equal(n.Tuning, m.neck.Tuning) {
		*m = Memory{neck: n}
	}
	s, err := newSuccession(n, chords, m.good)
	if err != nil {
		return nil, err
	}
	for s.improve() {
	}
	m.good = map[theory.Chord][]ratedGrip{}
	grips := make([]neck.Grip, len(chords))
	for i, chord := range s.played {
		m.good[chords[i]] = s.choices[chord]
		grips[i] = s.choices[chord][s.chosen[chord]].Grip
	}
	return grips, nil
}

// A succession is chords one after the other, with a grip for each of those that
// differ, which are numbered as they first come.
type succession struct {
	played  []int         // the number of the chord at each place
	places  [][]int       // the places of each chord
	choices [][]ratedGrip // of each chord, the best first
	chosen  []int         // of each chord, the index of its choice
}

// newSuccession lays out a succession, of whose chords the good grips may be known.
func newSuccession(n neck.Neck, chords []theory.Chord, known map[theory.Chord][]ratedGrip) (*succession, error) {
	s := &succession{}
	numbers := map[theory.Chord]int{}
	for place, chord := range chords {
		number, met := numbers[chord]
		if !met {
			number = len(numbers)
			numbers[chord] = number
			good := known[chord]
			if good == nil {
				good = goodGrips(n, chord)
			}
			if len(good) == 0 {
				return nil, &NoGripError{Index: place, Chord: chord}
			}
			s.choices, s.places = append(s.choices, good), append(s.places, nil)
		}
		s.played = append(s.played, number)
		s.places[number] = append(s.places[number], place)
	}
	s.chosen = make([]int, len(s.choices))
	return s, nil
}

// goodGrips returns the best grip of a chord and those that are nearly as good.
func goodGrips(n neck.Neck, chord theory.Chord) []ratedGrip {
	grips := rated(n, chord)
	i := slices.IndexFunc(grips, func(g ratedGrip) bool { return g.cost-grips[0].cost > nearlyAsGood })
	if i < 0 {
		return grips
	}
	return slices.Clone(grips[:i])
}

// improve goes once through the chords and reports whether a choice has changed.
// Every change makes the whole cost less, so it comes to an end.
func (s *succession) improve() bool {
	changed := false
	for chord := range s.choices {
		least, best := s.cost(chord), s.chosen[chord]
		for k := range s.choices[chord] {
			s.chosen[chord] = k
			if cost := s.cost(chord); cost < least {
				least, best, changed = cost, k, true
			}
		}
		s.chosen[chord] = best
	}
	return changed
}

// cost returns what a chord's grip costs at all its places, with the changes to it
// and from it.
func (s *succession) cost(chord int) int {
	grip := s.grip(chord)
	cost := 0
	for _, place := range s.places[chord] {
		cost += grip.cost
		if place > 0 {
			cost += s.grip(s.played[place-1]).change(grip)
		}
		if place+1 < len(s.played) && s.played[place+1] != chord {
			cost += grip.change(s.grip(s.played[place+1]))
		}
	}
	return cost
}

func (s *succession) grip(chord int) ratedGrip { return s.choices[chord][s.chosen[chord]] }

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
