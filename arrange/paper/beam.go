package paper

import (
	"slices"

	"thirdwise/theory/meter"
)

// beam joins neighbouring notes shorter than a quarter within a beat, or within
// a tuplet, by beams; eighths alone also within half a bar of 4/4, and within a
// bar of 2/4 (Gould, Behind Bars, from memory). A rest breaks them.
func (m *Measure) beam(of meter.Meter) {
	halves := m.evenHalves(of)
	for first := 0; first < len(m.Events); {
		last := first
		for last+1 < len(m.Events) && m.beamsWith(of, halves, first, last+1) {
			last++
		}
		if last > first {
			m.setBeams(of, first, last)
		}
		first = last + 1
	}
}

// evenHalves returns which of the bar's groups of two quarters have no notes shorter
// than eighths, so that these may stand under one beam; nil where the meter has other
// groups.
func (m *Measure) evenHalves(of meter.Meter) []bool {
	groups := of.Groups()
	if of.Unit != 4 || slices.ContainsFunc(groups, func(units int) bool { return units != 2 }) {
		return nil
	}
	even := make([]bool, len(groups))
	for i := range even {
		even[i] = !slices.ContainsFunc(m.Events, func(e Event) bool {
			return e.Tick/(2*meter.Quarter) == i && e.Value.Flags() > 1
		})
	}
	return even
}

// beamsWith reports whether the event at index next can stand under one beam
// with the one at index first.
func (m *Measure) beamsWith(of meter.Meter, halves []bool, first, next int) bool {
	a, b := &m.Events[first], &m.Events[next]
	if a.Rest() || b.Rest() || a.Value.Flags() == 0 || b.Value.Flags() == 0 || a.Tuplet != b.Tuplet {
		return false
	}
	if a.Tuplet < 0 {
		half := a.Tick / (2 * meter.Quarter)
		return of.BeatAt(a.Tick) == of.BeatAt(b.Tick) || halves != nil && halves[half] && b.Tick/(2*meter.Quarter) == half
	}
	t := m.Tuplets[a.Tuplet]
	start := m.Events[t.First].Tick
	beat := t.Normal * whole / int(t.Value)
	if t.Value < 8 { // a tuplet of quarters or longer has beats of its own
		beat /= t.Actual
	}
	return (a.Tick-start)/beat == (b.Tick-start)/beat
}

// setBeams works out each level of the beams over events first to last. Where
// the beat is longer than a quarter and divides by two, all but the first level
// break at its quarters.
func (m *Measure) setBeams(of meter.Meter, first, last int) {
	group := m.Events[first : last+1]
	joined := func(i, level int) bool { // at a level with the event before
		if i == 0 || i == len(group) || group[i-1].Value.Flags() <= level || group[i].Value.Flags() <= level {
			return false
		}
		broken := of.Beat() == 2*meter.Quarter && group[i-1].Tick/meter.Quarter != group[i].Tick/meter.Quarter
		return level == 0 || !broken
	}
	for i := range group {
		e := &group[i]
		e.Beams = make([]BeamPart, e.Value.Flags())
		for level := range e.Beams {
			before, after := joined(i, level), joined(i+1, level)
			e.Beams[level] = beamPart(before, after)
			if !before && !after {
				// A stub points to the note that it makes up a longer value
				// with: forward where the event begins one, else backward.
				offset := e.Tick - group[0].Tick
				if i == len(group)-1 || offset%(2*e.Length) != 0 {
					e.Beams[level] = HookBackward
				}
			}
		}
	}
}

func beamPart(before, after bool) BeamPart {
	switch {
	case before && after:
		return BeamContinues
	case before:
		return BeamEnds
	case after:
		return BeamBegins
	}
	return HookForward
}
