package neck

import (
	"fmt"
	"iter"
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

// On returns the fret on a string, counted as in [Place].
func (g Grip) On(str int) int { return g[indexOf(str, len(g))] }

// Strings yields each string, counted as in [Place], and its fret, from the lowest
// string up.
func (g Grip) Strings() iter.Seq2[int, int] {
	return func(yield func(str, fret int) bool) {
		for i, fret := range g {
			if !yield(stringAt(i, len(g)), fret) {
				return
			}
		}
	}
}

// Stopped returns the lowest and the highest fret at which the grip stops a
// string, and how many strings it stops; all 0 where it stops none.
func (g Grip) Stopped() (lowest, highest, count int) {
	for _, fret := range g {
		if fret <= 0 {
			continue
		}
		if count == 0 {
			lowest = fret
		}
		lowest, highest = min(lowest, fret), max(highest, fret)
		count++
	}
	return lowest, highest, count
}
