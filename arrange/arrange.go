// Package arrange turns an exercise into a score.
//
// In goes an exercise, as package exercise has read it. [Arrange] finds the line
// that joins the chart's chords, its places on the neck, the grips of the chords,
// how they are strummed and what bass and percussion play; out comes a [score.Score],
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
	"thirdwise/theory/chordscale"
	"thirdwise/theory/line"
	"thirdwise/theory/neck"
	"thirdwise/theory/neck/comping"
	"thirdwise/theory/numeral"
	"thirdwise/theory/remedy"
)

// Arrange arranges an exercise. The findings are warnings, such as an extreme
// tempo or a stretch of the hand, and notes, such as a chord outside the key and what
// the line does about it.
//
// An exercise whose line or chords cannot be played is an error of
// [source.Findings].
func Arrange(e *exercise.Exercise) (*score.Score, source.Findings, error) {
	return new(Memory).Arrange(e)
}

// A Memory remembers what was worked out for the exercise that was arranged last, so
// that another which has much in common with it, as the next state of a text that is
// being written, is arranged sooner: to the same score. The zero value remembers
// nothing. It serves one exercise at a time.
type Memory struct {
	grips comping.Memory
	lines line.Memory
}

// Arrange is the function [Arrange] with what the memory knows.
func (m *Memory) Arrange(e *exercise.Exercise) (*score.Score, source.Findings, error) {
	return m.arrange(e, (*arranger).line)
}

// Again arranges an exercise whose score was made before and given up but for its line,
// which takes by far the longest to find, and its position. The score is the same.
func Again(e *exercise.Exercise, found []score.Third, in neck.Position) (*score.Score, error) {
	s, _, err := new(Memory).arrange(e, func(a *arranger) error {
		a.score.Line, a.score.Position = found, in
		return nil
	})
	return s, err
}

// arrange arranges an exercise. Its line is found by find.
func (m *Memory) arrange(e *exercise.Exercise, find func(*arranger) error) (*score.Score, source.Findings, error) {
	m.lines.Age()
	e, err := Laid(e)
	if err != nil {
		return nil, nil, err
	}
	a := &arranger{Exercise: e, memory: m, score: &score.Score{
		Title: e.Title, Key: e.Key, Meter: e.Meter, Feel: e.Feel, Tempos: e.Tempos,
		CountIn: e.CountIn, Pickup: e.Chart[0].Pickup, Passes: e.Passes, Density: e.Line.Density, Grid: e.Line.Grid,
		Climb: e.Climb, Turns: e.Turns, ClickEnds: e.ClickEnds, Neck: e.Neck, Handout: e.Handout,
	}}
	a.bars()
	a.numerals()
	a.scales()
	if err := a.grips(); err != nil {
		return nil, nil, err
	}
	if err := find(a); err != nil {
		return nil, nil, err
	}
	a.score.Asked = a.request()
	patterns := a.patterns()
	a.score.Strums = strums(a.score, patterns)
	a.score.Bass = bass(a.score, e.Bass)
	a.score.Groove = groove(a.score, e.Groove)
	return a.score, a.findings(), nil
}

// An arranger is the state of arranging one exercise.
type arranger struct {
	*exercise.Exercise
	score  *score.Score
	spans  []spanRef // every stretch with a chord, in the order of the score
	memory *Memory
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
		bar := score.Bar{Tick: i * a.Meter.Bar(), Section: from.Section, Written: written, Number: a.numberOf(written), Ending: from.Ending}
		bar.LineBegins = written == 0 || from.At.Line != a.Chart[written-1].At.Line
		for _, c := range from.Chords {
			span := score.ChordSpan{Tick: bar.Tick + c.Tick, Length: c.Length, None: c.None}
			if !c.None {
				span.Chord = c.Chord
				if a.Neck.Capo > 0 {
					span.Shaped, span.Shape = true, a.ShapeOf(c.Chord)
				}
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

// chords returns the chords of the chart, its repeats written out.
func (a *arranger) chords() []theory.Chord {
	chords := make([]theory.Chord, len(a.spans))
	for i, s := range a.spans {
		chords[i] = s.Chord
	}
	return chords
}

// numerals names the chords by their degrees: as they were typed, or else as the
// progression tells.
func (a *arranger) numerals() {
	for i, name := range numeral.Progression(a.chords(), a.Key) {
		a.spans[i].Numeral = cmp.Or(a.spans[i].written.Numeral, name)
	}
}

// scales finds the scale in force over each chord. Where the tonic is a blues' seventh in
// some places only, as in rhythm changes, chords that belong to the key stay as they are.
func (a *arranger) scales() {
	blues, throughout := numeral.Blues(a.chords(), a.Key)
	for _, s := range a.spans {
		over := chordscale.Over
		if blues && (throughout || !a.Key.Owns(s.Chord)) {
			over = chordscale.InBlues
		}
		s.Scale = over(a.Key, s.Chord)
	}
}

// grips finds how the chords are held, one after the other.
func (a *arranger) grips() error {
	grips, err := a.memory.grips.Choose(a.Neck, a.chords())
	var noGrip *comping.NoGripError
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
func (a *arranger) failed(span int, message, words string) error {
	s := a.spans[span]
	message = fmt.Sprintf("bar %d: %s", a.score.Bars[s.bar].Number, message)
	return source.Findings{a.Finding(source.Mistake, s.written.At, message, remedy.Say(words))}
}

// numberOf returns the number of a bar of the chart, in which a pickup is bar 0.
func (a *arranger) numberOf(bar int) int {
	if a.score.Pickup {
		return bar
	}
	return bar + 1
}
