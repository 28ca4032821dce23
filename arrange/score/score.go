// Package score holds what every output reads: the [Score], an exercise arranged
// and complete, and the [Performance], one rendition of it as it is played.
//
// A Score comes from package arrange. [Score.Perform], [Score.Loop] and
// [Score.Climbing] make performances of it: count-in, click, passes, strums, swing.
// Ticks are the only time here, 480 to the quarter note. Samples, MIDI events, tab
// and sheet are made by packages synth, smf and arrange/paper, which read what is
// here and know nothing of the text that it came from.
package score

import (
	"thirdwise/theory"
	"thirdwise/theory/line"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// A Score is an exercise, arranged: complete, so that an output reads it and
// decides nothing musical. It holds the chart once, repeats written out, in
// written rhythm; [Score.Perform] turns it into what is played, with count-in,
// passes, strums and swing.
//
// Ticks in a Score are counted from the first tick of its first bar, the count-in
// left out.
type Score struct {
	Title    string
	Key      theory.Key
	Meter    meter.Meter
	Feel     meter.Feel
	Tempos   []int // beats a minute, as the exercise lists them
	CountIn  int   // bars of click before the first bar
	Pickup   bool  // the first bar is a pickup: it stands before bar one and is heard the first time only
	Passes   int   // times through the chart
	Density  int   // per cent, 0 to 100
	Grid     meter.Grid
	Climb    int // beats a minute by which the climb goes up each time; 0 for none
	Turns    int // bars of a turn in the mix of turns; 0 for a pass
	Neck     neck.Neck
	Position neck.Position // the one played in; never neck.Lowest
	Bars     []Bar
	Line     []Third // rising in ticks; one sounds until the next or its length ends
	Asked    Request
	Strums   []Strum        // rising in ticks
	Patterns []Pattern      // of the strums, a bar each, in turn
	Fill     Pattern        // in the last bar of a phrase instead; nil where there is none
	Bass     []BassNote     // rising in ticks; nil where no bass plays
	Groove   []GrooveStroke // rising in ticks; nil where no percussion plays
	// ClickEnds tells that the click ends with the count-in.
	ClickEnds bool
	Handout   Handout
}

// A Handout is what the teacher wants on paper beside the music.
type Handout struct {
	Subtitle, By string   // one line each, or ""
	Note         []string // what the student is told, in paragraphs
	Student      bool     // a line for the student's name and the date
	Numerals     bool     // Roman numerals below the chord symbols
}

// Length returns the length of the chart, played once, in ticks.
func (s *Score) Length() int { return len(s.Bars) * s.Meter.Bar() }

// Tempo returns the tempo that the exercise works towards, the last of its
// tempos, in beats a minute.
func (s *Score) Tempo() int { return s.Tempos[len(s.Tempos)-1] }

// A Bar is one bar of the chart with its repeats written out.
type Bar struct {
	Tick    int    // of its first beat
	Section string // the name of the section that begins here, or ""
	// LineBegins tells that the chart, as the teacher wrote it, begins a line here.
	LineBegins bool
	Written    int   // index of the bar among those that the chart writes, so that repeats can be told
	Ending     []int // the times through its repeat for which the chart writes the bar, rising; nil for all
	Number     int   // by which the bar goes: counted as the chart writes bars, from 1, a pickup 0
	Chords     []ChordSpan
}

// A ChordSpan is a stretch of a bar in which one chord, or none, sounds.
type ChordSpan struct {
	Tick, Length int
	None         bool // N.C.; Chord, Numeral and Grip are zero
	Chord        theory.Chord
	Shaped       bool // behind a capo the hand plays another chord's shape: Shape, by its name without one
	Shape        theory.Chord
	Numeral      string       // the chord as a Roman numeral in the key, as it was typed where it was
	Scale        theory.Scale // in force while the chord sounds
	Grip         neck.Grip
}

// Symbol returns what stands above the span: the chord's symbol, or N.C.
func (c ChordSpan) Symbol() string {
	if c.None {
		return "N.C."
	}
	return c.Chord.String()
}

// Label returns what a player needs above the span: its symbol, or behind a capo
// the shape's and in parentheses the sounding chord's: "G (B♭)".
func (c ChordSpan) Label() string {
	if !c.Shaped {
		return c.Symbol()
	}
	return c.Shape.String() + " (" + c.Symbol() + ")"
}

// A Third is one third of the line, written.
type Third struct {
	Tick, Length int
	Notes        theory.Third
	Places       neck.Pair
	Hand         int // fret of the first finger; see neck.Pair.Fingers
	Role         Role
	// LeadsBack marks the thirds after the last arrival. They lead back to the
	// first one, so they are played in every pass but the last, where the last
	// arrival sounds until its bar ends.
	LeadsBack bool
}

// A Role is what a third does in the line.
type Role = line.Role

// The roles; package line says what each does.
const (
	Arrival   = line.Arrival
	Passing   = line.Passing
	Neighbour = line.Neighbour
	Repeat    = line.Repeat
)

// A Strum is one stroke across a grip, written.
type Strum struct {
	Tick, Length int  // until the next stroke, the end of the chord or of the bar
	Up           bool // from the high strings to the low ones
	Accent       bool
	Damped       bool // the left hand damps the strings: a short sound of no pitch
	Picked       bool // the strings are plucked together, and not struck one after the other
	Notes        []StrumNote
}

// A StrumNote is one string of a strum.
type StrumNote struct {
	Pitch theory.Pitch
	neck.Place
}

// A BassNote is one note of the bass part, written.
type BassNote struct {
	Tick, Length int
	Pitch        theory.Pitch
	neck.Place   // on a bass guitar of four strings
}
