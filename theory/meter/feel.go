package meter

// Feel says how eighths are played.
type Feel int

// The feels.
const (
	Straight Feel = iota
	Swing         // the off-beat eighth falls on the last third of the beat
)

// String returns the feel's name, as an exercise writes it.
func (f Feel) String() string {
	if f == Swing {
		return "swing"
	}
	return "straight"
}

// Played returns where a written tick is played. Swing puts the off-beat eighth on
// the last third of the beat, sixteenths in proportion; what is written in
// triplets stays where it is.
func (f Feel) Played(tick int) int {
	const half, triplet = Quarter / 2, Quarter / 3
	in := tick % Quarter
	switch {
	case f == Straight || in%triplet == 0:
		return tick
	case in <= half:
		return tick - in + in*2*triplet/half
	}
	return tick - in + 2*triplet + (in-half)*triplet/half
}
