package neck

import (
	"fmt"

	"thirdwise/theory"
)

// What a fingering is found by: the path of least cost through the thirds of a line.
const (
	effortCost  = 4       // each unit of a third's own effort: a finger leaves its place only where no other strings help
	shiftCost   = 1 << 24 // each shift of the hand, a far one as the several that would do it: outweighs all else that a line can add up to
	hurryCost   = 200     // it moves while the line goes on: more than all the way up the neck, and no other strings make up for it
	moveCost    = 8       // each fret of a shift, as often as the shift counts
	stringsCost = 6       // the line goes to another pair of strings
	heightCost  = 1       // each fret up the neck at which the line begins
	openingCost = 10      // each unit of effort with which it begins: the hand has yet to find its place
)

// A grasp is one way to play a third: a pair of places, and the fret at which
// the first finger stands.
type grasp struct {
	Pair
	hand   int
	effort int
}

// Finger returns the places of each third of a line, one after the other, all of
// them inside the position: as few shifts of the hand as possible, each as
// little and as late as possible, on the same pair of strings where that can be
// kept. A shift farther than [Span] frets counts as the several that would do it.
// In Open and At the hand stays where it is; in Free, and in Lowest too, it reaches
// [Span] frets from wherever it stands.
//
// A third that cannot be played is an [*UnplayableError]. The time that Finger
// takes grows with the number of thirds and with nothing else.
func (n Neck) Finger(thirds []theory.Third, p Position) ([]Pair, error) {
	return n.FingerUpTo(thirds, nil, p, n.LastFret())
}

// FingerUpTo returns the places as [Neck.Finger] does, none of them beyond a fret,
// counted from the capo. Of as many shifts, those come where the hand has time for them:
// rested tells it of each third, by what goes before it; nil where none has.
func (n Neck) FingerUpTo(thirds []theory.Third, rested []bool, p Position, fret int) ([]Pair, error) {
	ways, err := n.ways(thirds, p, fret)
	if err != nil {
		return nil, err
	}
	pairs := make([]Pair, len(ways))
	for i, k := range path(ways, rested) {
		pairs[i] = ways[i][k].Pair
	}
	return pairs, nil
}

// path chooses one of the ways to play each third of a line, so that the line
// costs least. For rested, see [Neck.FingerUpTo].
func path(ways [][]grasp, rested []bool) []int {
	if len(ways) == 0 {
		return nil
	}
	hurry := func(i int) int {
		if i < len(rested) && rested[i] {
			return 0
		}
		return hurryCost
	}
	// ahead[i][k] is the cost of the line from third i to its end, begun with
	// the k-th way to play third i.
	ahead := make([][]int, len(ways))
	for i := len(ways) - 1; i >= 0; i-- {
		ahead[i] = make([]int, len(ways[i]))
		for k, g := range ways[i] {
			ahead[i][k] = effortCost * g.effort
			if i+1 < len(ways) {
				_, cost := g.next(ways[i+1], ahead[i+1], hurry(i+1))
				ahead[i][k] += cost
			}
		}
	}

	chosen := make([]int, len(ways))
	chosen[0] = first(ways[0], ahead[0])
	for i := 1; i < len(ways); i++ {
		chosen[i], _ = ways[i-1][chosen[i-1]].next(ways[i], ahead[i], hurry(i))
	}
	return chosen
}

// ways returns the ways to play each third of a line up to the last fret that is
// used. Thirds that are the same share them.
func (n Neck) ways(thirds []theory.Third, p Position, last int) ([][]grasp, error) {
	known := map[theory.Third][]grasp{}
	ways := make([][]grasp, len(thirds))
	for i, t := range thirds {
		grasps, ok := known[t]
		if !ok {
			if grasps = n.grasps(t, p, last); len(grasps) == 0 {
				return nil, &UnplayableError{Index: i, Third: t, Position: p, Reason: n.whyNot(t)}
			}
			known[t] = grasps
		}
		ways[i] = grasps
	}
	return ways, nil
}

// grasps returns the ways to play a third in a position up to a fret.
func (n Neck) grasps(t theory.Third, p Position, last int) []grasp {
	var all []grasp
	for pair := range n.pairs(t) {
		effort, ok := pair.effort(p)
		if !ok || max(pair.Lower.Fret, pair.Upper.Fret) > last {
			continue
		}
		lowest, highest := pair.hands(p)
		for hand := lowest; hand <= highest; hand++ {
			all = append(all, grasp{pair, hand, effort})
		}
	}
	return all
}

// hands returns the lowest and the highest fret at which the first finger can
// stand while a pair sounds. An open string asks for the open position.
func (pair Pair) hands(p Position) (lowest, highest int) {
	low, high := min(pair.Lower.Fret, pair.Upper.Fret), max(pair.Lower.Fret, pair.Upper.Fret)
	switch {
	case p.kind == atKind:
		return p.fret, p.fret
	case p.kind == openKind, low == 0:
		return 1, 1
	}
	return max(1, high-Span), low
}

// next returns the best of the ways to play the next third, and the cost of going
// there, with what a move costs for its hurry, and on to the line's end. Among equals it
// is one that leaves the hand where it is, so that shifts come late.
func (g grasp) next(ways []grasp, ahead []int, hurry int) (best, least int) {
	for k, to := range ways {
		cost := ahead[k]
		frets := max(to.hand-g.hand, g.hand-to.hand)
		moves := (frets + Span - 1) / Span
		cost += moves * (shiftCost + hurry + moveCost*frets)
		if to.Upper.String != g.Upper.String {
			cost += stringsCost
		}
		if k == 0 || cost < least || cost == least && to.hand == g.hand {
			best, least = k, cost
		}
	}
	return best, least
}

// first returns the best way to play the first third of a line.
func first(ways []grasp, ahead []int) (best int) {
	cost := func(k int) int { return ahead[k] + heightCost*ways[k].hand + openingCost*ways[k].effort }
	for k := range ways {
		if cost(k) < cost(best) {
			best = k
		}
	}
	return best
}

// An UnplayableError tells which third of a line cannot be played in a position,
// and why.
type UnplayableError struct {
	Index    int // of the third, from 0
	Third    theory.Third
	Position Position
	Reason   string // what the neck has for the third instead
}

// Error names the third, the position and the reason.
func (e *UnplayableError) Error() string {
	return fmt.Sprintf("the third %s cannot be played in position %s: %s", e.Third, e.Position, e.Reason)
}

// whyNot tells why a third cannot be played, or where else it could be.
func (n Neck) whyNot(t theory.Third) string {
	switch {
	case len(n.Places(t.Lower)) == 0:
		return fmt.Sprintf("%s is nowhere on the neck", t.Lower)
	case len(n.Places(t.Upper)) == 0:
		return fmt.Sprintf("%s is nowhere on the neck", t.Upper)
	}
	found := false
	var lowest Pair
	for pair := range n.pairs(t) {
		if _, ok := pair.effort(Free); ok && (!found || pair.Lower.Fret < lowest.Lower.Fret) {
			lowest, found = pair, true
		}
	}
	if !found {
		return "no two neighbouring strings have both notes in reach of a hand"
	}
	return fmt.Sprintf("strings %d and %d have it at frets %d and %d, out of reach from there",
		lowest.Lower.String, lowest.Upper.String, lowest.Lower.Fret, lowest.Upper.Fret)
}
