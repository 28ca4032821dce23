package score

import (
	"fmt"
	"slices"

	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// A Performance is one rendition of a [Score] as it is played from start to
// end: count-in, every pass, strums spread over their strings, swing in its
// place, nothing played twice in the same way. Audio and the performance MIDI file are
// made from it and agree to the sample.
//
// Ticks in a Performance are counted from its own start, the count-in included.
type Performance struct {
	Tempos []TempoChange // rising in ticks, the first at tick 0
	Length int           // ticks; the last sounds ring on beyond it
	// End is the tick at which the last sounds have faded away, Length in what can be
	// repeated.
	End        int
	CountIns   []int       // the ticks at which a count-in begins
	Bars       []PlayedBar // the count-in's bars left out
	Click      []ClickStroke
	Percussion []PercussionStroke // rising in ticks
	Notes      []Note             // rising in ticks; in what can be repeated some of the last ring on into its beginning
}

// A TempoChange sets the length of a quarter note from a tick on.
type TempoChange struct {
	Tick          int
	QuarterMicros int // whole microseconds
}

// A PlayedBar is one bar of the chart in one pass.
type PlayedBar struct {
	Tick  int
	Index int    // into Score.Bars
	Pass  int    // counted from 1
	Label string // its number on the page and the time through: "5 (2nd time)"
}

// A ClickStroke is one stroke of the click.
type ClickStroke struct {
	Tick     int
	Accent   bool // on one
	Velocity int  // 1 to 127
}

// A Note is one note as it is played.
type Note struct {
	Tick, Length int
	Pitch        theory.Pitch
	neck.Place
	Velocity int // 1 to 127
	Yield    int // how much less that is than struck alone, of a string that sounds what the guide begins with it
	Part     Part
	Pass     int // counted from 1
	Bar      int // index into Performance.Bars of the bar that the note is written in; it may begin before it
}

// A Part is a voice of a performance.
type Part int

// The parts. The guide's two voices can be heard apart, so that a student can
// play one of them against the other.
const (
	Click Part = iota
	Chords
	GuideUpper
	GuideLower
	Bass
	Groove
)

// Turns returns the performance with the guide in every other turn, so that a
// student listens and then plays. A turn is so many bars, or where that is 0 a
// pass. The guide has the first turn of the first pass, the student that of the
// second, and so on: what one has heard the time before, one plays.
func (p *Performance) Turns(bars int) *Performance {
	turns := *p
	turns.Notes = nil
	for _, n := range p.Notes {
		guide := n.Part == GuideUpper || n.Part == GuideLower
		if !guide || (p.turn(n, bars)+n.Pass)%2 == 1 {
			turns.Notes = append(turns.Notes, n)
		}
	}
	return &turns
}

// Check returns an error where the performance has a note that cannot be played: one
// that lasts less than a tick, or begins before the performance does.
func (p *Performance) Check() error {
	for _, n := range p.Notes {
		if n.Length < 1 || n.Tick < 0 {
			return fmt.Errorf("a note at tick %d would last %d ticks", n.Tick, n.Length)
		}
	}
	return nil
}

// turn returns which turn of its pass a note belongs to, counted from 0, where a
// turn is so many bars or a pass.
func (p *Performance) turn(n Note, bars int) int {
	if bars == 0 {
		return 0
	}
	next, _ := slices.BinarySearchFunc(p.Bars, n.Tick+1, func(b PlayedBar, tick int) int { return b.Tick - tick })
	return p.Bars[max(0, next-1)].Index / bars
}

// Sample returns the index of the sample on which a tick falls, at a rate in Hz.
// It is computed from the absolute tick and rounded once, so nothing adds up.
func (p *Performance) Sample(tick, rate int) int {
	var sum int // microseconds times ticks a quarter
	for i, change := range p.Tempos {
		end := tick
		if i+1 < len(p.Tempos) {
			end = min(tick, p.Tempos[i+1].Tick)
		}
		if end <= change.Tick && i > 0 {
			break
		}
		sum += (end - change.Tick) * change.QuarterMicros
	}
	const second = 1_000_000 * meter.Quarter
	// Whole seconds apart, so that the product stays in range however long it lasts.
	return sum/second*rate + (sum%second*rate+second/2)/second
}
