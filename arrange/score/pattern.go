package score

import (
	"fmt"
	"strings"
)

// A Pattern is what the right hand does in a bar: a stroke a slot, which divide the bar
// evenly.
type Pattern []Stroke

// A Stroke is one slot of a pattern.
type Stroke struct {
	Sign    StrumSign
	Accent  bool
	Strings []int // of a pick: the strings that sound together, 1 the highest; Root the chord's lowest
}

// Root stands in a pick for the string that sounds the chord's bass.
const Root = 0

// A StrumSign says what kind of stroke a slot has.
type StrumSign byte

// The kinds of strokes.
const (
	Down   StrumSign = 'D'
	Up     StrumSign = 'U'
	Damped StrumSign = 'x' // a down-stroke on strings that the left hand damps
	Ring   StrumSign = '-' // no stroke; what sounds rings on
	Pick   StrumSign = 'P' // strings plucked one by one; not a sign that is written
)

// String writes the stroke as exercises do: ">D", "(21)".
func (s Stroke) String() string {
	sign := string(s.Sign)
	if s.Sign == Pick {
		sign = ""
		for _, str := range s.Strings {
			if str == Root {
				sign += "R"
			} else {
				sign += fmt.Sprint(str)
			}
		}
		if len(s.Strings) > 1 {
			sign = "(" + sign + ")"
		}
	}
	if s.Accent {
		return ">" + sign
	}
	return sign
}

// String writes the pattern as exercises may, without spaces.
func (p Pattern) String() string { return p.joined("") }

// Spaced writes the pattern as exercises do, a space between its slots.
func (p Pattern) Spaced() string { return p.joined(" ") }

func (p Pattern) joined(between string) string {
	signs := make([]string, len(p))
	for i, stroke := range p {
		signs[i] = stroke.String()
	}
	return strings.Join(signs, between)
}

// Picked reports whether strings are plucked in the pattern, not strummed.
func (p Pattern) Picked() bool {
	for _, stroke := range p {
		if stroke.Sign == Pick {
			return true
		}
	}
	return false
}
