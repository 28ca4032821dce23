package line

import (
	"fmt"

	"thirdwise/theory"
)

// The line is a shortest path. Its nodes are the arrivals of each segment, each
// with the headings on which the line can have come; a leg is the way
// from one arrival to the next, itself a shortest path over the slots between.
// Legs between the same chords over the same slots cost the same, so each kind
// is computed once.

// A weaver finds the path for one list of segments.
type weaver struct {
	Maker
	segments []Segment
	stations []*station
	legs     []*leg // from station i to the next; the last leads back, if closed
	hops     []hop  // from the first station to the last, or once round
}

// A station is a chord with its scale: every third that can sound over it.
type station struct {
	rungs    []rung // from Maker.Low up, one a staff step
	arrivals []int  // indices of the rungs with which the chord can begin
}

// A rung is the third on one staff step.
type rung struct {
	third theory.Third
	ok    bool // can be played
	cost  int  // of playing it, wherever it falls
	harsh int  // what is added on a beat
	vague int  // what is added as an arrival
}

// A leg is the way from one station to the next.
type leg struct {
	from, to *station
	onBeat   []bool  // for each slot that moves, whether it falls on a beat
	costs    [][]int // by node of from and node of to
}

// Headings, as the last index of a node: how the line has come there.
const (
	falling    = iota
	turnedDown // falling, but rising just before
	still      // from nowhere
	turnedUp   // rising, but falling just before
	rising
	headings
)

type legKey struct {
	from, to *station
	beats    string
}

type stationKey struct {
	scale   theory.Scale
	root    theory.Tone
	quality theory.Quality
}

func newWeaver(m Maker, segments []Segment) *weaver {
	w := &weaver{Maker: m, segments: segments}
	stations := map[stationKey]*station{}
	for _, s := range segments {
		key := stationKey{s.Scale, s.Chord.Root, s.Chord.Quality}
		if stations[key] == nil {
			stations[key] = m.station(s)
		}
		w.stations = append(w.stations, stations[key])
	}
	legs := map[legKey]*leg{}
	for i := range segments {
		if i+1 == len(segments) && !m.Closed {
			break
		}
		beats := make([]byte, 0, 16)
		for _, tick := range w.moving(i) {
			onBeat := byte('-')
			if tick%m.Bar%m.Beat == 0 {
				onBeat = 'b'
			}
			beats = append(beats, onBeat)
		}
		key := legKey{w.stations[i], w.stations[(i+1)%len(segments)], string(beats)}
		if legs[key] == nil {
			legs[key] = newLeg(key)
		}
		w.legs = append(w.legs, legs[key])
	}
	w.hops = w.findHops()
	return w
}

// moving returns the slots between arrival i and the next: none before a rest,
// and none behind the last arrival unless the line is closed.
func (w *weaver) moving(i int) []int {
	last := i+1 == len(w.segments)
	if last && !w.Closed || !last && w.segments[i].End != w.segments[i+1].Start {
		return nil
	}
	return w.Slots(w.segments[i])
}

func (m Maker) station(s Segment) *station {
	st := &station{}
	third := telling(s.Chord)
	for staff := m.Low; staff <= m.High; staff++ {
		t := s.Scale.Third(staff)
		r := rung{third: t, ok: true, cost: costOf.Far * distance(2*staff, m.Low+m.High) / 2}
		if m.Effort != nil {
			var effort int
			effort, r.ok = m.Effort(t)
			r.cost += effort
		}
		for _, tone := range []theory.Tone{t.Lower.Tone, t.Upper.Tone} {
			if !s.Chord.Contains(tone) {
				r.harsh += costOf.Harsh
			}
		}
		if t.Lower.Class() != third.Class() && t.Upper.Class() != third.Class() {
			r.vague = costOf.Vague
		}
		st.rungs = append(st.rungs, r)
	}
	for i, r := range st.rungs {
		if r.ok && s.arrives(r.third) {
			st.arrivals = append(st.arrivals, i)
		}
	}
	return st
}

// telling returns the tone that tells a chord: its third, or what is suspended in
// its place.
func telling(c theory.Chord) theory.Tone {
	tones := c.Tones()
	return tones[min(1, len(tones)-1)]
}

// arrives reports whether the segment's chord can begin with a third: both notes
// are the chord's. A chord that has no third among its tones (Csus4, C5) begins
// with one of the scale's that shares a note with it and rubs against none.
func (s Segment) arrives(t theory.Third) bool {
	lower, upper := s.Chord.Contains(t.Lower.Tone), s.Chord.Contains(t.Upper.Tone)
	if s.Chord.HasThird() {
		return lower && upper
	}
	return lower && !rubs(s.Chord, t.Upper.Tone) || upper && !rubs(s.Chord, t.Lower.Tone)
}

// rubs reports whether a tone lies a semitone from one of a chord's.
func rubs(c theory.Chord, t theory.Tone) bool {
	for _, own := range c.Tones() {
		if d := distance(t.Class(), own.Class()); d == 1 || d == 11 {
			return true
		}
	}
	return false
}

// nodes returns the number of nodes of a station.
func (st *station) nodes() int { return len(st.arrivals) * headings }

// arrival returns the rung of a node.
func (st *station) arrival(node int) int { return st.arrivals[node/headings] }

// arrivalCost is the cost of beginning the station's chord on an arrival.
func (st *station) arrivalCost(arrival int) int {
	r := &st.rungs[st.arrivals[arrival]]
	return r.cost + r.harsh + r.vague
}

// path returns the rungs that the best line takes in each segment, the arrival
// first.
func (w *weaver) path() ([][]int, error) {
	first := w.stations[0]
	if len(first.arrivals) == 0 {
		return nil, w.fail(0)
	}
	if !w.Closed {
		costs := newCosts(first.nodes())
		for arrival := range first.arrivals {
			costs[arrival*headings+still] = first.arrivalCost(arrival)
		}
		table, err := w.spread(costs)
		if err != nil {
			return nil, err
		}
		last, _ := cheapest(table[len(table)-1].costs)
		return w.trace(table, last), nil
	}
	best, bestCost := []column(nil), unreachable
	var bestLast int
	var failure error
	for arrival := range first.arrivals {
		costs := newCosts(first.nodes())
		costs[arrival*headings+still] = 0 // it is paid for on the way back
		table, err := w.spread(costs)
		if err != nil {
			failure = err
			continue
		}
		if node, cost := cheapestOf(table[len(table)-1].costs, arrival); cost < bestCost {
			best, bestCost, bestLast = table, cost, node
		}
	}
	if best == nil {
		if failure == nil {
			failure = w.fail(0)
		}
		return nil, failure
	}
	return w.trace(best, bestLast), nil
}

// A column holds, for each node of a station, the cost of the best way to it and
// the node on that way at the station before. Behind a repeat it also holds the
// node of the repeat's last arrival.
type column struct {
	costs, before, last []int
}

func newColumn(nodes int) column {
	return column{costs: newCosts(nodes), before: make([]int, nodes), last: make([]int, nodes)}
}

func newCosts(nodes int) []int {
	costs := make([]int, nodes)
	for node := range costs {
		costs[node] = unreachable
	}
	return costs
}

// reach notes a way to a node if it is the best so far.
func (c column) reach(node, cost, before, last int) {
	if cost < c.costs[node] {
		c.costs[node], c.before[node], c.last[node] = cost, before, last
	}
}

// spread carries costs at the first station along every hop.
func (w *weaver) spread(costs []int) ([]column, error) {
	table := []column{{costs: costs}}
	for _, h := range w.hops {
		next := w.across(h, table[len(table)-1].costs)
		if _, cost := cheapest(next.costs); cost >= unreachable {
			return nil, w.fail(h.end() % len(w.segments))
		}
		table = append(table, next)
	}
	return table, nil
}

// along carries costs at a leg's first station to its second.
func (l *leg) along(costs []int) column {
	next := newColumn(l.to.nodes())
	for from, sum := range costs {
		if sum >= unreachable {
			continue
		}
		for to, cost := range l.costs[from] {
			if cost < unreachable {
				next.reach(to, sum+cost, from, from)
			}
		}
	}
	return next
}

func (w *weaver) fail(segment int) error {
	chord := w.segments[segment].Chord
	if len(w.stations[segment].arrivals) == 0 {
		return &Error{segment, fmt.Sprintf("none of the thirds of %s can be played here", chord)}
	}
	return &Error{segment, fmt.Sprintf("no third of %s can be reached by step from the chord before it", chord)}
}

func cheapest(costs []int) (node, cost int) {
	cost = unreachable
	for i, c := range costs {
		if c < cost {
			node, cost = i, c
		}
	}
	return node, cost
}

// cheapestOf returns the cheapest node of one arrival.
func cheapestOf(costs []int, arrival int) (node, cost int) {
	node, cost = cheapest(costs[arrival*headings : (arrival+1)*headings])
	return arrival*headings + node, cost
}

// trace follows the best way to a node of the last station back, and returns the
// rungs of each segment on it.
func (w *weaver) trace(table []column, last int) [][]int {
	rungs := make([][]int, len(w.segments))
	if !w.Closed {
		end := len(w.segments) - 1
		rungs[end] = []int{w.stations[end].arrival(last)}
	}
	for i := len(w.hops) - 1; i >= 0; i-- {
		w.fill(rungs, w.hops[i], table[i+1], last)
		last = table[i+1].before[last]
	}
	return rungs
}

// walk writes out the line.
func (w *weaver) walk(rungs [][]int) []Third {
	var line []Third
	for i, s := range w.segments {
		ticks := append([]int{s.Start}, w.moving(i)...)
		for j, tick := range ticks {
			end := s.End
			if j+1 < len(ticks) {
				end = ticks[j+1]
			}
			t := Third{Tick: tick, Length: end - tick, Third: w.stations[i].rungs[rungs[i][j]].third, Segment: i}
			if j > 0 {
				t.Role = Passing
				t.LeadsBack = i+1 == len(w.segments)
			}
			line = append(line, t)
		}
	}
	return line
}

func distance(a, b int) int { return max(a-b, b-a) }
