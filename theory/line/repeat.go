package line

import "slices"

// A RepeatedPart is a run of segments that comes several times in succession. The
// line is the same each time, but for the way from its last arrival: that leads
// back to the first, and the last time on to what follows.
type RepeatedPart struct {
	First  int // index of the first segment, the first time
	Length int // segments
	Times  int // how often they come in all
}

// repeatable returns those of the repeated parts that can have one line, where not
// all of them can.
func (m Maker) repeatable(segments []Segment) []RepeatedPart {
	var kept []RepeatedPart
	for _, part := range m.Repeats {
		m.Repeats = append(slices.Clip(kept), part)
		if _, err := newWeaver(m, segments).path(); err == nil {
			kept = m.Repeats
		}
	}
	return kept
}

// A hop is the way from one station to another that the path takes as a whole:
// one leg, or a repeated part with the leg behind it.
type hop struct {
	start         int
	length, times int  // of a repeated part; 0 for a leg
	leaves        bool // a leg leads on from the repeated part
}

// end returns the station that the hop leads to. Where nothing follows a
// repeated part, that is its last one.
func (h hop) end() int {
	switch {
	case h.times == 0:
		return h.start + 1
	case h.leaves:
		return h.start + h.length*h.times
	}
	return h.start + h.length*h.times - 1
}

// findHops divides the way through all segments into hops.
func (w *weaver) findHops() []hop {
	var hops []hop
	repeats := w.Repeats
	for at := 0; at < len(w.legs); {
		h := hop{start: at}
		if len(repeats) > 0 && repeats[0].First == at {
			r := repeats[0]
			repeats = repeats[1:]
			h.length, h.times = r.Length, r.Times
			h.leaves = at+r.Length*r.Times <= len(w.legs)
		}
		hops = append(hops, h)
		at = h.end()
	}
	return hops
}

// across carries costs at a hop's first station to its last.
func (w *weaver) across(h hop, costs []int) column {
	if h.times == 0 {
		return w.legs[h.start].along(costs)
	}
	next := newColumn(w.stations[h.end()%len(w.stations)].nodes())
	for first, sum := range costs {
		if sum >= unreachable {
			continue
		}
		inside := w.inside(h, first)
		for last, once := range inside[len(inside)-1].costs {
			if once >= unreachable {
				continue
			}
			_, back := w.wayBack(h, first, last)
			if back >= unreachable {
				continue
			}
			total := sum + h.times*once + (h.times-1)*back
			if !h.leaves {
				next.reach(last, total, first, last)
				continue
			}
			for to, cost := range w.legs[h.end()-1].costs[last] {
				if cost < unreachable {
					next.reach(to, total+cost, first, last)
				}
			}
		}
	}
	return next
}

// inside carries the cost of a node through a repeated part, once. Every time
// begins on the same arrival; that it may be reached on another heading is not
// weighed.
func (w *weaver) inside(h hop, first int) []column {
	costs := newCosts(w.stations[h.start].nodes())
	costs[first] = 0
	table := []column{{costs: costs}}
	for i := range h.length - 1 {
		table = append(table, w.legs[h.start+i].along(table[i].costs))
	}
	return table
}

// wayBack returns the node on which a repeated part begins again, and the cost
// of the leg that leads there.
func (w *weaver) wayBack(h hop, first, last int) (node, cost int) {
	return cheapestOf(w.legs[h.start+h.length-1].costs[last], first/headings)
}

// fill writes the rungs of a hop's segments, the last station's left out, on the
// way to a node of the last station.
func (w *weaver) fill(rungs [][]int, h hop, reached column, to int) {
	first := reached.before[to]
	if h.times == 0 {
		rungs[h.start] = w.legs[h.start].way(first, to)
		return
	}
	last := reached.last[to]
	inside := w.inside(h, first)
	end := h.start + h.length - 1
	for i, node := h.length-1, last; i > 0; i-- {
		before := inside[i].before[node]
		rungs[h.start+i-1] = w.legs[h.start+i-1].way(before, node)
		node = before
	}
	again, _ := w.wayBack(h, first, last)
	rungs[end] = w.legs[end].way(last, again)
	for i := h.start + h.length; i < h.start+h.length*h.times; i++ {
		rungs[i] = rungs[i-h.length]
	}
	out := h.start + h.length*h.times - 1
	if h.leaves {
		rungs[out] = w.legs[out].way(last, to)
	} else {
		rungs[out] = []int{w.stations[out].arrival(last)}
	}
}
