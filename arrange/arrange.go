// Package arrange turns an exercise into a score.
//
// In goes an exercise, as package exercise has read it. [Arrange] finds the line
// that joins the chart's chords, its places on the neck, the grips of the chords,
// how they are strummed and what the bass plays; out comes a [score.Score],
// complete, in written rhythm.
package arrange

import (
	"cmp"
	"errors"
	"fmt"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/line"
	"thirdwise/theory/neck"
	"thirdwise/theory/numeral"
)

// Arrange arranges an exercise. The findings are warnings, such as an extreme
// tempo or a stretch of the hand, and notes, such as a chord outside the key and what
// the line does about it.
//
// An exercise whose line or chords cannot be played is an error of
// [source.Findings].
func Arrange(e *exercise.Exercise) (*score.Score, source.Findings, error) {
	a := &arranger{Exercise: e, score: &score.Score{
		Title: e.Title, Key: e.Key, Meter: e.Meter, Feel: e.Feel, Tempos: e.Tempos,
		CountIn: e.CountIn, Pickup: e.Chart[0].Pickup, Passes: e.Passes, Density: e.Line.Density, Grid: e.Line.Grid,
		Climb: e.Climb, Turns: e.Turns, Neck: e.Neck, Handout: score.Handout(e.Handout),
	}}
	a.bars()
	a.numerals()
	if err := a.grips(); err != nil {
		return nil, nil, err
	}
	if err := a.line(); err != nil {
		return nil, nil, err
	}
	a.score.NumberBars()
	patterns := patternsOf(e, a.score.Bars)
	a.score.Pattern = shown(patterns[0])
	a.score.Strums = strums(a.score, patterns)
	a.score.Bass = bass(a.score, e.Bass)
	return a.score, a.findings(), nil
}

// An arranger is the state of arranging one exercise.
type arranger struct {
	*exercise.Exercise
	score *score.Score
	spans []spanRef // every stretch with a chord, in the order of the score
}

// A spanRef is a span of the score that has a chord, with the place in the
// exercise's text from which it comes.
type spanRef struct {
	*score.ChordSpan
	bar     int // of the score, from 0
	written chart.Chord
}

// bars lays the chart out, its repeats written out.
func (a *arranger) bars() {
	for i, written := range chart.Unfold(a.Chart) {
		from := a.Chart[written]
		bar := score.Bar{Tick: i * a.Meter.Bar(), Section: from.Section, Written: written, Ending: from.Ending}
		bar.LineBegins = written == 0 || from.At.Line != a.Chart[written-1].At.Line
		for _, c := range from.Chords {
			span := score.ChordSpan{Tick: bar.Tick + c.Tick, Length: c.Length, None: c.None}
			if !c.None {
				span.Chord = c.Chord
				if a.Neck.Capo > 0 {
					span.Shaped, span.Shape = true, a.ShapeOf(c.Chord)
				}
				span.Scale = a.Key.ScaleOver(c.Chord)
			}
			bar.Chords = append(bar.Chords, span)
		}
		a.score.Bars = append(a.score.Bars, bar)
	}
	for i := range a.score.Bars {
		bar := &a.score.Bars[i]
		for j := range bar.Chords {
			if !bar.Chords[j].None {
				a.spans = append(a.spans, spanRef{&bar.Chords[j], i, a.Chart[bar.Written].Chords[j]})
			}
		}
	}
}

// numerals names the chords by their degrees: as they were typed, or else as the
// progression tells.
func (a *arranger) numerals() {
	chords := make([]theory.Chord, len(a.spans))
	for i, s := range a.spans {
		chords[i] = s.Chord
	}
	for i, name := range numeral.Progression(chords, a.Key) {
		a.spans[i].Numeral = cmp.Or(a.spans[i].written.Numeral, name)
	}
}

// grips finds how the chords are held, one after the other.
func (a *arranger) grips() error {
	chords := make([]theory.Chord, len(a.spans))
	for i, s := range a.spans {
		chords[i] = s.Chord
	}
	grips, err := a.Neck.Comp(chords)
	var noGrip *neck.NoGripError
	if errors.As(err, &noGrip) {
		return a.failed(noGrip.Index, err.Error(), "write another chord, or choose another tuning or capo")
	}
	if err != nil {
		return err
	}
	for i, s := range a.spans {
		s.Grip = grips[i]
	}
	return nil
}

// failed is the error of a mistake at the chord of a span. There is no page yet:
// the bar is counted as the chart writes it.
func (a *arranger) failed(span int, message, remedy string) error {
	s := a.spans[span]
	number := a.score.Bars[s.bar].Written + 1
	if a.score.Pickup {
		number--
	}
	message = fmt.Sprintf("bar %d: %s", number, message)
	return source.Findings{a.Finding(source.Mistake, s.written.At, message, remedy)}
}

// line finds the line and its fingering: in the position asked for, or else in
// the lowest in which there is one.
func (a *arranger) line() error {
	if len(a.spans) == 0 {
		a.score.Position = a.Position
		if a.Position == neck.Lowest {
			a.score.Position = neck.Open
		}
		return nil
	}
	candidates := []neck.Position{a.Position}
	if a.Position == neck.Lowest {
		candidates = append(a.Neck.Candidates(), neck.Free)
	}
	var failure error
	for _, p := range candidates {
		found, err := a.lineIn(p)
		if err == nil {
			a.score.Position, a.score.Line = p, found
			return nil
		}
		failure = err
	}
	var lineError *line.Error
	if !errors.As(failure, &lineError) {
		return failure
	}
	return a.noLine(lineError, candidates[len(candidates)-1])
}

// noLine is the error of there being no line: why not in the position, which is
// the whole neck where the exercise names none.
func (a *arranger) noLine(why *line.Error, p neck.Position) error {
	where, remedy := "anywhere on the neck", "choose another tuning, and name its lowest string first"
	if a.Position != neck.Lowest {
		where = "in position " + p.String()
		remedy = "ask for another position, or leave the position out and the lowest that works is found"
	}
	if a.compassForbids(p) {
		where += " within the compass " + a.Line.Compass()
		remedy = "widen the compass (low and high), or leave it out"
	}
	return a.failed(why.Segment, fmt.Sprintf("no line can be played %s: %s", where, why.Reason), remedy)
}

// compassForbids reports whether there is a line in a position but for the
// compass that the exercise asks for.
func (a *arranger) compassForbids(p neck.Position) bool {
	if a.Line.Low == nil && a.Line.High == nil {
		return false
	}
	other := *a.Exercise
	other.Line.Low, other.Line.High = nil, nil
	_, err := (&arranger{Exercise: &other, score: a.score, spans: a.spans}).lineIn(p)
	return err == nil
}

// lineIn finds the line in one position.
func (a *arranger) lineIn(p neck.Position) ([]score.Third, error) {
	low, high, ok := a.compass(p)
	if !ok {
		return nil, &line.Error{Reason: "no third of the key can be played here"}
	}
	maker := line.Maker{
		Bar: a.Meter.Bar(), Beat: a.Meter.Beat(), Grid: a.Line.Grid.Ticks(), Density: a.Line.Density,
		Low: low, High: high,
		Effort:  a.effort(p),
		Closed:  a.Passes > 1 && !a.score.Pickup && a.closes(),
		Repeats: a.repeats(),
	}
	segments := make([]line.Segment, len(a.spans))
	for i, s := range a.spans {
		segments[i] = line.Segment{Start: s.Tick, End: s.Tick + s.Length, Chord: s.Chord, Scale: s.Scale}
	}
	found, err := maker.Line(segments)
	if err != nil {
		return nil, err
	}
	thirds := make([]theory.Third, len(found))
	for i, t := range found {
		thirds[i] = t.Third
	}
	pairs, err := a.Neck.Finger(thirds, p)
	if err != nil {
		return nil, err
	}
	hands := a.Neck.Hands(pairs, p)
	out := make([]score.Third, len(found))
	for i, t := range found {
		out[i] = score.Third{
			Tick: t.Tick, Length: t.Length, Notes: t.Third, Places: pairs[i], Hand: hands[i],
			Role: t.Role, LeadsBack: t.LeadsBack,
		}
	}
	return out, nil
}

// compass returns the line's compass in a position as staff steps: what the
// exercise says, and what follows from the position where it says nothing.
func (a *arranger) compass(p neck.Position) (low, high int, ok bool) {
	from, to, ok := a.Neck.Compass(a.Key.Scale(), p)
	low, high = from.Staff(), to.Staff()
	if a.Line.Low != nil {
		low = a.Line.Low.Staff()
	}
	if a.Line.High != nil {
		high = a.Line.High.Staff()
	}
	return low, high, ok && low <= high
}

// effort returns what the line asks of each third: whether the hand can play it
// in the position. Thirds come back often, so each is worked out once.
func (a *arranger) effort(p neck.Position) func(theory.Third) (int, bool) {
	type answer struct {
		effort int
		ok     bool
	}
	known := map[theory.Third]answer{}
	return func(t theory.Third) (int, bool) {
		got, seen := known[t]
		if !seen {
			got.effort, got.ok = a.Neck.Effort(t, p)
			got.ok = got.ok && a.inCompass(t)
			known[t] = got
		}
		return got.effort, got.ok
	}
}

// closes reports whether the chart begins and ends with a chord, so that the
// line can lead from its end back to its beginning.
func (a *arranger) closes() bool {
	first, last := a.spans[0], a.spans[len(a.spans)-1]
	return first.Tick == 0 && last.Tick+last.Length == a.score.Length()
}
