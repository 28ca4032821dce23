package line

import (
	"thirdwise/theory/line/contour"
	"thirdwise/theory/line/motif"
	"thirdwise/theory/meter"
)

// A state is what the costs ahead of an onset depend on: where the line is, and
// what of its way there still counts.
type state struct {
	rung    int
	heading contour.Heading
	motif   motif.Motif // what the phrase has stated
	peak    int         // the phrase's highest rung so far
	again   bool        // the peak has been reached more than once
	arrived int         // the rung of the last arrival
}

// begin returns the state in which a phrase begins on a rung.
func begin(rung int) state { return state{rung: rung, peak: rung, arrived: rung} }

// statesOfRung is how many states share a rung, but for what an index leaves out.
const statesOfRung = int(contour.Headings)

// index numbers the states but for their motif, high point and last arrival.
func (s state) index() int { return s.rung*statesOfRung + int(s.heading) }

// stateOf returns the state of an index, with no motif, high point or last arrival.
func stateOf(index int) state {
	return state{rung: index / statesOfRung, heading: contour.Heading(index % statesOfRung), arrived: -1}
}

// to returns the state after a move to an onset within a phrase, but for its motif.
func (s state) to(to *onset, rung int) state {
	heading := s.heading
	if to.afresh {
		heading = contour.Still
	}
	next := state{rung: rung, heading: heading.Turn(rung - s.rung), peak: s.peak, again: s.again, arrived: s.arrived}
	if to.Arrival {
		next.arrived = rung
	}
	switch {
	case rung > s.peak:
		next.peak, next.again = rung, false
	case rung == s.peak && rung != s.rung:
		next.again = true
	}
	return next
}

// heardEnough is how many earlier variants count that have a third: else the later ones
// would have to shun all that is good.
const heardEnough = 3

// cost is what an onset costs on one of its rungs, however it is reached.
func (s *search) cost(o *onset, at int) int {
	r := &o.rungs[at]
	cost := costOf.Hand * r.effort
	if o.opening {
		cost += costOf.Opening * r.effort
	}
	if o.Arrival || o.beat == meter.OnStrongBeat {
		above := at - o.curve
		cost += costOf.Far * max(0, distance(above, 0)-1)
		if s.CurveHigh > 0 {
			cost += costOf.Beyond * max(0, above-4)
		}
	}
	cost += costOf.Again * min(heardEnough, s.heard[heardAt{o.Tick, r.notes}])
	if o.home && !r.tonic {
		cost += costOf.Home
	}
	if o.Arrival {
		return cost + r.arrival
	}
	if r.suspended {
		cost += costOf.Suspended
	}
	if r.avoided && (o.beat != meter.OffBeat || o.hangs) {
		cost += costOf.Avoided
	}
	if o.beat != meter.OffBeat {
		cost += costOf.Loose * (2 - r.shared)
	}
	switch {
	case o.beat == meter.OnStrongBeat && r.shared == 0:
		cost += costOf.ForeignStrong
	case o.beat == meter.OnBeat && r.shared == 0:
		cost += costOf.ForeignBeat
	case o.hangs:
		cost += costOf.Hanging * (2 - r.shared)
	}
	return cost
}

// moveCost is what it costs to go from a rung of one onset to one of the next,
// whatever was before.
func moveCost(from, to *onset, at, rung int) int {
	before, after := &from.rungs[at], &to.rungs[rung]
	size := distance(rung, at)
	low, high := after.notes.Lower.MIDI()-before.notes.Lower.MIDI(), after.notes.Upper.MIDI()-before.notes.Upper.MIDI()
	same := low == 0 && high == 0
	switch {
	case same && to.Arrival && (from.Arrival || to.afresh):
		return costOf.Same
	case same && to.restarts:
		return costOf.Restart
	case same:
		return costOf.Repeat
	case size == 0:
		return costOf.Inflected
	case size > 1:
		return leapCost(from, to, before, after, size)
	case distance(low, 0) > 2 || distance(high, 0) > 2:
		return costOf.Augmented
	}
	return 0
}

// turnCost is the cost of going up or down where the line comes on a heading.
func turnCost(h contour.Heading, steps int) int {
	if steps == 0 || !h.Turn(steps).Turned() {
		return 0
	}
	cost := costOf.Turn
	if h.Turned() {
		cost += costOf.Zigzag
	}
	if distance(steps, 0) > 1 {
		cost += costOf.Back
	}
	return cost
}

// leapCost is the cost of going on by more than a step.
func leapCost(from, to *onset, before, after *voicing, size int) int {
	cost := costOf.Leap * (size - 2)
	if size > 2 && !to.afresh {
		cost += costOf.Jump
	}
	switch {
	case from.Arrival && to.Arrival:
		return cost + costOf.Skip
	case to.Arrival:
		cost += costOf.Landing
	default:
		cost += costOf.Skip
	}
	if before.shared == 0 || after.shared == 0 {
		cost += costOf.LooseSkip
	}
	return cost
}
