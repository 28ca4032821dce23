package paper

import (
	"slices"

	"thirdwise/arrange/score"
)

// foldRepeats returns the measures that stand on the page for a score's bars.
// Bars that the chart writes once and plays again become a repeat where they
// are the same each time, or the same but for their ending; otherwise they are
// written out.
func foldRepeats(s *score.Score) []Measure {
	var measures []Measure
	for bar := 0; bar < len(s.Bars); {
		length, times := repeatAt(s.Bars, bar)
		shared := 0
		if times > 1 {
			shared = sharedBars(s, bar, length, times)
		}
		if 2*shared < length || shared == 0 { // written out
			for range length * max(times, 1) {
				measures = append(measures, measureOf(s, bar))
				bar++
			}
			continue
		}
		measures = append(measures, foldRepeat(s, bar, length, times, shared)...)
		bar += length * times
	}
	return measures
}

// repeatAt returns how many bars from a bar on are played again and how often
// they are played in all; one bar, once, where there is no repeat.
func repeatAt(bars []score.Bar, first int) (length, times int) {
	for i := first + 1; i < len(bars); i++ {
		if bars[i].Written == bars[first].Written {
			length = i - first
			break
		}
		if bars[i].Written < bars[first].Written {
			break
		}
	}
	if length == 0 {
		return 1, 1
	}
	times = 1
	for next := first + length; next+length <= len(bars); next += length {
		for i := range length {
			if bars[next+i].Written != bars[first+i].Written {
				return length, times
			}
		}
		times++
	}
	return length, times
}

// sharedBars returns how many of a repeat's bars, from its first, are written
// alike each time.
func sharedBars(s *score.Score, first, length, times int) int {
	for i := range length {
		for t := 1; t < times; t++ {
			if !writtenAlike(s, first+i, first+t*length+i) {
				return i
			}
		}
	}
	return length
}

// writtenAlike reports whether two bars look the same on paper.
func writtenAlike(s *score.Score, a, b int) bool {
	x, y := s.Bars[a], s.Bars[b]
	sameChords := slices.EqualFunc(x.Chords, y.Chords, func(c, d score.ChordSpan) bool {
		return c.Tick-x.Tick == d.Tick-y.Tick && c.Length == d.Length && c.None == d.None && c.Chord == d.Chord
	})
	return sameChords && slices.EqualFunc(stretches(s, a), stretches(s, b), func(p, q stretch) bool {
		if p.start != q.start || p.end != q.end || p.held != q.held || p.on != q.on || (p.third < 0) != (q.third < 0) {
			return false
		}
		if p.third < 0 {
			return true
		}
		t, u := s.Line[p.third], s.Line[q.third]
		return t.Notes == u.Notes && t.Places == u.Places && (t.Role == score.Arrival) == (u.Role == score.Arrival)
	})
}

// foldRepeat writes bars that are played several times once, with an ending for
// each run of times that end alike.
func foldRepeat(s *score.Score, first, length, times, shared int) []Measure {
	var measures []Measure
	for i := range shared {
		m := measureOf(s, first+i)
		for t := 1; t < times; t++ {
			m.Bars = append(m.Bars, first+t*length+i)
		}
		measures = append(measures, m)
	}
	measures[0].RepeatOpens = true
	if shared == length {
		measures[length-1].RepeatTimes = times
		return measures
	}
	for t := 0; t < times; {
		last := t // the last time that ends like time t
		for last+1 < times && endsAlike(s, first+t*length, first+(last+1)*length, shared, length) {
			last++
		}
		var numbers []int
		for n := t; n <= last; n++ {
			numbers = append(numbers, n+1)
		}
		for i := shared; i < length; i++ {
			m := measureOf(s, first+t*length+i)
			for n := t + 1; n <= last; n++ {
				m.Bars = append(m.Bars, first+n*length+i)
			}
			m.Ending = &Ending{Times: numbers, Begins: i == shared, Ends: i == length-1}
			switch {
			case !m.Ending.Ends:
			case last+1 < times:
				m.RepeatTimes = len(numbers) + 1
			case len(numbers) > 1: // the last ending, played more than once
				m.RepeatTimes = len(numbers)
			}
			measures = append(measures, m)
		}
		t = last + 1
	}
	return measures
}

func endsAlike(s *score.Score, a, b, from, to int) bool {
	for i := from; i < to; i++ {
		if !writtenAlike(s, a+i, b+i) {
			return false
		}
	}
	return true
}

// measureOf returns the measure that stands for one bar, played once.
func measureOf(s *score.Score, bar int) Measure {
	b := s.Bars[bar]
	return Measure{Bars: []int{bar}, Tick: b.Tick, Length: s.Meter.Bar(), Section: b.Section, Chords: b.Chords}
}
