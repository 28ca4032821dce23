package theory

// A Segment is a stretch of a chart in which one chord sounds, as the line sees
// it.
type Segment struct {
	Start, End int // ticks; End is the next segment's Start unless a rest follows
	Chord      Chord
	Scale      Scale // in force while the chord sounds
}

// A Role is what a third does in a line.
type Role int

// The roles.
const (
	Arrival   Role = iota // falls where a chord begins; both notes belong to it
	Passing               // goes on in the direction in which it was reached
	Neighbour             // turns back to where the line came from
	Repeat                // stays on the third before it
)

// String returns the role's name.
func (r Role) String() string {
	return [...]string{"arrival", "passing", "neighbour", "repeat"}[r]
}
