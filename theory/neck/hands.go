package neck

// Hands returns where the hand stands while a line is played at places that
// [Neck.FingerUpTo] has found in a position: for each third the fret of the first
// finger, 1 in the open position.
func (n Neck) Hands(pairs []Pair, rested []bool, p Position) []int {
	ways := make([][]grasp, len(pairs))
	for i, pair := range pairs {
		effort, _ := pair.effort(p)
		lowest, highest := pair.hands(p)
		for hand := lowest; hand <= highest; hand++ {
			ways[i] = append(ways[i], grasp{pair, hand, effort})
		}
	}
	hands := make([]int, len(pairs))
	for i, k := range path(ways, rested) {
		hands[i] = ways[i][k].hand
	}
	return hands
}

// Fingers returns the fingers of the left hand, 1 to 4, that stop the pair while the
// first one stands at a fret; 0 for an open string. Where both would be the same,
// neighbouring fingers take the two strings, the lower finger the lower string or
// fret (common practice).
func (pair Pair) Fingers(hand int) (lower, upper int) {
	finger := func(fret int) int {
		if fret == 0 {
			return 0
		}
		return max(1, min(4, fret-hand+1))
	}
	lower, upper = finger(pair.Lower.Fret), finger(pair.Upper.Fret)
	if lower == 0 || lower != upper {
		return lower, upper
	}
	under, over := &lower, &upper
	if pair.Upper.Fret < pair.Lower.Fret {
		under, over = &upper, &lower
	}
	if lower == 4 {
		*under--
	} else {
		*over++
	}
	return lower, upper
}
