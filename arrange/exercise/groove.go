package exercise

import "thirdwise/arrange/exercise/source"

// Groove says what soft percussion plays with the chords.
type Groove int

// The settings of the groove.
const (
	NoGroove Groove = iota
	Shaker          // shaken forth and back
	Brush           // brushes on a drum: sweeps and taps
)

var grooveNames = [...]string{NoGroove: "none", Shaker: "shaker", Brush: "brush"}

// String returns the setting's name, as an exercise writes it.
func (g Groove) String() string { return grooveNames[g] }

func readGroove(t source.Text) Groove {
	i, _ := choose(t, "a groove", grooveNames[:], map[string]string{
		"no": "none", "off": "none", "shake": "shaker", "maracas": "shaker", "egg": "shaker", "brushes": "brush", "drums": "brush", "snare": "brush",
	})
	return Groove(i)
}

// clickNames are how long the click goes on: it is always heard, or in the count-in
// alone.
var clickNames = []string{"always", "count-in"}

// readClick reports whether the click ends with the count-in.
func readClick(t source.Text) bool {
	i, _ := choose(t, "a setting of the click", clickNames, map[string]string{
		"on": "always", "yes": "always", "all": "always", "count in": "count-in", "countin": "count-in", "count-in only": "count-in", "lead-in": "count-in",
	})
	return i == 1
}

// noteTimekeepers notes what keeps the time behind the count-in where the click ends
// with it.
func noteTimekeepers(click setting, g Groove) {
	others := "the groove does"
	if g == NoGroove {
		others = "the chords alone do, for there is no groove"
	}
	click.Note("the click ends with the count-in: in the mix guide nothing keeps the time then, and in the others " + others)
}
