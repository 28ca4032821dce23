package score

import (
	"fmt"
	"slices"
)

// A WrittenBar is a bar as it stands on the page. Where a repeat plays it more
// than once, it stands for several bars of the score.
type WrittenBar struct {
	Number int   // of its bar in the chart; see Bar
	Time   int   // from 1: which time its bar of the chart is played where it is played first
	Bars   []int // indexes into Score.Bars, one for each time it is played

	RepeatOpens bool    // a repeat begins before it
	RepeatTimes int     // a repeat ends behind it: how often what it closes is played in all; otherwise 0
	Ending      *Ending // what stands only for some of the times; nil for most

	// Again tells that the chart writes the bar once and it stands here another time,
	// because the line is another one.
	Again bool
}

// An Ending says that a bar is played only at some times through a repeat.
type Ending struct {
	Times        []int // counted from 1, rising: 1 in a first ending
	Begins, Ends bool  // whether the bar is the ending's first, its last
}

// String returns the times at which the ending is played: "1.–3."
func (e Ending) String() string {
	first, last := e.Times[0], e.Times[len(e.Times)-1]
	switch len(e.Times) {
	case 1:
		return fmt.Sprintf("%d.", first)
	case 2:
		return fmt.Sprintf("%d. %d.", first, last)
	}
	return fmt.Sprintf("%d.–%d.", first, last)
}

// Label names the bar by its number and, where a repeat is written out, so that it
// stands on the page again, by the time: "5", "5 (2nd time)". In an ending the number
// does, since the ending says the times.
func (b WrittenBar) Label() string {
	if b.Ending != nil {
		return fmt.Sprint(b.Number)
	}
	return BarLabel(b.Number, b.Time)
}

// BarLabel names a bar by its number and, where it is played again, by how often it
// has been played by then: "5", "5 (2nd time)".
func BarLabel(number, time int) string {
	if time == 1 {
		return fmt.Sprint(number)
	}
	return fmt.Sprintf("%d (%s time)", number, ordinal(time))
}

// Mark returns what a player of files shows where a bar begins: its section, if one
// begins with it, and its label.
func (s *Score) Mark(b PlayedBar) string {
	if section := s.Bars[b.Index].Section; section != "" {
		return section + ", bar " + b.Label
	}
	return "bar " + b.Label
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
// or the same but for their ending; otherwise they are written out, and of those
// that follow one another and are alike each becomes a repeat. Endings that the
// chart writes are endings here; where the line differs earlier, they begin earlier.
func (s *Score) WrittenBars() []WrittenBar {
	var written []WrittenBar
	for bar := 0; bar < len(s.Bars); {
		times, common := timesFrom(s.Bars, bar)
		next := times[len(times)-1].end
		shared := s.sharedBars(times, common)
		if 2*shared < common || shared == 0 {
			written = append(written, s.writtenOut(times)...)
		} else {
			written = append(written, s.fold(times, shared)...)
		}
		bar = next
	}
	played := map[int]int{} // by the numbers of bars
	for i := range written {
		w := &written[i]
		w.Number = s.Bars[w.Bars[0]].Number
		w.Time = played[w.Number] + 1
		played[w.Number] += len(w.Bars)
	}
	return written
}

// A playing is what is played of a repeat at one time through it: bars of the score,
// end excluded.
type playing struct{ first, end int }

func (t playing) length() int { return t.end - t.first }

// timesFrom returns the times through the repeat that begins with a bar, and how
// many bars the chart writes for all of them: one bar, once, where there is none.
func timesFrom(bars []Bar, first int) (times []playing, common int) {
	back := first + 1
	for back < len(bars) && bars[back].Written > bars[back-1].Written {
		back++
	}
	if back == len(bars) || bars[back].Written != bars[first].Written {
		return []playing{{first, first + 1}}, 1
	}
	for first+common < back && bars[first+common].Ending == nil {
		common++
	}
	for start := first; start < len(bars) && bars[start].Written == bars[first].Written; {
		end := start + common
		for end < len(bars) && slices.Contains(bars[end].Ending, len(times)+1) {
			end++
		}
		times = append(times, playing{start, end})
		start = end
	}
	return times, common
}

// sharedBars returns how many bars, from the first, stand on the page for all times
// through a repeat: those that are written alike each time, of the common ones, or
// all where all times are alike.
func (s *Score) sharedBars(times []playing, common int) int {
	if !slices.ContainsFunc(times[1:], func(t playing) bool { return !s.endAlike(times[0], t, 0) }) {
		return times[0].length()
	}
	for i := range common {
		for _, t := range times[1:] {
			if !s.writtenAlike(times[0].first+i, t.first+i) {
				return i
			}
		}
	}
	return common
}

// endAlike reports whether two times through a repeat are written alike from one of
// their bars on.
func (s *Score) endAlike(a, b playing, from int) bool {
	if a.length() != b.length() {
		return false
	}
	for i := from; i < a.length(); i++ {
		if !s.writtenAlike(a.first+i, b.first+i) {
			return false
		}
	}
	return true
}

// writtenAlike reports whether two bars look the same on paper.
func (s *Score) writtenAlike(a, b int) bool {
	x, y := s.Bars[a], s.Bars[b]
	sameChords := slices.EqualFunc(x.Chords, y.Chords, func(c, d ChordSpan) bool {
		return c.Tick-x.Tick == d.Tick-y.Tick && c.Length == d.Length && c.None == d.None && c.Chord == d.Chord
	})
	return sameChords && s.bassAlike(x, y) && slices.EqualFunc(s.Stretches(a), s.Stretches(b), func(p, q Stretch) bool {
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

// bassAlike reports whether the bass plays the same in two bars.
func (s *Score) bassAlike(a, b Bar) bool {
	return slices.EqualFunc(s.bassIn(a), s.bassIn(b), func(m, n BassNote) bool {
		return m.Tick-a.Tick == n.Tick-b.Tick && m.Length == n.Length && m.Pitch == n.Pitch
	})
}

// bassIn returns the bass's notes that begin in a bar.
func (s *Score) bassIn(b Bar) []BassNote {
	at := func(n BassNote, tick int) int { return n.Tick - tick }
	from, _ := slices.BinarySearchFunc(s.Bass, b.Tick, at)
	to, _ := slices.BinarySearchFunc(s.Bass, b.Tick+s.Meter.Bar(), at)
	return s.Bass[from:to]
}

// writtenOut writes all times through a repeat, and once only those that follow one
// another and are alike.
func (s *Score) writtenOut(times []playing) (written []WrittenBar) {
	for t := 0; t < len(times); {
		alike := s.alikeFrom(times, t, 0)
		bars := s.fold(times[t:t+alike], times[t].length())
		for i := range bars {
			bars[i].Again = t > 0
		}
		written = append(written, bars...)
		t += alike
	}
	return written
}

// alikeFrom returns how many times through a repeat, from time t on, are written alike
// from one of their bars on; time t is among them.
func (s *Score) alikeFrom(times []playing, t, from int) int {
	alike := 1
	for t+alike < len(times) && s.endAlike(times[t], times[t+alike], from) {
		alike++
	}
	return alike
}

// fold writes bars that are played several times once, with an ending for each run
// of times that end alike.
func (s *Score) fold(times []playing, shared int) []WrittenBar {
	var written []WrittenBar
	for i := range shared {
		written = append(written, standingFor(times, i))
	}
	if len(times) == 1 {
		return written
	}
	written[0].RepeatOpens = true
	if shared == times[0].length() {
		written[shared-1].RepeatTimes = len(times)
		return written
	}
	for t := 0; t < len(times); {
		alike := s.alikeFrom(times, t, shared)
		var numbers []int
		for n := range alike {
			numbers = append(numbers, t+n+1)
		}
		for i := shared; i < times[t].length(); i++ {
			bar := standingFor(times[t:t+alike], i)
			bar.Ending = &Ending{Times: numbers, Begins: i == shared, Ends: i == times[t].length()-1}
			switch {
			case !bar.Ending.Ends:
			case t+alike < len(times):
				bar.RepeatTimes = alike + 1
			case alike > 1: // the last ending, played more than once
				bar.RepeatTimes = alike
			}
			written = append(written, bar)
		}
		t += alike
	}
	return written
}

// standingFor returns the written bar that stands for the i-th of each time.
func standingFor(times []playing, i int) WrittenBar {
	var bar WrittenBar
	for _, t := range times {
		bar.Bars = append(bar.Bars, t.first+i)
	}
	return bar
}
