// Package line finds the line of thirds that joins the chords of a chart.
//
// In go the chords, each with its stretch of time and the scale in force, and
// what the line may use: a grid, a density, a compass, the thirds that a hand can
// play. Out comes the best line, a shortest path over all choices. What "best"
// is, the table of costs says; where the thirds lie on a guitar is the business
// of package neck.
//
// The package is pure: no files, no clock, no randomness.
package line

import (
	"fmt"

	"thirdwise/theory"
)

// A Segment is a stretch of a chart in which one chord sounds, as the line sees
// it.
type Segment struct {
	Start, End int // ticks; End is the next segment's Start unless a rest follows
	Chord      theory.Chord
	Scale      theory.Scale // in force while the chord sounds
}

// A Role is what a third does in a line.
type Role int

// The roles.
const (
	Arrival   Role = iota // falls where a chord begins; both notes belong to it
	Passing               // goes on in the direction in which it was reached
	Neighbour             // turns back to where the line came from
	Repeat                // stays on the third before it
)

// String returns the role's name.
func (r Role) String() string {
	return [...]string{"arrival", "passing", "neighbour", "repeat"}[r]
}

// A Third is one third of a line.
type Third struct {
	Tick, Length int
	Third        theory.Third
	Role         Role
	Segment      int // index of the segment in which it sounds
	// LeadsBack marks the thirds of a closed line that lead from the last
	// arrival back to the first.
	LeadsBack bool
}

// A Maker makes lines. It says in which slots a line moves and which thirds it
// may use; [Maker.Line] finds the best one.
type Maker struct {
	Bar     int // length of a bar in ticks; the grid begins anew in each
	Beat    int // length of a beat in ticks
	Grid    int // distance of the slots in ticks
	Density int // per cent of the slots between two arrivals that move, 0 to 100
	// Low and High are the compass of the lower note, as staff steps (see
	// [theory.Pitch.Staff]), both included.
	Low, High int
	// Effort tells what it costs the hand to play a third, in the unit of the
	// line's own costs, and whether it can be played at all. Nil means that every
	// third is at hand.
	Effort func(theory.Third) (effort int, ok bool)
	// Closed makes the last segment lead back to the first, so that the line can
	// go round.
	Closed bool
	// Repeats are the parts that come several times in succession, in the order
	// of the segments, none within another. Each time has the line of the first,
	// where there is such a line.
	Repeats []RepeatedPart
}

// costOf says what the line weighs, in units of one step away from the middle
// of the compass. The line with the smallest sum is taken.
var costOf = struct {
	Far, Turn, Zigzag, SameArrival, Vague, Harsh, Landing, Repeat, Skip, Leap int
}{
	Far:         1,  // a staff step away from the middle of the compass
	Turn:        6,  // the run changes its direction
	Zigzag:      8,  // it changes back at once: to and fro between two thirds
	SameArrival: 7,  // the same arrival twice in a row: nothing seems to happen
	Vague:       4,  // an arrival without the chord's own third: the chord is hard to tell
	Harsh:       2,  // on the beat, a note that is not the chord's
	Landing:     5,  // an arrival reached by other than a step
	Repeat:      14, // a third struck again where a step was to be heard
	Skip:        11, // a third leapt over
	Leap:        3,  // a staff step of the way between arrivals with nothing between
}

// unreachable is the cost of what cannot be. Sums of a few stay far from overflow.
const unreachable = 1 << 40

// An Error says where no line can be found.
type Error struct {
	Segment int // index of the segment that cannot be reached or begun
	Reason  string
}

// Error returns the reason, with the segment's number counted from 1.
func (e *Error) Error() string { return fmt.Sprintf("chord %d: %s", e.Segment+1, e.Reason) }

// Line returns the best line over the segments: an arrival at the first tick of
// each, and between two arrivals as many thirds as density and grid say, in the
// slots nearest to the second. It moves by step; where the slots cannot be met
// by steps alone, one repeat or one skip of a third is made between two arrivals.
// Only where no slot lies between them does it leap farther, to the nearest
// arrival. A part that is repeated has the same line each time, but for the way
// from its last arrival. The time taken is linear in the number of segments.
//
// Where no such line exists, the error is a [*Error].
func (m Maker) Line(segments []Segment) ([]Third, error) {
	if len(segments) == 0 {
		return nil, nil
	}
	w := newWeaver(m, segments)
	path, err := w.path()
	if err != nil && len(m.Repeats) > 0 {
		m.Repeats = m.repeatable(segments)
		return m.Line(segments)
	}
	if err != nil {
		return nil, err
	}
	line := w.walk(path)
	assignRoles(line)
	return line, nil
}

// Slots returns the ticks in which the line moves between the arrival at the
// segment's start and the one at its end. They follow the bar's grid; where the
// segment does not begin and end on it, the segment is halved until its parts
// are as short as the grid's.
func (m Maker) Slots(s Segment) []int {
	all := m.allSlots(s)
	moving := (m.Density*len(all) + 50) / 100
	return all[len(all)-moving:]
}

func (m Maker) allSlots(s Segment) []int {
	first, step := s.Start-s.Start%m.Bar, m.Grid
	if (s.Start-first)%m.Grid != 0 || ((s.End-first)%m.Grid != 0 && s.End%m.Bar != 0) {
		first, step = s.Start, s.End-s.Start
		for 2*step > 3*m.Grid && step%2 == 0 {
			step /= 2
		}
	}
	var slots []int
	for tick := first; tick < s.End; tick += step {
		if tick > s.Start {
			slots = append(slots, tick)
		}
	}
	return slots
}

// assignRoles tells what each third of a line does, from the thirds around it.
func assignRoles(line []Third) {
	for i := range line {
		if line[i].Role == Arrival {
			continue
		}
		came := line[i].Third.Staff() - line[i-1].Third.Staff()
		next := line[(i+1)%len(line)] // a line that leads back goes on with its beginning
		goes := next.Third.Staff() - line[i].Third.Staff()
		switch {
		case came == 0:
			line[i].Role = Repeat
		case came*goes < 0:
			line[i].Role = Neighbour
		default:
			line[i].Role = Passing
		}
	}
}
