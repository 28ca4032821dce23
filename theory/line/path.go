package line

import (
	"thirdwise/theory/line/chain"
	"thirdwise/theory/line/harmony"
)

// nowhere stands for the phrase behind the end of a line.
const nowhere = -1

// starts returns the rungs on which a phrase can begin, with an arrival; of none it is
// 0 alone.
func (s *search) starts(p int) []int {
	if p == nowhere {
		return []int{0}
	}
	return s.phrases[p].onsets[0].arrivals
}

// A passage is the way through one phrase, with all that leads on from it.
type passage struct {
	inside *stretch
	leads  []lead
	taken  []int // by time, the index of the lead that is taken
}

// passage returns the way through a phrase that is played so many times, with one
// lead for all of them.
func (s *search) passage(p, times int, on lead) *passage {
	return s.passageInto(p, []lead{on}, make([]int, times))
}

// passageInto returns the way through a phrase that takes one of its leads each
// time.
func (s *search) passageInto(p int, leads []lead, taken []int) *passage {
	weights := make([]int, len(leads))
	for _, i := range taken {
		weights[i]++
	}
	sum := func(cost func(lead) int) (sum int) {
		for i, l := range leads {
			sum += weights[i] * cost(l)
		}
		return sum
	}
	ph := s.phrases[p]
	return &passage{leads: leads, taken: taken, inside: &stretch{
		onsets: ph.onsets[:ph.inside], bounds: make([][]int, ph.inside), weight: len(taken), long: s.long,
		ahead: func(st state) int {
			return sum(func(l lead) int { _, cost := l.best(st); return cost })
		},
		aheadAtLeast: func(index int) int { return sum(func(l lead) int { return l.atLeast(index) }) },
	}}
}

// lead returns the stretch from a phrase's last arrival to the beginning of another,
// on a rung.
func (s *search) lead(p, to, rung int) *stretch {
	from := s.phrases[p]
	onsets := append([]*onset(nil), from.onsets[from.inside-1:]...)
	if to != nowhere {
		next := *s.phrases[to].onsets[0]
		next.next, next.only, next.from, next.hops, next.hopsAt = true, rung, make([][]move, len(next.rungs)), nil, nil
		next.afresh = s.breathes(onsets[len(onsets)-1])
		onsets = append(onsets, &next)
	}
	return &stretch{
		onsets: onsets, bounds: make([][]int, len(onsets)), weight: 1, long: s.long,
		ahead: func(st state) (cost int) {
			if st.again {
				cost = costOf.Plateau
			}
			return cost
		},
		aheadAtLeast: func(int) int { return 0 },
	}
}

// begin returns what a passage costs to begin on a rung.
func (p *passage) begin(rung int) int { return p.inside.weight * p.inside.onsets[0].costs[rung] }

func (p *passage) atLeast(rung int) int {
	return p.begin(rung) + p.inside.atLeast(0, begin(rung).index())
}

func (p *passage) cost(rung int) int {
	cost := p.begin(rung) + p.inside.best(begin(rung)).cost
	p.forget()
	return cost
}

func (p *passage) forget() {
	p.inside.forget()
	for _, on := range p.leads {
		for _, to := range on {
			to.stretch.forget()
			if to.behind != nil {
				to.behind.forget()
			}
		}
	}
}

func (c *crossing) forget() {
	for _, row := range c.passages {
		for _, p := range row {
			p.forget()
		}
	}
}

// A crossing is the way through a run of phrases from one of its starts to where its
// last phrase leads.
type crossing struct {
	phrases  []int
	chain    *chain.Chain
	passages [][]*passage // by phrase and by end
}

// crossing lays out the way through phrases that come so many times, from a rung of
// the first. What leads on from the last of them is given.
func (s *search) crossing(phrases []int, times, start int, last *passage) *crossing {
	c := &crossing{phrases: phrases}
	rungs := [][]int{{start}}
	for i, p := range phrases[:len(phrases)-1] {
		next := phrases[i+1]
		var to []*passage
		for _, rung := range s.starts(next) {
			to = append(to, s.passage(p, times, lead{{stretch: s.lead(p, next, rung)}}))
		}
		c.passages = append(c.passages, to)
		rungs = append(rungs, s.starts(next))
	}
	c.passages = append(c.passages, []*passage{last})
	rungs = append(rungs, s.starts(nowhere))
	c.chain = chain.New(rungs,
		func(i, from, to int) int { return c.passages[i][to].atLeast(rungs[i][from]) },
		func(i, from, to int) int { return c.passages[i][to].cost(rungs[i][from]) })
	return c
}

func (c *crossing) atLeast() int { return c.chain.AtLeast() }

func (c *crossing) cost() int {
	_, cost := c.chain.Best(chain.None)
	return cost
}

// crossings lays out the ways through a unit, by start and end.
func (s *search) crossings(u int) [][]*crossing {
	it := s.units[u]
	last := it.last(0)
	once := map[int]*passage{} // by end, where the unit is not repeated: it does not depend on the start
	var all [][]*crossing
	for _, start := range s.starts(it.first()[0]) {
		var row []*crossing
		for _, end := range s.starts(s.following(u)) {
			through := once[end]
			if through == nil {
				leads, taken := s.leads(u, start, end)
				through = s.passageInto(last, leads, taken)
			}
			if it.times() == 1 {
				once[end] = through
			}
			row = append(row, s.crossing(it.first(), it.times(), start, through))
		}
		all = append(all, row)
	}
	for _, row := range all {
		for _, c := range row {
			c.forget()
		}
	}
	return all
}

// otherEnding is what it costs to leave a repeated part otherwise than it leads back,
// though it leads to the same chord.
func (s *search) otherEnding(u, from, to int) int {
	it, next := s.units[u], s.following(u)
	leadsBack := it.times() > 1 && len(it.endings[0]) == 0
	if leadsBack && next != nowhere && from != to && s.phrases[it.first()[0]].onsets[0].station == s.phrases[next].onsets[0].station {
		return costOf.Ending
	}
	return 0
}

// path returns the rungs of the best line, by phrase and onset.
func (s *search) path() [][]int {
	if len(s.units) == 0 {
		return nil
	}
	starts := [][]int{s.starts(s.units[0].first()[0])}
	var through []ways // by unit
	for u := range s.units {
		through = append(through, s.ways(u))
		starts = append(starts, s.starts(s.following(u)))
	}
	costs := func(cost func(*crossing) int) func(u, from, to int) int {
		return func(u, from, to int) int { return cost(through[u].crossings[from][to]) + s.otherEnding(u, from, to) }
	}
	all := chain.New(starts, costs((*crossing).atLeast), costs((*crossing).cost))
	home := chain.None
	if s.Closed {
		home = s.home()
	}
	choices, _ := all.Best(home)
	rungs := make([][]int, len(s.phrases))
	for u, it := range s.units {
		shift := it.first()[0] - through[u].first
		s.fill(rungs, through[u].crossings[choices[u]][choices[u+1]], it.copies, shift)
	}
	return rungs
}

// fill writes the rungs of the phrases of a crossing, every time they come. It may have
// been found where they stood so many phrases earlier.
func (s *search) fill(rungs [][]int, c *crossing, copies [][]int, shift int) {
	choices, _ := c.chain.Best(chain.None)
	for i := range c.phrases {
		through := c.passages[i][choices[i+1]]
		start := c.chain.Rungs[i][choices[i]]
		inside := through.inside.best(begin(start))
		for time, phrases := range copies {
			on, _ := through.leads[through.taken[time]].best(inside.end)
			way := append([]int{start}, inside.rungs...)
			way = append(way, on.stretch.best(inside.end).rungs...)
			p := phrases[i]
			rungs[p] = way[:len(s.phrases[p].onsets)]
			if on.behind != nil {
				ending := make([]int, len(on.behind.phrases))
				for j, p := range on.behind.phrases {
					ending[j] = p + shift
				}
				s.fill(rungs, on.behind, [][]int{ending}, shift)
			}
		}
	}
}

// write writes out the line.
func (s *search) write(rungs [][]int) []Step {
	var steps []Step
	for i, p := range s.phrases {
		for j, o := range p.onsets {
			step := Step{Tick: o.Tick, Length: o.Length, Notes: o.rungs[rungs[i][j]].notes, Segment: o.Span, Role: Passing}
			if o.Arrival && harmony.Arrives(s.segments[o.Span].Chord, step.Notes) { // what is written need not
				step.Role = Arrival
			}
			last := i+1 == len(s.phrases) && o.Span+1 == len(s.segments) // which rests where that is written
			step.LeadsBack = s.Closed && last && j >= p.inside
			steps = append(steps, step)
		}
	}
	return steps
}
