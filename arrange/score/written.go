package score

import (
	"fmt"
	"slices"
)

// A WrittenBar is a bar as it stands on the page. Where a repeat plays it more
// than once, it stands for several bars of the score.
type WrittenBar struct {
	Number int   // counted on the page, from 1
	Bars   []int // indexes into Score.Bars, one for each time it is played

	RepeatOpens bool    // a repeat begins before it
	RepeatTimes int     // a repeat ends behind it: how often what it closes is played in all; otherwise 0
	Ending      *Ending // what stands only for some of the times; nil for most
}

// An Ending says that a bar is played only at some times through a repeat.
type Ending struct {
	Times        []int // counted from 1, rising: 1 in a first ending
	Begins, Ends bool  // whether the bar is the ending's first, its last
}

// String returns the times at which the ending is played: "1.–3."
func (e *Ending) String() string {
	first, last := e.Times[0], e.Times[len(e.Times)-1]
	switch len(e.Times) {
	case 1:
		return fmt.Sprintf("%d.", first)
	case 2:
		return fmt.Sprintf("%d. %d.", first, last)
	}
	return fmt.Sprintf("%d.–%d.", first, last)
}

// NumberBars gives each bar its number on the page, once the line is there.
func (s *Score) NumberBars() {
	for _, written := range s.WrittenBars() {
		for _, bar := range written.Bars {
			s.Bars[bar].Number = written.Number
		}
	}
}

// BarLabel names a bar by its number on the page and, where it is played again,
// by how often it has been played by then: "5", "5 (2nd time)".
func BarLabel(number, time int) string {
	if time == 1 {
		return fmt.Sprint(number)
	}
	return fmt.Sprintf("%d (%s time)", number, ordinal(time))
}

// ordinal writes a number from 1 up as one counts in English: 1st, 22nd, 113th.
func ordinal(n int) string {
	ending := "th"
	if n/10%10 != 1 {
		switch n % 10 {
		case 1:
			ending = "st"
		case 2:
			ending = "nd"
		case 3:
			ending = "rd"
		}
	}
	return fmt.Sprint(n, ending)
}

// WrittenBars returns the bars as they stand on the page. Bars that the chart
// writes once and plays again become a repeat where they are the same each time,
// or the same but for their ending; otherwise they are written out.
func (s *Score) WrittenBars() []WrittenBar {
	var written []WrittenBar
	for bar := 0; bar < len(s.Bars); {
		length, times := repeatAt(s.Bars, bar)
		shared := 0
		if times > 1 {
			shared = s.sharedBars(bar, length, times)
		}
		if 2*shared < length || shared == 0 { // written out
			for range length * max(times, 1) {
				written = append(written, WrittenBar{Bars: []int{bar}})
				bar++
			}
			continue
		}
		written = append(written, s.foldRepeat(bar, length, times, shared)...)
		bar += length * times
	}
	for i := range written {
		written[i].Number = i + 1
	}
	return written
}

// repeatAt returns how many bars from a bar on are played again and how often
// they are played in all; one bar, once, where there is no repeat.
func repeatAt(bars []Bar, first int) (length, times int) {
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
func (s *Score) sharedBars(first, length, times int) int {
	for i := range length {
		for t := 1; t < times; t++ {
			if !s.writtenAlike(first+i, first+t*length+i) {
				return i
			}
		}
	}
	return length
}

// writtenAlike reports whether two bars look the same on paper.
func (s *Score) writtenAlike(a, b int) bool {
	x, y := s.Bars[a], s.Bars[b]
	sameChords := slices.EqualFunc(x.Chords, y.Chords, func(c, d ChordSpan) bool {
		return c.Tick-x.Tick == d.Tick-y.Tick && c.Length == d.Length && c.None == d.None && c.Chord == d.Chord
	})
	return sameChords && slices.EqualFunc(s.Stretches(a), s.Stretches(b), func(p, q Stretch) bool {
		if p.Start != q.Start || p.End != q.End || p.Held != q.Held || p.On != q.On || (p.Third < 0) != (q.Third < 0) {
			return false
		}
		if p.Third < 0 {
			return true
		}
		t, u := s.Line[p.Third], s.Line[q.Third]
		return t.Notes == u.Notes && t.Places == u.Places && (t.Role == Arrival) == (u.Role == Arrival)
	})
}

// foldRepeat writes bars that are played several times once, with an ending for
// each run of times that end alike.
func (s *Score) foldRepeat(first, length, times, shared int) []WrittenBar {
	var written []WrittenBar
	for i := range shared {
		m := WrittenBar{Bars: []int{first + i}}
		for t := 1; t < times; t++ {
			m.Bars = append(m.Bars, first+t*length+i)
		}
		written = append(written, m)
	}
	written[0].RepeatOpens = true
	if shared == length {
		written[length-1].RepeatTimes = times
		return written
	}
	for t := 0; t < times; {
		last := t // the last time that ends like time t
		for last+1 < times && s.endsAlike(first+t*length, first+(last+1)*length, shared, length) {
			last++
		}
		var numbers []int
		for n := t; n <= last; n++ {
			numbers = append(numbers, n+1)
		}
		for i := shared; i < length; i++ {
			m := WrittenBar{Bars: []int{first + t*length + i}}
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
			written = append(written, m)
		}
		t = last + 1
	}
	return written
}

func (s *Score) endsAlike(a, b, from, to int) bool {
	for i := from; i < to; i++ {
		if !s.writtenAlike(a+i, b+i) {
			return false
		}
	}
	return true
}
