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
		if t.Lower.Tone != third && t.Upper.Tone != third {
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

// arrivalCost is the cost of beginning the station's chord on an arrival.
func (st *station) arrivalCost(arrival int) int {
	r := &st.rungs[st.arrivals[arrival]]
	return r.cost + r.harsh + r.vague
}

// path returns the node that the best line takes at each station.
func (w *weaver) path() ([]int, error) {
	first := w.stations[0]
	if len(first.arrivals) == 0 {
		return nil, w.fail(0)
	}
	if !w.Closed {
		costs := make([]int, first.nodes())
		for node := range costs {
			costs[node] = unreachable
			if node%headings == still {
				costs[node] = first.arrivalCost(node / headings)
			}
		}
		table, err := w.spread(costs)
		if err != nil {
			return nil, err
		}
		last, _ := cheapest(table[len(table)-1].costs)
		return trace(table, last), nil
	}
	best, bestCost := []column(nil), unreachable
	var bestLast int
	var failure error
	for arrival := range first.arrivals {
		costs := make([]int, first.nodes())
		for node := range costs {
			costs[node] = unreachable
		}
		costs[arrival*headings+still] = 0 // it is paid for on the way back
		table, err := w.spread(costs)
		if err != nil {
			failure = err
			continue
		}
		home := table[len(table)-1].costs[arrival*headings : (arrival+1)*headings]
		if node, cost := cheapest(home); cost < bestCost {
			best, bestCost, bestLast = table, cost, arrival*headings+node
		}
	}
	if best == nil {
		if failure == nil {
			failure = w.fail(0)
		}
		return nil, failure
	}
	return trace(best, bestLast), nil
}

// A column holds, for each node of a station, the cost of the best way to it and
// the node before it on that way.
type column struct {
	costs, before []int
}

// spread carries costs at the first station along every leg.
func (w *weaver) spread(costs []int) ([]column, error) {
	table := make([]column, 1, len(w.legs)+1)
	table[0] = column{costs: costs}
	for i, l := range w.legs {
		next := column{costs: make([]int, l.to.nodes()), before: make([]int, l.to.nodes())}
		for node := range next.costs {
			next.costs[node] = unreachable
		}
		reached := false
		for from, sum := range table[i].costs {
			if sum >= unreachable {
				continue
			}
			for to, cost := range l.costs[from] {
				if cost < unreachable && sum+cost < next.costs[to] {
					next.costs[to], next.before[to] = sum+cost, from
					reached = true
				}
			}
		}
		if !reached {
			return nil, w.fail((i + 1) % len(w.segments))
		}
		table = append(table, next)
	}
	return table, nil
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

func trace(table []column, last int) []int {
	path := make([]int, len(table))
	for i := len(table) - 1; i >= 0; i-- {
		path[i] = last
		if i > 0 {
			last = table[i].before[last]
		}
	}
	return path
}

// walk writes out the line along a path of nodes.
func (w *weaver) walk(path []int) []Third {
	var line []Third
	for i, s := range w.segments {
		st := w.stations[i]
		rungs := []int{st.arrivals[path[i]/headings]}
		ticks := append([]int{s.Start}, w.moving(i)...)
		if len(ticks) > 1 {
			rungs = append(rungs, w.legs[i].between(path[i], path[i+1])...)
		}
		for j, tick := range ticks {
			end := s.End
			if j+1 < len(ticks) {
				end = ticks[j+1]
			}
			t := Third{Tick: tick, Length: end - tick, Third: st.rungs[rungs[j]].third, Segment: i}
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
