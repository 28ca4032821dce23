package arrange

import (
	"slices"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/chart"
	"thirdwise/theory"
	"thirdwise/theory/line"
)

// repeats returns the chart's repeats as the line's segments have them.
func (a *arranger) repeats() []line.RepeatedPart {
	before := make([]int, len(a.score.Bars)+1) // segments before each bar of the score
	for _, s := range a.spans {
		before[s.bar+1]++
	}
	for i := range a.score.Bars {
		before[i+1] += before[i]
	}
	var parts []line.RepeatedPart
	at := 0 // bar of the score
	for _, part := range chart.Parts(a.Chart) {
		bars := part.End - part.First
		repeated := line.RepeatedPart{First: before[at], Length: before[at+bars] - before[at], Times: part.Times}
		for time := range part.Times {
			at += bars
			from := before[at]
			for _, ending := range part.Endings {
				if slices.Contains(ending.Times, time+1) {
					at += ending.End - ending.First
				}
			}
			repeated.Endings = append(repeated.Endings, before[at]-from)
		}
		if part.Times > 1 && repeated.Length > 0 {
			parts = append(parts, repeated)
		}
	}
	return parts
}

// inCompass reports whether the lower note of a third lies in the compass that an
// exercise asks for, to the semitone.
func inCompass(e *exercise.Exercise, t theory.Third) bool {
	low, high := e.Line.Low, e.Line.High
	return (low == nil || t.Lower.MIDI() >= low.MIDI()) && (high == nil || t.Lower.MIDI() <= high.MIDI())
}
