package neck

import "thirdwise/theory"

// What a third asks of the hand, in the unit of a line's costs; 0 is
// comfortable.
const (
	stretchEffort = 4 // each note one fret outside the position: a finger leaves its place
	reachEffort   = 1 // each fret beyond two between the two fretted notes: fingers spread
)

// Effort returns what a third asks of the hand in a position, 0 where it is
// comfortable, on the pair of strings that asks least; ok is false where no pair
// of neighbouring strings plays it in reach there.
//
// In reach is a pair whose fretted notes lie at most [Span] frets apart. Open is
// frets 0 to 4. At N is frets N to N+4 without open strings, and one fret either
// way as a stretch. Free, and Lowest too, is the whole neck, open strings where
// the other note lies in the open position.
func (n Neck) Effort(t theory.Third, p Position) (effort int, ok bool) {
	for pair := range n.pairs(t) {
		e, reached := pair.effort(p)
		if reached && (!ok || e < effort) {
			effort, ok = e, true
		}
	}
	return effort, ok
}

// effort returns what a pair asks of the hand in a position, and whether the
// hand reaches it.
func (pair Pair) effort(p Position) (effort int, ok bool) {
	low, high := min(pair.Lower.Fret, pair.Upper.Fret), max(pair.Lower.Fret, pair.Upper.Fret)
	if low == 0 {
		return 0, high <= Span && p.kind != atKind
	}
	if high-low > Span || p.kind == openKind && high > Span {
		return 0, false
	}
	effort = reachEffort * max(0, high-low-2)
	if p.kind != atKind {
		return effort, true
	}
	for _, fret := range [2]int{low, high} {
		switch {
		case fret < p.fret-1 || fret > p.fret+Span+1:
			return 0, false
		case fret < p.fret || fret > p.fret+Span:
			effort += stretchEffort
		}
	}
	return effort, true
}

// muddyBelow is the MIDI key of C3, below which a third sounds muddy: the
// low-interval limit of arranging (common practice).
const muddyBelow = 48

// Compass returns the lowest and the highest lower note of a scale's thirds that
// a line should use in a position where nothing else is asked for; ok is false
// where no third can be played. Between the two there can be holes: ask
// [Neck.Effort].
//
// The compass begins at C3 or above, for lower thirds sound muddy, unless fewer
// than seven thirds, one on each letter, could be played from there up; then it
// begins as much lower as it must.
func (n Neck) Compass(s theory.Scale, p Position) (low, high theory.Pitch, ok bool) {
	playable := n.playable(s, p)
	if len(playable) == 0 {
		return low, high, false
	}
	bottom := 0
	for bottom < len(playable)-7 && playable[bottom].Lower.MIDI() < muddyBelow {
		bottom++
	}
	return playable[bottom].Lower, playable[len(playable)-1].Lower, true
}

// playable returns a scale's thirds that can be played in a position, from the
// lowest up.
func (n Neck) playable(s theory.Scale, p Position) []theory.Third {
	var thirds []theory.Third
	for staff := range lastStaff {
		t := s.Third(staff)
		if _, ok := n.Effort(t, p); ok {
			thirds = append(thirds, t)
		}
	}
	return thirds
}

// lastStaff is the staff step of C9, beyond every place of every neck.
const lastStaff = 7 * 9
