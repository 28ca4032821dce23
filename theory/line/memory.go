package line

import "thirdwise/theory/line/memory"

// A Memory remembers the ways through the phrases of lines, for lines made later: who
// writes a chart changes a chord at a time, and most phrases stay as they are. The zero
// value remembers nothing. It serves one line at a time.
type Memory = memory.Memory[ways]

// Ways are the ways through a unit, by start and end, as a search found them.
type ways struct {
	crossings [][]*crossing
	first     int // the index of the unit's first phrase in that search
}

// ways returns the ways through a unit, which the search's memory may know.
func (s *search) ways(u int) ways {
	find := func() ways { return ways{s.crossings(u), s.units[u].first()[0]} }
	if s.Memory == nil {
		return find()
	}
	return s.Memory.Recall(s.describe(u), find)
}

// describe writes down all that the ways through a unit depend on.
func (s *search) describe(u int) (d memory.Description) {
	it := s.units[u]
	for time := range it.times() {
		for _, phrases := range [][]int{it.copies[time], it.endings[time]} {
			d.Numbers(len(phrases))
			for _, p := range phrases {
				onsets, inside := s.phrases[p].onsets, s.phrases[p].inside
				d.Numbers(len(onsets), inside)
				d.Facts(s.breathes(onsets[inside-1]), s.breathes(onsets[len(onsets)-1]))
				for _, o := range onsets {
					o.describe(&d)
				}
			}
		}
	}
	if next := s.following(u); next != nowhere {
		s.phrases[next].onsets[0].describe(&d)
	}
	return d
}

func (o *onset) describe(d *memory.Description) {
	d.Facts(o.Arrival, o.motif.Begins, o.motif.Ends, o.afresh, o.restarts, o.goesOn)
	d.Numbers(o.motif.States, o.motif.Says, len(o.rungs), len(o.arrivals))
	d.Numbers(o.arrivals...)
	for i := range o.rungs {
		r := &o.rungs[i]
		d.Numbers(r.notes.Staff(), r.notes.Lower.MIDI(), r.notes.Upper.MIDI(), r.shared, o.costs[i])
		d.Facts(r.ok)
	}
}
