package line

import (
	"container/heap"
	"slices"

	"thirdwise/theory/line/chain"
)

// A stretch is a run of onsets over which the best way is looked for: a phrase up to
// its last arrival, or what leads from there to the next phrase.
type stretch struct {
	onsets []*onset
	weight int  // how often it is played
	long   bool // the whole line has more than hoppedOnsets
	// ahead is what a state at the last onset costs further on, and aheadAtLeast a
	// bound of it that leaves the high point and the last arrival out.
	ahead        func(state) int
	aheadAtLeast func(index int) int

	bounds [][]int // by onset and state as state.index counts them, the bound and 1; 0 where it is unknown
	memory map[state]course
}

// A course is the best way over a stretch: what it costs, the rungs behind the first
// onset, and the state at its end.
type course struct {
	cost  int
	rungs []int
	end   state
}

// atLeast returns what the best way from an onset in a state, which is told by its
// index, costs if neither the phrase's high point nor the last arrival is weighed, the
// onset itself left out. No way costs less.
func (t *stretch) atLeast(at, index int) int {
	if at+1 == len(t.onsets) {
		return t.aheadAtLeast(index)
	}
	if t.bounds[at] == nil {
		t.bounds[at] = make([]int, len(t.onsets[at].rungs)*statesOfRung)
	}
	bound := &t.bounds[at][index]
	if *bound == 0 {
		least := chain.Unreachable
		for _, h := range t.onsets[at+1].hopsFrom(t.onsets[at], index) {
			if cost := t.weight * int(h.cost); cost < least {
				least = min(least, cost+t.atLeast(at+1, int(h.to)))
			}
		}
		*bound = least + 1
	}
	return *bound - 1
}

// forget gives up the bounds of a long line, and what they are made of. That takes much
// room and is soon found again.
func (t *stretch) forget() {
	if t.long {
		clear(t.bounds)
		for _, o := range t.onsets {
			o.hops, o.hopsAt = nil, nil
		}
	}
}

// A hop is a way to go on to an onset as bounds see it: the index of the state there, and
// what it costs. The stretches of a phrase, which end differently, share their hops.
type hop struct{ to, cost int32 }

const hoppedOnsets = 9000 // up to which a line keeps its hops and bounds, some 7 kB each

// hopsFrom returns the ways to go on to an onset from the one before it in a state.
func (o *onset) hopsFrom(before *onset, index int) []hop {
	if o.hopsAt == nil {
		o.hopsAt, o.hops = make([][2]int32, len(before.rungs)*statesOfRung), make([]hop, 0, 256)
	}
	at := &o.hopsAt[index]
	if at[1] == 0 {
		at[0] = int32(len(o.hops))
		st := stateOf(index)
		for _, m := range o.moves(before, st.rung) {
			cost, after := step(before, o, st, m)
			o.hops = append(o.hops, hop{int32(after.index()), int32(cost)})
		}
		at[1] = int32(len(o.hops))
	}
	return o.hops[at[0]:at[1]]
}

// step returns what a move from an onset in a state costs, and the state after it.
func step(from, to *onset, st state, m move) (int, state) {
	cost := m.cost
	if m.steps != 0 && !to.afresh {
		cost += turnCost(st.heading, m.steps)
	}
	if to.next { // the phrase is over
		return cost, st
	}
	if to.Arrival && st.arrived == m.rung {
		cost += costOf.Stay
		if to.goesOn {
			cost += costOf.Stuck
		}
	}
	after := st.to(to, m.rung)
	like, said := st.motif.Move(from.motif, m.steps)
	after.motif = said
	return cost + likenessCost[like], after
}

// best returns the best way over the stretch from a state at its first onset. It
// looks at the most promising beginnings first (the A* search), which it knows by
// atLeast.
func (t *stretch) best(st state) course {
	if w, ok := t.memory[st]; ok {
		return w
	}
	if t.memory == nil {
		t.memory = map[state]course{}
	}
	queue := &frontier{}
	heap.Push(queue, &beginning{state: st, promise: t.atLeast(0, st.index())})
	seen := make([]map[state]bool, len(t.onsets))
	for i := range seen {
		seen[i] = map[state]bool{}
	}
	for {
		b := heap.Pop(queue).(*beginning)
		if b.at == len(t.onsets) {
			w := course{cost: b.cost, end: b.state}
			for b = b.before; b.before != nil; b = b.before {
				w.rungs = append(w.rungs, b.rung)
			}
			slices.Reverse(w.rungs)
			t.memory[st] = w
			return w
		}
		if seen[b.at][b.state] {
			continue
		}
		seen[b.at][b.state] = true
		queue.grow(t, b)
	}
}

// grow puts everything into the queue that goes on from a beginning.
func (f *frontier) grow(t *stretch, b *beginning) {
	if b.at+1 == len(t.onsets) {
		cost := b.cost + t.ahead(b.state)
		heap.Push(f, &beginning{state: b.state, at: b.at + 1, cost: cost, promise: cost, before: b, order: f.next()})
		return
	}
	from, to := t.onsets[b.at], t.onsets[b.at+1]
	for _, m := range to.moves(from, b.state.rung) {
		cost, after := step(from, to, b.state, m)
		cost = b.cost + t.weight*cost
		heap.Push(f, &beginning{
			state: after, rung: m.rung, at: b.at + 1, cost: cost, promise: cost + t.atLeast(b.at+1, after.index()),
			before: b, order: f.next(),
		})
	}
}

// A move is a way to go on to a rung: what it costs, whatever was before it, with the
// third it leads to.
type move struct{ rung, steps, cost int }

// moves returns the ways to go on to an onset from a rung of the one before it.
func (o *onset) moves(before *onset, from int) []move {
	if o.from[from] == nil {
		for _, rung := range o.reachable(from) {
			m := move{rung: rung, steps: rung - from, cost: moveCost(before, o, from, rung)}
			if !o.next { // else the next phrase pays for its beginning
				m.cost += o.costs[rung]
			}
			o.from[from] = append(o.from[from], m)
		}
	}
	return o.from[from]
}

// reachable returns the rungs to which a line can go from one: of an arrival all; of
// others those a step or a skip away, and behind a breath a fourth or a fifth. Where
// there are none it goes as far as it must.
func (o *onset) reachable(from int) []int {
	if o.next {
		return []int{o.only}
	}
	if o.Arrival {
		return o.arrivals
	}
	reach := 2
	if o.afresh {
		reach = 4
	}
	var rungs []int
	for ; rungs == nil; reach++ {
		for rung := max(0, from-reach); rung <= min(len(o.rungs)-1, from+reach); rung++ {
			if o.rungs[rung].ok {
				rungs = append(rungs, rung)
			}
		}
	}
	return rungs
}
