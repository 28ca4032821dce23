package paper

import "thirdwise/theory/meter"

// beam joins neighbouring notes shorter than a quarter within a beat, or within
// a tuplet, by beams. A rest breaks them.
func (m *Measure) beam(of meter.Meter) {
	for first := 0; first < len(m.Events); {
		last := first
		for last+1 < len(m.Events) && m.beamsWith(of, first, last+1) {
			last++
		}
		if last > first {
			m.setBeams(first, last)
		}
		first = last + 1
	}
}

// beamsWith reports whether the event at index next can stand under one beam
// with the one at index first.
func (m *Measure) beamsWith(of meter.Meter, first, next int) bool {
	a, b := &m.Events[first], &m.Events[next]
	if a.Rest() || b.Rest() || a.Value.Flags() == 0 || b.Value.Flags() == 0 || a.Tuplet != b.Tuplet {
		return false
	}
	if a.Tuplet < 0 {
		return of.BeatAt(a.Tick) == of.BeatAt(b.Tick)
	}
	t := m.Tuplets[a.Tuplet]
	start := m.Events[t.First].Tick
	beat := m.Events[t.Last].End() - start
	if t.Value < 8 { // a tuplet of quarters or longer has beats of its own
		beat /= t.Actual
	}
	return (a.Tick-start)/beat == (b.Tick-start)/beat
}

// setBeams works out each level of the beams over events first to last.
func (m *Measure) setBeams(first, last int) {
	group := m.Events[first : last+1]
	for i := range group {
		e := &group[i]
		e.Beams = make([]BeamPart, e.Value.Flags())
		for level := range e.Beams {
			before := i > 0 && group[i-1].Value.Flags() > level
			after := i < len(group)-1 && group[i+1].Value.Flags() > level
			e.Beams[level] = beamPart(before, after)
			if !before && !after && i > 0 {
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
