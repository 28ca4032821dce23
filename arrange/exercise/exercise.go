package exercise

import (
	"fmt"
	"slices"

	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
	"thirdwise/theory/remedy"
)

// MaxBytes is the size that an exercise may have.
const MaxBytes = source.MaxBytes

// An Exercise is the page of text that a teacher writes, read and checked. All
// defaults are filled in, but for those that only the arranger can know: the
// zero Position, a nil Strum and nil ends of the compass are left to it.
type Exercise struct {
	Title   string
	Key     theory.Key
	Meter   meter.Meter
	Chart   []chart.Bar // as written, not unfolded; of a ladder it is left to the arranger
	Ladder  Ladder
	Passes  int   // times through the chart, 1 or more
	Tempos  []int // beats per minute
	CountIn int   // bars
	Feel    meter.Feel
	Line    LineSettings
	Neck    neck.Neck
	// Position is neck.Lowest where the exercise names none.
	Position neck.Position
	Strum    []score.Pattern // a bar each, used in turn; nil for the meter's own
	Bass     Bass
	Groove   Groove
	// ClickEnds tells that the click ends with the count-in.
	ClickEnds bool
	Handout   score.Handout
	Climb     int // beats per minute by which the climb goes up each time; 0 for none
	Turns     int // bars of a turn in the mix of turns; 0 for a pass

	file       *source.File  // for what comes to light only in arranging
	tempoSpans []source.Span // one for each of Tempos; nil where they are not from the text
}

// Findings returns what was found in reading the exercise: notes and warnings,
// since there is no exercise where there are mistakes.
func (e *Exercise) Findings() source.Findings { return e.file.Findings() }

// Finding makes a finding, in the marked stretch of the exercise's text, about
// something that comes to light when it is arranged.
func (e *Exercise) Finding(s source.Severity, at source.Span, message string, r remedy.Remedy) source.Finding {
	return e.file.Finding(s, at, message, r)
}

// TempoSpan returns where a tempo stands in the text; ok is false for one that
// does not come from it.
func (e *Exercise) TempoSpan(i int) (at source.Span, ok bool) {
	if i >= len(e.tempoSpans) {
		return source.Span{}, false
	}
	return e.tempoSpans[i], true
}

// WithTempos returns the exercise with other tempos, in beats per minute. The
// error says which of them an exercise cannot have.
func (e *Exercise) WithTempos(tempos []int) (*Exercise, error) {
	for i, tempo := range tempos {
		if tempo < minTempo || tempo > maxTempo {
			return nil, fmt.Errorf("the tempo %d is outside %d to %d beats per minute", tempo, minTempo, maxTempo)
		}
		if slices.Contains(tempos[:i], tempo) {
			return nil, fmt.Errorf("the tempo %d is given twice", tempo)
		}
	}
	other := *e
	other.Tempos, other.tempoSpans = tempos, nil
	return &other, nil
}

// WithDensity returns the exercise with another density, in per cent.
func (e *Exercise) WithDensity(density int) *Exercise {
	other := *e
	other.Line.Density = density
	return &other
}

// WithVariant returns the exercise with another of the good lines, counted from 1.
func (e *Exercise) WithVariant(variant int) *Exercise {
	other := *e
	other.Line.Variant = variant
	return &other
}

// LineSettings says how the line moves.
type LineSettings struct {
	Density   int // per cent, 0 to 100
	Grid      meter.Grid
	Low, High *theory.Pitch // compass of the line's lower note; nil where it follows from the position
	// Rhythm is written for the chart's bars, which use its bars in turn; nil where it
	// follows from density and grid.
	Rhythm  [][]rhythm.Sign
	Push    bool              // arrivals come early where the line pushes
	Own     map[int][]OwnSlot // bars of the line that are written, by index in Chart
	Variant int               // 1 for the best line, up to 9
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
