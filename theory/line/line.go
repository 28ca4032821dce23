package line

import (
	"fmt"
	"slices"

	"thirdwise/theory"
	"thirdwise/theory/line/rhythm"
)

// A Segment is a stretch of a chart in which one chord sounds, as the line sees
// it.
type Segment struct {
	Start, End int // ticks; End is the next segment's Start unless a rest follows
	Chord      theory.Chord
	Scale      theory.Scale // in force while the chord sounds
	Bar        int          // index of its bar as the chart writes it; repeats share it
	Section    int          // see [rhythm.Span]
}

// A Role is what a third does in a line.
type Role int

// The roles.
const (
	Arrival   Role = iota // with it a chord begins; both notes belong to it
	Passing               // goes on in the direction in which it was reached
	Neighbour             // turns back to where the line came from
	Repeat                // stays on the third before it
)

// String returns the role's name.
func (r Role) String() string {
	return [...]string{"arrival", "passing", "neighbour", "repeat"}[r]
}

// A Step is one third of a line.
type Step struct {
	Tick, Length int // the line rests where a step ends before the next begins
	Notes        theory.Third
	Role         Role
	Segment      int // index of the segment to whose chord it belongs
	// LeadsBack marks the steps of a closed line that lead from the last
	// arrival back to that of Home.
	LeadsBack bool
}

// A Maker makes lines.
type Maker struct {
	Key    theory.Key
	Rhythm rhythm.Maker // where thirds begin; Written is overruled by Own
	// Low and High are the compass of the lower note, as staff steps (see
	// [theory.Pitch.Staff]), both included. What Own writes may lie beyond it.
	Low, High int
	// CurveHigh is High as the curves of the phrases see it, which lie halfway between
	// it and Low: lower than High where the line may go high but has no reason to.
	// 0 stands for High.
	CurveHigh int
	// Effort tells what it costs the hand to play a third, and whether it can be
	// played at all. Nil means that every third is at hand.
	Effort func(theory.Third) (effort int, ok bool)
	// Closed makes the last segment lead back to the one at Home, so that the line can
	// go round. With it a phrase begins; what goes before it is a pickup.
	Closed bool
	Home   int
	// Repeats are the parts that come several times in succession, in the order
	// of the segments, none within another. Each time has the line of the first.
	Repeats []RepeatedPart
	// Own holds what is written of the line itself, by the index of the bar in the
	// chart, one slot after the other; the slots divide the bar evenly.
	Own map[int][]Slot
	// Variant is 1, or 0, for the best line, 2 for the next that differs clearly,
	// and so on.
	Variant int
	// Memory spares the search what lines made before it have in common with this
	// one. It changes no line, and may be nil.
	Memory *Memory
}

// A RepeatedPart is a run of segments that comes several times. The line is the same
// each time, but for the way from its last arrival: that leads back to the first, or
// into the ending of that time, and the last time on to what follows.
type RepeatedPart = rhythm.RepeatedPart

// A Slot is what is written of one slot of a bar.
type Slot struct {
	Sign  rhythm.Sign
	Lower *theory.Pitch // of the third that begins; nil where it is to be found
}

// An Error says where no line can be found.
type Error struct {
	Segment int // index of the segment that cannot be begun
	Reason  string
	Own     *OwnNote // the written note that is to blame; nil where none is
}

// An OwnNote is the place of a note in [Maker.Own].
type OwnNote struct {
	Bar, Slot int // index of the bar in the chart, and of the slot in it
}

// Error returns the reason, with the segment's number counted from 1.
func (e *Error) Error() string { return fmt.Sprintf("chord %d: %s", e.Segment+1, e.Reason) }

// Line returns the best line over the segments in the rhythm that m.Rhythm makes:
// of all lines the one that costs least by the table [costOf]. A part that is
// repeated has the same line each time, but for the way from its last arrival. The
// time taken is linear in the number of segments.
//
// Where no such line exists, the error is a [*Error].
func (m Maker) Line(segments []Segment) ([]Step, error) {
	if len(segments) == 0 {
		return nil, nil
	}
	heard := map[heardAt]int{}
	var steps []Step
	for variant := 1; variant <= max(1, m.Variant); variant++ {
		s, err := newSearch(m, segments, variant, heard)
		if err != nil {
			return nil, err
		}
		steps = s.write(s.path())
		for _, step := range steps {
			heard[heardAt{step.Tick, step.Notes}]++
		}
	}
	m.assignRoles(steps)
	return steps, nil
}

// heardAt is a third at a tick, as a line has it.
type heardAt struct {
	tick  int
	notes theory.Third
}

// assignRoles tells what each third of a line does, from the thirds around it.
func (m Maker) assignRoles(steps []Step) {
	home := max(0, slices.IndexFunc(steps, func(s Step) bool { return s.Segment == m.Home }))
	for i := range steps {
		if steps[i].Role == Arrival || i == 0 {
			continue
		}
		came := steps[i].Notes.Staff() - steps[i-1].Notes.Staff()
		next := steps[home] // where a line that leads back goes on
		if i+1 < len(steps) {
			next = steps[i+1]
		}
		goes := next.Notes.Staff() - steps[i].Notes.Staff()
		switch {
		case steps[i].Notes == steps[i-1].Notes:
			steps[i].Role = Repeat
		case came*goes < 0:
			steps[i].Role = Neighbour
		default:
			steps[i].Role = Passing
		}
	}
}

func distance(a, b int) int { return max(a-b, b-a) }
