package arrange

import (
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
		length := before[at+bars] - before[at]
		if part.Times > 1 && len(part.Endings) == 0 && length > 0 {
			parts = append(parts, line.RepeatedPart{First: before[at], Length: length, Times: part.Times})
		}
		at += part.Times * bars
		for _, ending := range part.Endings {
			at += len(ending.Times) * (ending.End - ending.First)
		}
	}
	return parts
}

// inCompass reports whether the lower note of a third lies in the compass that the
// exercise asks for, to the semitone.
func (a *arranger) inCompass(t theory.Third) bool {
	low, high := a.Line.Low, a.Line.High
	return (low == nil || t.Lower.MIDI() >= low.MIDI()) && (high == nil || t.Lower.MIDI() <= high.MIDI())
}
