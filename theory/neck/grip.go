package neck

import (
	"fmt"
	"strings"
)

// A Grip is a chord on the neck: a fret for each string, the lowest string
// first, and NotPlayed where a string is silent.
type Grip []int

// NotPlayed stands in a Grip for a string that does not sound.
const NotPlayed = -1

// String prints the grip as chord books write it in a line, the lowest string
// first, x for a string not played: "x32010". Where a fret has two digits, the
// places are set apart: "x-10-12-12-11-10".
func (g Grip) String() string {
	places, wide := make([]string, len(g)), false
	for i, fret := range g {
		places[i] = "x"
		if fret != NotPlayed {
			places[i] = fmt.Sprint(fret)
		}
		wide = wide || fret > 9
	}
	if wide {
		return strings.Join(places, "-")
	}
	return strings.Join(places, "")
}
