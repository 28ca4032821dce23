package line

import "encoding/binary"

// A Memory remembers the ways through the phrases of lines, for lines made later: who
// writes a chart changes a chord at a time, and most phrases stay as they are. The zero
// value remembers nothing. It serves one line at a time.
type Memory struct {
	known, older map[string]ways // by all that the ways of a unit depend on
}

// Age forgets what no line has asked for since the last time it was called.
func (m *Memory) Age() { m.known, m.older = nil, m.known }

// Ways are the ways through a unit, by start and end, as a search found them.
type ways struct {
	crossings [][]*crossing
	first     int // the index of the unit's first phrase in that search
}

// ways returns the ways through a unit of a search. A memory that is nil has none to
// return but those that are found now.
func (m *Memory) ways(s *search, u int) ways {
	if m == nil {
		return ways{s.crossings(u), s.units[u].first()[0]}
	}
	key := string(s.describe(u))
	found, ok := m.known[key]
	if !ok {
		found, ok = m.older[key]
	}
	if !ok {
		found = ways{s.crossings(u), s.units[u].first()[0]}
	}
	if m.known == nil {
		m.known = map[string]ways{}
	}
	m.known[key] = found
	return found
}

// describe writes down all that the ways through a unit depend on.
func (s *search) describe(u int) []byte {
	it := s.units[u]
	var d description
	for time := range it.times() {
		for _, phrases := range [2][]int{it.copies[time], it.endings[time]} {
			d.number(len(phrases))
			for _, p := range phrases {
				d.phrase(s, s.phrases[p])
			}
		}
	}
	if next := s.following(u); next >= 0 {
		d.onset(s.phrases[next].onsets[0])
	}
	return d
}

// A description is numbers, one after the other.
type description []byte

func (d *description) number(n int) { *d = binary.AppendVarint(*d, int64(n)) }

func (d *description) yes(b bool) {
	if b {
		d.number(1)
	} else {
		d.number(0)
	}
}

func (d *description) phrase(s *search, p phrase) {
	d.number(len(p.onsets))
	d.number(p.inside)
	d.yes(s.breathes(p.onsets[p.inside-1]))
	d.yes(s.breathes(p.onsets[len(p.onsets)-1]))
	for _, o := range p.onsets {
		d.onset(o)
	}
}

func (d *description) onset(o *onset) {
	d.yes(o.Arrival)
	d.yes(o.Statement)
	d.yes(o.afresh)
	d.yes(o.goesOn)
	d.number(len(o.rungs))
	for i := range o.rungs {
		r := &o.rungs[i]
		d.number(r.notes.Lower.MIDI())
		d.number(r.notes.Upper.MIDI())
		d.number(r.shared)
		d.yes(r.ok)
		d.number(o.costs[i])
	}
	d.number(len(o.arrivals))
	for _, rung := range o.arrivals {
		d.number(rung)
	}
}
