package meter

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

// Grids returns every grid, the widest first.
func Grids() []Grid {
	all := make([]Grid, len(grids))
	for i := range all {
		all[i] = Grid(i)
	}
	return all
}

// Ticks returns the distance of the grid's slots in ticks.
func (g Grid) Ticks() int { return grids[g].ticks }

// String returns the grid's name, as an exercise writes it.
func (g Grid) String() string { return grids[g].name }
