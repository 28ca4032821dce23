package paper

import (
	"fmt"

	"thirdwise/theory/meter"
)

// Count returns how a tick of a bar is counted aloud: the number of its beat, or of
// its eighth in meters of eighths; & half-way between, e and a a quarter and three
// quarters of the way; t and l, for trip-let, at the thirds of a beat (common
// practice). It is empty elsewhere.
func Count(m meter.Meter, tick int) string {
	length := m.UnitTicks()
	number, offset := tick/length+1, tick%length
	switch {
	case offset == 0:
		return fmt.Sprint(number)
	case m.Unit == 8:
		return ""
	case offset == length/2:
		return "&"
	case offset == length/4:
		return "e"
	case offset == length*3/4:
		return "a"
	case offset == length/3:
		return "t"
	case offset == length*2/3:
		return "l"
	}
	return ""
}
