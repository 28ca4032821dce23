package theory

// A leg's own path goes through states: the rung reached, the direction in which
// it was reached, and whether the one repeat or skip has been used up.
type state struct {
	rung, dir, used int
}

// moves are the ways to go on from a rung. Those other than a step use up the
// leg's one exception.
var moves = [...]struct {
	steps, used int
}{
	{-1, 0},
	{+1, 0},
	{0, 1},
	{-2, 1},
	{+2, 1},
}

// moveCost is the cost of a move as such.
func moveCost(steps, dirBefore, dirAfter int) int {
	cost := 0
	switch steps {
	case 0:
		cost = lineCosts.Repeat
	case -2, 2:
		cost = lineCosts.Skip
	}
	if dirBefore+dirAfter == falling+rising && dirBefore != still {
		cost += lineCosts.Turn
	}
	return cost
}

// A layer holds the cost of the best way to each state in one slot, and the
// state before it.
type layer struct {
	costs  []int
	before []state
}

func (l *leg) newLayer() layer {
	n := len(l.from.rungs) * directions * 2
	y := layer{costs: make([]int, n), before: make([]state, n)}
	for i := range y.costs {
		y.costs[i] = unreachable
	}
	return y
}

func (s state) index() int { return (s.rung*directions+s.dir)*2 + s.used }

func newLeg(key legKey) *leg {
	l := &leg{from: key.from, to: key.to}
	for _, beat := range key.beats {
		l.onBeat = append(l.onBeat, beat == 'b')
	}
	l.costs = make([][]int, l.from.nodes())
	layers := make([]layer, len(l.onBeat)+1)
	for i := range layers {
		layers[i] = l.newLayer()
	}
	for node := range l.costs {
		if len(l.onBeat) == 0 {
			l.costs[node] = l.leap(node)
			continue
		}
		l.fill(layers, node)
		l.costs[node] = make([]int, l.to.nodes())
		for to := range l.costs[node] {
			_, l.costs[node][to] = l.land(layers[len(layers)-1], node, to)
		}
	}
	return l
}

// leap returns the costs of going to each node with no slot between: to an
// arrival within a third, or else to the nearest.
func (l *leg) leap(node int) []int {
	from, dir := l.from.arrivals[node/directions], node%directions
	nearest := unreachable
	for _, rung := range l.to.arrivals {
		nearest = min(nearest, abs(rung-from))
	}
	costs := make([]int, l.to.nodes())
	for to := range costs {
		costs[to] = unreachable
		rung := l.to.arrivals[to/directions]
		steps := rung - from
		dirAfter := direction(steps, dir)
		if to%directions != dirAfter || abs(steps) > max(2, nearest) {
			continue
		}
		costs[to] = l.arrivalCost(node, to) + lineCosts.Leap*abs(steps)
		if steps != 0 {
			costs[to] += moveCost(1, dir, dirAfter)
		}
	}
	return costs
}

// direction returns the direction of a move; one that stays keeps the direction
// before it.
func direction(steps, before int) int {
	switch {
	case steps < 0:
		return falling
	case steps > 0:
		return rising
	}
	return before
}

// arrivalCost is the cost of the arrival at a node of to, coming from a node of
// from.
func (l *leg) arrivalCost(node, to int) int {
	arrival := to / directions
	cost := l.to.arrivalCost(arrival)
	before := l.from.rungs[l.from.arrivals[node/directions]].third
	if l.to.rungs[l.to.arrivals[arrival]].third == before {
		cost += lineCosts.SameArrival
	}
	return cost
}

// fill computes the layers of the leg from one node on: layer 0 is the arrival
// itself, the others the slots.
func (l *leg) fill(layers []layer, node int) {
	start := state{rung: l.from.arrivals[node/directions], dir: node % directions}
	for i := range layers {
		for j := range layers[i].costs {
			layers[i].costs[j] = unreachable
		}
	}
	layers[0].costs[start.index()] = 0
	for slot, onBeat := range l.onBeat {
		reach := 2 + slot // rungs away from the start that the slot before can lie
		for rung := max(0, start.rung-reach); rung <= min(len(l.from.rungs)-1, start.rung+reach); rung++ {
			for dir := range directions {
				for used := range 2 {
					l.step(layers[slot], layers[slot+1], state{rung, dir, used}, onBeat)
				}
			}
		}
	}
}

// step goes on from one state to each that can follow it.
func (l *leg) step(now, next layer, s state, onBeat bool) {
	sum := now.costs[s.index()]
	if sum >= unreachable {
		return
	}
	for _, m := range moves {
		rung, used := s.rung+m.steps, s.used+m.used
		if used > 1 || rung < 0 || rung >= len(l.from.rungs) || !l.from.rungs[rung].ok {
			continue
		}
		after := state{rung, direction(m.steps, s.dir), used}
		cost := sum + l.from.rungs[rung].cost + moveCost(m.steps, s.dir, after.dir)
		if onBeat {
			cost += l.from.rungs[rung].harsh
		}
		if i := after.index(); cost < next.costs[i] {
			next.costs[i], next.before[i] = cost, s
		}
	}
}

// land returns the best state of the last slot from which to reach a node of to,
// and the cost of the whole leg. The exception is taken only where steps alone
// do not lead to that arrival.
func (l *leg) land(last layer, node, to int) (from state, cost int) {
	rung := l.to.arrivals[to/directions]
	for exceptions := range 2 {
		reachable := false
		cost = unreachable
		for _, m := range moves {
			before := rung - m.steps
			if before < 0 || before >= len(l.from.rungs) || m.used > exceptions {
				continue
			}
			for dir := range directions {
				s := state{before, dir, exceptions - m.used}
				sum := last.costs[s.index()]
				if sum >= unreachable {
					continue
				}
				reachable = true
				dirAfter := direction(m.steps, dir)
				if dirAfter != to%directions {
					continue
				}
				sum += moveCost(m.steps, dir, dirAfter)
				if m.used > 0 {
					sum += lineCosts.Landing
				}
				if sum < cost {
					from, cost = s, sum
				}
			}
		}
		if reachable {
			break
		}
	}
	if cost < unreachable {
		cost += l.arrivalCost(node, to)
	}
	return from, cost
}

// between returns the rungs of the slots on the best way from one node to
// another.
func (l *leg) between(node, to int) []int {
	layers := make([]layer, len(l.onBeat)+1)
	for i := range layers {
		layers[i] = l.newLayer()
	}
	l.fill(layers, node)
	s, _ := l.land(layers[len(layers)-1], node, to)
	rungs := make([]int, len(l.onBeat))
	for i := len(rungs) - 1; i >= 0; i-- {
		rungs[i] = s.rung
		s = layers[i+1].before[s.index()]
	}
	return rungs
}
