package exercise

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

// A Grid is the slots in which the line can move.
type Grid int

// The grids.
const (
	Quarters Grid = iota
	Eighths
	Triplets // eighth-note triplets
	Sixteenths
)

var grids = [...]struct {
	name  string
	ticks int
}{
	Quarters:   {"quarters", Quarter},
	Eighths:    {"eighths", Quarter / 2},
	Triplets:   {"triplets", Quarter / 3},
	Sixteenths: {"sixteenths", Quarter / 4},
}

// Ticks returns the distance of the grid's slots in ticks.
func (g Grid) Ticks() int { return grids[g].ticks }

// String returns the grid's name, as an exercise writes it.
func (g Grid) String() string { return grids[g].name }

// Bass says what the bass part plays.
type Bass int

// The settings of the bass.
const (
	NoBass    Bass = iota
	RootFifth      // the root, then the fifth, in long notes
	Walking        // a note a beat, the last a step from the next chord's root
)

var bassNames = [...]string{NoBass: "none", RootFifth: "root-fifth", Walking: "walking"}

// String returns the setting's name, as an exercise writes it.
func (b Bass) String() string { return bassNames[b] }
