package line

import (
	"slices"

	"thirdwise/theory/line/chain"
)

// A unit is a phrase, or a repeated part with its phrases and its endings.
type unit struct {
	copies  [][]int // the indices of its phrases, each time
	endings [][]int // the indices of what follows them each time, before they come again or the next unit begins
}

// first returns the indices of the unit's phrases, the first time.
func (u unit) first() []int { return u.copies[0] }

// times returns how often the unit comes.
func (u unit) times() int { return len(u.copies) }

// last returns the index of a copy's last phrase.
func (u unit) last(time int) int { return u.copies[time][len(u.copies[time])-1] }

// findUnits divides the phrases into units.
func (s *search) findUnits() {
	repeats := s.Repeats
	for i := 0; i < len(s.phrases); {
		for len(repeats) > 0 && repeats[0].End() <= s.phrases[i].First {
			repeats = repeats[1:]
		}
		if len(repeats) == 0 || s.phrases[i].First < repeats[0].First {
			s.units = append(s.units, unit{copies: [][]int{{i}}, endings: [][]int{nil}})
			i++
			continue
		}
		until := func(segment int) (phrases []int) {
			for ; i < len(s.phrases) && s.phrases[i].First < segment; i++ {
				phrases = append(phrases, i)
			}
			return phrases
		}
		var u unit
		at := repeats[0].First
		for time := range repeats[0].Times {
			at += repeats[0].Length
			u.copies = append(u.copies, until(at))
			at += repeats[0].Ending(time)
			u.endings = append(u.endings, until(at))
		}
		s.units = append(s.units, u)
	}
}

// following returns the index of the phrase that follows a unit, or nowhere.
func (s *search) following(u int) int {
	switch {
	case u+1 < len(s.units):
		return s.units[u+1].first()[0]
	case s.Closed:
		return s.units[s.home()].first()[0]
	}
	return nowhere
}

// home returns the index of the unit to which a closed line leads back.
func (s *search) home() int {
	return max(0, slices.IndexFunc(s.units, func(u unit) bool { return s.phrases[u.first()[0]].First == s.Home }))
}

// A lead is the ways on from a phrase at one or some of its times, among which the
// best is taken.
type lead []leadTo

// A leadTo is one way on: to the beginning of another phrase, and what comes behind
// that, if it belongs to the same unit.
type leadTo struct {
	*stretch
	behind *crossing // nil where nothing does
}

func (l lead) atLeast(index int) int {
	least := chain.Unreachable
	for _, to := range l {
		cost := to.stretch.atLeast(0, index)
		if to.behind != nil {
			cost += to.behind.atLeast()
		}
		least = min(least, cost)
	}
	return least
}

func (l lead) best(st state) (best leadTo, least int) {
	least = chain.Unreachable
	for _, to := range l {
		cost := to.stretch.best(st).cost
		if to.behind != nil {
			cost += to.behind.cost()
		}
		if cost < least {
			best, least = to, cost
		}
	}
	return best, least
}

// leads returns the ways on from a unit's last phrase, and which of them is taken at
// each time: to a rung of what follows the unit and, where it is repeated, back to
// its start.
func (s *search) leads(u, start, end int) (leads []lead, taken []int) {
	it := s.units[u]
	straight := map[[2]bool]int{} // index of the way without an ending, by whether it leaves the unit, and has nothing to play
	for time, ending := range it.endings {
		leaves := time+1 == it.times()
		target, rung := it.first()[0], start
		if leaves {
			target, rung = s.following(u), end
		}
		key := [2]bool{leaves, s.phrases[it.last(time)].inside == len(s.phrases[it.last(time)].onsets)}
		if i, known := straight[key]; known && len(ending) == 0 {
			taken = append(taken, i)
			continue
		}
		taken = append(taken, len(leads))
		if len(ending) == 0 {
			straight[key] = len(leads)
			leads = append(leads, lead{{stretch: s.lead(it.last(time), target, rung)}})
		} else {
			leads = append(leads, s.ending(it.last(time), ending, target, rung))
		}
	}
	return leads, taken
}

// ending returns the ways from a phrase into an ending and on to a rung of another.
func (s *search) ending(from int, phrases []int, target, rung int) lead {
	last := phrases[len(phrases)-1]
	on := s.passage(last, 1, lead{{stretch: s.lead(last, target, rung)}})
	var l lead
	for _, start := range s.starts(phrases[0]) {
		l = append(l, leadTo{s.lead(from, phrases[0], start), s.crossing(phrases, 1, start, on)})
	}
	return l
}
