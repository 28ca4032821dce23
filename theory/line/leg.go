package line

// A leg's own path goes through states: the rung reached, the heading on which
// it was reached, and whether the one repeat or skip has been used up.
type state struct {
	rung, heading, used int
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

// moveCost is the cost of a move as such, made on a heading.
func moveCost(steps, heading int) int {
	switch steps {
	case 0:
		return costOf.Repeat
	case -2, 2:
		return costOf.Skip + turnCost(steps, heading)
	}
	return turnCost(steps, heading)
}

// turnCost is the cost of going up or down where the line comes on a heading.
func turnCost(steps, heading int) int {
	after := turn(steps, heading)
	switch {
	case steps == 0 || after == falling || after == rising:
		return 0
	case heading == turnedDown || heading == turnedUp:
		return costOf.Turn + costOf.Zigzag
	}
	return costOf.Turn
}

// turn returns the heading after a move; one that stays keeps the heading before
// it.
func turn(steps, heading int) int {
	switch {
	case steps == 0:
		return heading
	case steps < 0 && (heading == rising || heading == turnedUp):
		return turnedDown
	case steps < 0:
		return falling
	case heading == falling || heading == turnedDown:
		return turnedUp
	}
	return rising
}

// A layer holds the cost of the best way to each state in one slot, and the
// state before it.
type layer struct {
	costs  []int
	before []state
}

func (l *leg) newLayer() layer {
	n := len(l.from.rungs) * headings * 2
	y := layer{costs: make([]int, n), before: make([]state, n)}
	for i := range y.costs {
		y.costs[i] = unreachable
	}
	return y
}

func (s state) index() int { return (s.rung*headings+s.heading)*2 + s.used }

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
	from, heading := l.from.arrivals[node/headings], node%headings
	nearest := unreachable
	for _, rung := range l.to.arrivals {
		nearest = min(nearest, distance(rung, from))
	}
	costs := make([]int, l.to.nodes())
	for to := range costs {
		costs[to] = unreachable
		steps := l.to.arrivals[to/headings] - from
		if to%headings != turn(steps, heading) || distance(steps, 0) > max(2, nearest) {
			continue
		}
		costs[to] = l.arrivalCost(node, to) + costOf.Leap*distance(steps, 0) + turnCost(steps, heading)
	}
	return costs
}

// arrivalCost is the cost of the arrival at a node of to, coming from a node of
// from.
func (l *leg) arrivalCost(node, to int) int {
	arrival := to / headings
	cost := l.to.arrivalCost(arrival)
	before := l.from.rungs[l.from.arrivals[node/headings]].third
	if l.to.rungs[l.to.arrivals[arrival]].third == before {
		cost += costOf.SameArrival
	}
	return cost
}

// fill computes the layers of the leg from one node on: layer 0 is the arrival
// itself, the others the slots.
func (l *leg) fill(layers []layer, node int) {
	start := state{rung: l.from.arrivals[node/headings], heading: node % headings}
	for i := range layers {
		for j := range layers[i].costs {
			layers[i].costs[j] = unreachable
		}
	}
	layers[0].costs[start.index()] = 0
	for slot, onBeat := range l.onBeat {
		reach := 2 + slot // rungs away from the start that the slot before can lie
		for rung := max(0, start.rung-reach); rung <= min(len(l.from.rungs)-1, start.rung+reach); rung++ {
			for heading := range headings {
				for used := range 2 {
					l.step(layers[slot], layers[slot+1], state{rung, heading, used}, onBeat)
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
		after := state{rung, turn(m.steps, s.heading), used}
		cost := sum + l.from.rungs[rung].cost + moveCost(m.steps, s.heading)
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
	rung := l.to.arrivals[to/headings]
	for exceptions := range 2 {
		reachable := false
		cost = unreachable
		for _, m := range moves {
			before := rung - m.steps
			if before < 0 || before >= len(l.from.rungs) || m.used > exceptions {
				continue
			}
			for heading := range headings {
				s := state{before, heading, exceptions - m.used}
				sum := last.costs[s.index()]
				if sum >= unreachable {
					continue
				}
				reachable = true
				if turn(m.steps, heading) != to%headings {
					continue
				}
				sum += moveCost(m.steps, heading)
				if m.used > 0 {
					sum += costOf.Landing
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

// way returns the rungs on the best way from one node to another: the arrival
// that it begins with, then one a slot.
func (l *leg) way(node, to int) []int {
	rungs := make([]int, len(l.onBeat)+1)
	rungs[0] = l.from.arrival(node)
	if len(l.onBeat) == 0 {
		return rungs
	}
	layers := make([]layer, len(l.onBeat)+1)
	for i := range layers {
		layers[i] = l.newLayer()
	}
	l.fill(layers, node)
	s, _ := l.land(layers[len(layers)-1], node, to)
	for i := len(l.onBeat); i > 0; i-- {
		rungs[i] = s.rung
		s = layers[i].before[s.index()]
	}
	return rungs
}
