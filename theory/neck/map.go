package neck

import (
	"slices"

	"thirdwise/theory"
)

// A Pattern is the thirds of a key along one pair of neighbouring strings: what a
// student learns from the nut up.
type Pattern struct {
	Lower, Upper int           // the strings, counted as in [Place]
	Thirds       []PlacedThird // from the nut up
}

// A PlacedThird is one of a key's thirds where a neck has it.
type PlacedThird struct {
	theory.Third
	Pair
	Degree int // of the lower note in the key, 1 to 7
	Effort int // see [Neck.Effort]
}

// Map returns where a neck has the thirds of a key in a position, a pattern for
// each pair of neighbouring strings, the highest pair first. For Free and Lowest
// that is the whole neck; for the others, what the hand reaches, stretches
// included. A pattern can be empty.
func (n Neck) Map(k theory.Key, p Position) []Pattern {
	patterns := make([]Pattern, n.Strings()-1)
	for i := range patterns {
		patterns[i].Upper, patterns[i].Lower = i+1, i+2
	}
	scale := k.Scale()
	for staff := range lastStaff {
		t := scale.Third(staff)
		for pair := range n.pairs(t) {
			effort, ok := pair.effort(p)
			if !ok {
				continue
			}
			pattern := &patterns[pair.Upper.String-1]
			pattern.Thirds = append(pattern.Thirds, PlacedThird{t, pair, k.Degree(t.Lower.Letter), effort})
		}
	}
	return patterns
}

// A KeyPosition is a position as a key lies in it.
type KeyPosition struct {
	Position  Position
	Low, High int            // the frets that its thirds use
	Thirds    []theory.Third // those reached without a stretch, the lowest first
	Missing   []theory.Third // those between the lowest and the highest that are not
	Degrees   []int          // on which the thirds reached stand, 1 to 7, rising
}

// Limits of what [Neck.Positions] finds.
const (
	mostPositions = 5
	lastOfOctave  = 11 // a fret further up, the open position comes again
	leastApart    = 2  // frets from one position to the next, at least
)

// Positions returns the positions in which a key lies well on a neck, from the
// nut up: at most five within the first octave, two frets apart or more. Well
// lies a key in a position that reaches many of its thirds with few missing
// between them. A position that reaches less than three quarters of what the best
// one does is left out.
func (n Neck) Positions(k theory.Key) []KeyPosition {
	var all []KeyPosition
	for _, p := range n.Candidates() {
		if p.hand() <= lastOfOctave {
			all = append(all, n.lies(k, p))
		}
	}
	slices.SortStableFunc(all, func(a, b KeyPosition) int { return b.ease() - a.ease() })

	var well []KeyPosition
	for _, kp := range all {
		near := func(other KeyPosition) bool {
			return max(kp.Position.hand()-other.Position.hand(), other.Position.hand()-kp.Position.hand()) < leastApart
		}
		if len(well) < mostPositions && 4*len(kp.Thirds) >= 3*len(all[0].Thirds) && !slices.ContainsFunc(well, near) {
			well = append(well, kp)
		}
	}
	slices.SortFunc(well, func(a, b KeyPosition) int { return a.Position.hand() - b.Position.hand() })
	return well
}

// ease rates how well a key lies in a position: a third more is as good as one
// missing less.
func (kp KeyPosition) ease() int { return len(kp.Thirds) - len(kp.Missing) }

// lies returns how a key lies in a position.
func (n Neck) lies(k theory.Key, p Position) KeyPosition {
	kp := KeyPosition{Position: p, Low: n.LastFret()}
	for _, pattern := range n.Map(k, p) {
		for _, t := range pattern.Thirds {
			if t.Effort >= stretchEffort {
				continue
			}
			kp.Low = min(kp.Low, t.Pair.Lower.Fret, t.Pair.Upper.Fret)
			kp.High = max(kp.High, t.Pair.Lower.Fret, t.Pair.Upper.Fret)
			kp.Thirds = append(kp.Thirds, t.Third)
			kp.Degrees = append(kp.Degrees, t.Degree)
		}
	}
	slices.SortFunc(kp.Thirds, func(a, b theory.Third) int { return a.Staff() - b.Staff() })
	kp.Thirds = slices.Compact(kp.Thirds)
	slices.Sort(kp.Degrees)
	kp.Degrees = slices.Compact(kp.Degrees)
	for i, t := range kp.Thirds[min(1, len(kp.Thirds)):] {
		for staff := kp.Thirds[i].Staff() + 1; staff < t.Staff(); staff++ {
			kp.Missing = append(kp.Missing, k.Scale().Third(staff))
		}
	}
	return kp
}
