package exercise

import (
	"fmt"
	"slices"
	"unicode/utf8"

	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// An Exercise is the page of text that a teacher writes, read and checked. All
// defaults are filled in, but for those that only the arranger can know: the
// zero Position, a nil Strum and nil ends of the compass are left to it.
type Exercise struct {
	Title   string
	Key     theory.Key
	Meter   meter.Meter
	Chart   []ChartBar // as written, not unfolded
	Passes  int        // times through the chart, 1 or more
	Tempos  []int      // beats a minute
	CountIn int        // bars
	Feel    meter.Feel
	Line    LineSettings
	Neck    neck.Neck
	// Position is neck.Lowest where the exercise names none.
	Position neck.Position
	Strum    []StrumSign // one a slot of the bar; nil for the meter's own
	Bass     Bass
	Climb    int // beats a minute by which the rising practice track goes up; 0 for none

	// The text, for mistakes that come to light only in arranging.
	file       string
	lines      []string
	tempoSpans []Span // one for each of Tempos; nil where they are not from the text
}

// TempoSpan returns where a tempo stands in the text; ok is false for one that
// does not come from it.
func (e *Exercise) TempoSpan(i int) (at Span, ok bool) {
	if i >= len(e.tempoSpans) {
		return Span{}, false
	}
	return e.tempoSpans[i], true
}

// WithTempos returns the exercise with other tempos, in beats a minute. The
// error says which of them an exercise cannot have.
func (e *Exercise) WithTempos(tempos []int) (*Exercise, error) {
	for i, tempo := range tempos {
		if tempo < minTempo || tempo > maxTempo {
			return nil, fmt.Errorf("the tempo %d is outside %d to %d beats a minute", tempo, minTempo, maxTempo)
		}
		if slices.Contains(tempos[:i], tempo) {
			return nil, fmt.Errorf("the tempo %d is given twice", tempo)
		}
	}
	other := *e
	other.Tempos, other.tempoSpans = tempos, nil
	return &other, nil
}

// Mistake makes a mistake that is found only when the exercise is arranged, in
// the marked stretch of its text.
func (e *Exercise) Mistake(at Span, message, remedy string) *Mistake {
	return newMistake(e.file, e.lines, at, message, remedy)
}

// LineSettings says how the line moves.
type LineSettings struct {
	Density   int // per cent, 0 to 100
	Grid      meter.Grid
	Low, High *theory.Pitch // compass of the line's lower note; nil where it follows from the position
}

// Compass says in words what the exercise asks for; it asks for one end at least.
func (l LineSettings) Compass() string {
	switch {
	case l.High == nil:
		return fmt.Sprintf("from %s up", l.Low)
	case l.Low == nil:
		return fmt.Sprintf("up to %s", l.High)
	}
	return fmt.Sprintf("from %s to %s", l.Low, l.High)
}

// A ChartBar is a bar of the chart as written.
type ChartBar struct {
	Pos         Pos    // of its first chord
	Section     string // the name of the section that begins here, or ""
	Chords      []ChartChord
	RepeatOpens bool // a |: stands before the bar
	RepeatTimes int  // a :| stands behind the bar: how often what it closes is played; otherwise 0
}

// A ChartChord is a chord of a bar, or N.C.
type ChartChord struct {
	Pos          Pos
	Text         string // as written: "vi", "6", "Bb/D"
	Tick, Length int    // from the start of the bar, in ticks
	None         bool   // N.C.
	Chord        theory.Chord
}

// Span returns where the chord stands in the text.
func (c ChartChord) Span() Span { return Span{c.Pos, utf8.RuneCountInString(c.Text)} }

// A StrumSign is one slot of a strumming pattern.
type StrumSign byte

// The signs of a strumming pattern.
const (
	Down StrumSign = 'D'
	Up   StrumSign = 'U'
	Ring StrumSign = '-' // no stroke; what sounds rings on
)

// A Pos is a place in an exercise's text.
type Pos struct {
	Line, Column int // from 1; columns count characters
}

// A Span is a stretch of characters in one line of the text.
type Span struct {
	Pos
	Length int // characters; 0 where none can be marked
}
