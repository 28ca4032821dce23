package exercise

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
