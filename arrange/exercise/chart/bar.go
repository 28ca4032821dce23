package chart

import (
	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
)

// MaxBars is how many bars a chart may have with its repeats written out.
const MaxBars = 4096

// A Bar is a bar of the chart as written.
type Bar struct {
	At          source.Pos // of its first chord
	Section     string     // the name of the section that begins here, or ""
	Chords      []Chord
	RepeatOpens bool // a |: stands before the bar
	RepeatTimes int  // a :| stands after the bar: how often what it closes is played; otherwise 0
}

// A Chord is a chord of a bar, or N.C.
type Chord struct {
	At           source.Span
	Text         string // as written: "vi", "6", "Bb/D"
	Tick, Length int    // from the start of the bar, in ticks
	None         bool   // N.C.
	Chord        theory.Chord
}

// Unfold returns a chart with its repeats written out: for each bar, in the order
// in which they are played, its index among the written ones. Repeats do not nest.
func Unfold(bars []Bar) []int {
	var played []int
	opened := 0
	for i, bar := range bars {
		if bar.RepeatOpens {
			opened = i
		}
		played = append(played, i)
		for again := 1; again < bar.RepeatTimes; again++ {
			for j := opened; j <= i; j++ {
				played = append(played, j)
			}
		}
	}
	return played
}
