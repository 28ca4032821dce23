package chart

import (
	"slices"

	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
)

// MaxBars is how many bars a chart may have with its repeats written out.
const MaxBars = 4096

// A Bar is a bar of the chart as written.
type Bar struct {
	At          source.Pos // of its first chord
	Section     string     // the name of the section that begins here, or ""
	Pickup      bool       // it stands before bar one and is heard the first time only
	Chords      []Chord
	RepeatOpens bool  // a |: stands before the bar
	RepeatTimes int   // a :| stands after the bar: how often what it closes is played; otherwise 0
	Ending      []int // the times through its repeat for which it is played, rising; nil for all
}

// A Chord is a chord of a bar, or N.C.
type Chord struct {
	At           source.Span
	Symbol       bool   // it was typed as a symbol, not as a numeral or a degree
	Numeral      string // as it was typed, with ♯ and ♭; "" where a symbol or a degree was
	Tick, Length int    // from the start of the bar, in ticks
	None         bool   // N.C.
	Chord        theory.Chord
}

// A Part is a run of bars of the chart that are played once or, where it is a
// repeat, several times. Its endings follow one another behind the bars that are
// played each time.
type Part struct {
	First, End int      // indexes of the bars that are played each time, End excluded
	Times      int      // 1 where it is no repeat
	Endings    []Ending // none for most
}

// An Ending is what is played at some times through a repeat.
type Ending struct {
	First, End int   // indexes of its bars, End excluded
	Times      []int // counted from 1, rising
}

// Parts divides a chart into what is repeated and what is not.
func Parts(bars []Bar) []Part {
	var parts []Part
	for i := 0; i < len(bars); {
		part := Part{First: i, End: i + 1, Times: 1}
		if bars[i].RepeatOpens {
			part = repeatFrom(bars, i)
		}
		parts = append(parts, part)
		i = part.End
		if n := len(part.Endings); n > 0 {
			i = part.Endings[n-1].End
		}
	}
	return parts
}

// repeatFrom returns the repeat that opens before a bar.
func repeatFrom(bars []Bar, first int) Part {
	part := Part{First: first, End: first, Times: 1}
	for part.End < len(bars) && bars[part.End].Ending == nil {
		part.End++
		if times := bars[part.End-1].RepeatTimes; times > 0 {
			part.Times = times
			return part
		}
	}
	for i := part.End; i < len(bars) && bars[i].Ending != nil && !bars[i].RepeatOpens; i++ {
		times := bars[i].Ending
		if n := len(part.Endings); n == 0 || !slices.Equal(part.Endings[n-1].Times, times) {
			part.Endings = append(part.Endings, Ending{First: i, Times: times})
		}
		part.Endings[len(part.Endings)-1].End = i + 1
		part.Times = times[len(times)-1]
	}
	return part
}

// Unfold returns a chart with its repeats written out: for each bar, in the order
// in which they are played, its index among the written ones. Repeats do not nest.
func Unfold(bars []Bar) []int {
	var played []int
	play := func(first, end int) {
		for i := first; i < end; i++ {
			played = append(played, i)
		}
	}
	for _, part := range Parts(bars) {
		for time := 1; time <= part.Times; time++ {
			play(part.First, part.End)
			for _, ending := range part.Endings {
				if slices.Contains(ending.Times, time) {
					play(ending.First, ending.End)
				}
			}
		}
	}
	return played
}
