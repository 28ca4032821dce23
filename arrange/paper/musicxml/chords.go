package musicxml

import (
	"fmt"
	"slices"

	"thirdwise/arrange/score"
)

// Chords says how the strums are written.
type Chords int

// The ways of writing strums.
const (
	Slashes Chords = iota // their rhythm
	Written               // each note that sounds
)

var chordsNames = [...]string{Slashes: "slashes", Written: "written"}

// UnmarshalText sets c to the way named by text: "slashes" or "written".
func (c *Chords) UnmarshalText(text []byte) error {
	i := slices.Index(chordsNames[:], string(text))
	if i < 0 {
		return fmt.Errorf("%q is no way to write chords; it must be slashes or written", text)
	}
	*c = Chords(i)
	return nil
}

// slashed reports whether a strum is written as a slash. What is plucked is not: a
// slash does not tell which string.
func (c Chords) slashed(s score.Strum) bool { return c == Slashes && !s.Picked }
