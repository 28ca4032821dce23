package arrange

import (
	"slices"
	"strings"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
)

// request returns what the exercise asks of its line, as outputs tell it. What a
// ladder writes out for itself, no teacher has asked for.
func (a *arranger) request() score.Request {
	r := score.Request{Push: a.Line.Push, Variant: a.Line.Variant, Ladder: score.Ladder{Along: a.Ladder.Way(), Triads: a.Ladder.Triads}}
	for _, bar := range a.Line.Rhythm {
		signs := make([]string, len(bar))
		for i, sign := range bar {
			signs[i] = string(sign)
		}
		r.Rhythm = append(r.Rhythm, strings.Join(signs, " "))
	}
	if a.Ladder.Along != exercise.NoLadder {
		return r
	}
	for bar, slots := range a.Line.Own {
		words := make([]string, len(slots))
		for i, slot := range slots {
			words[i] = string(slot.Sign)
			if slot.Lower != nil {
				words[i] = slot.Lower.ASCII()
			}
		}
		r.Own = append(r.Own, score.OwnBar{Number: a.numberOf(bar), Slots: strings.Join(words, " ")})
	}
	slices.SortFunc(r.Own, func(x, y score.OwnBar) int { return x.Number - y.Number })
	return r
}
