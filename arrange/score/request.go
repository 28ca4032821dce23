package score

import (
	"fmt"
	"strings"
)

// A Request is what the exercise asks of the line beside its grid and its density, in
// the signs in which exercises write it.
type Request struct {
	Rhythm  []string // a bar each, in turn, as in "x - - . x x x x"; nil where it follows from density and grid
	Push    bool     // arrivals come early where the line pushes
	Own     []OwnBar // bars that the teacher wrote, rising
	Variant int      // 1 for the best line, up to 9
	Ladder  Ladder
}

// An OwnBar is a bar of the line as the teacher wrote it.
type OwnBar struct {
	Number int    // of the bar in the chart, from 1, or from 0 where the first is a pickup
	Slots  string // "C4 - - . E4 F4 x x"
}

// A Ladder says of an exercise that it is no song but the thirds of its key, one after
// another. The zero value says that it is a song.
type Ladder struct {
	Along  string // "2-3" for two strings, "position", or "free" for the whole neck
	Triads bool   // over each degree's own triad, and not over the tonic's
}

// String says what a ladder is: "the thirds of the key up and down strings 2 and 3, over
// the tonic chord".
func (l Ladder) String() string {
	along, over := "strings "+strings.ReplaceAll(l.Along, "-", " and "), "the tonic chord"
	switch l.Along {
	case "position":
		along = "through the position"
	case "free":
		along = "the whole neck"
	}
	if l.Triads {
		over = "each degree's own triad"
	}
	return "the thirds of the key up and down " + along + ", over " + over
}

// Movement says in words how the line moves: as a ladder, in a written rhythm, or in so
// much of the grid.
func (s *Score) Movement() string {
	switch {
	case s.Asked.Ladder.Along != "":
		return s.Asked.Ladder.String()
	case s.Asked.Rhythm != nil:
		return "the line in the rhythm " + strings.ReplaceAll(strings.Join(s.Asked.Rhythm, "|"), " ", "")
	case s.Density == 0:
		return "the line of arrivals alone"
	}
	return fmt.Sprintf("the line in %d %% of the %s", s.Density, s.Grid)
}
