package arrange

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/line"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/neck"
	"thirdwise/theory/remedy"
)

// line finds the line and its fingering.
func (a *arranger) line() error {
	if len(a.spans) == 0 {
		a.score.Position = a.Position
		if a.Position == neck.Lowest {
			a.score.Position = neck.Open
		}
		return nil
	}
	tried := a.positions()
	err := a.lineInFirst(tried)
	if err == nil && a.Line.Variant > 1 { // in the position of the best line
		a.score.Line, err = a.lineIn(a.score.Position, a.Line.Variant)
		return err
	}
	var lineError *line.Error
	if errors.As(err, &lineError) {
		return a.noLine(lineError, tried[len(tried)-1])
	}
	return err
}

// noLine is the error of there being no line: why not in the position, which is
// the whole neck where the exercise names none.
func (a *arranger) noLine(why *line.Error, p neck.Position) error {
	where, words := "anywhere on the neck", "choose another tuning, and name its lowest string first"
	if a.Position != neck.Lowest {
		where = "in " + p.Name()
		words = "ask for another position, or leave the position out and the lowest that works is found"
	}
	if why.Own != nil {
		return a.wrongOwn(why, where)
	}
	if a.compassForbids(p) {
		where += " within the compass " + a.Line.Compass()
		words = "widen the compass (low and high), or leave it out"
	}
	return a.failed(why.Segment, fmt.Sprintf("no line can be played %s: %s", where, why.Reason), words)
}

// wrongOwn is the error of a written note that cannot be played.
func (a *arranger) wrongOwn(why *line.Error, where string) error {
	slot := a.Line.Own[why.Own.Bar][why.Own.Slot]
	words := "write another note, or x for a third that is found"
	if strings.HasSuffix(why.Reason, "cannot be played") {
		why.Reason += " " + where
		words += ", or ask for another position"
	}
	return source.Findings{a.Finding(source.Mistake, slot.At, fmt.Sprintf("bar %d: %s", a.numberOf(why.Own.Bar), why.Reason), remedy.Say(words))}
}

// rhythms returns the written rhythms by the bars of the chart.
func (a *arranger) rhythms() map[int][]rhythm.Sign {
	written := map[int][]rhythm.Sign{}
	if len(a.Line.Rhythm) == 0 {
		return written
	}
	first := 0
	if a.score.Pickup {
		first = 1
	}
	for bar := first; bar < len(a.Chart); bar++ {
		written[bar] = a.Line.Rhythm[(bar-first)%len(a.Line.Rhythm)]
	}
	return written
}

// own returns the bars of the line that are written.
func (a *arranger) own() map[int][]line.Slot {
	own := map[int][]line.Slot{}
	for bar, slots := range a.Line.Own {
		for _, slot := range slots {
			own[bar] = append(own[bar], line.Slot{Sign: slot.Sign, Lower: slot.Lower})
		}
	}
	return own
}

// compassForbids reports whether there is a line in a position but for the
// compass that the exercise asks for.
func (a *arranger) compassForbids(p neck.Position) bool {
	if a.Line.Low == nil && a.Line.High == nil {
		return false
	}
	other := *a.Exercise
	other.Line.Low, other.Line.High = nil, nil
	_, err := (&arranger{Exercise: &other, score: a.score, spans: a.spans, memory: a.memory}).lineIn(p, 1)
	return err == nil
}

// lineIn finds a variant of the line in one position.
func (a *arranger) lineIn(p neck.Position, variant int) ([]score.Third, error) {
	low, high, ok := a.compass(p)
	if !ok {
		return nil, &line.Error{Reason: "no third of the key can be played here"}
	}
	maker := line.Maker{
		Key: a.Key,
		Rhythm: rhythm.Maker{
			Meter: a.Meter, Grid: a.Line.Grid.Ticks(), Density: a.Line.Density,
			Push: a.Line.Push, Written: a.rhythms(),
		},
		Low: low, High: high, CurveHigh: a.curveHigh(p),
		Effort:  a.effort(p),
		Closed:  a.Passes > 1 && a.Ladder.Along == exercise.NoLadder && a.closes(),
		Home:    a.home(),
		Repeats: a.repeats(),
		Own:     a.own(),
		Variant: variant,
		Memory:  &a.memory.lines,
	}
	segments := make([]line.Segment, len(a.spans))
	sectionAt := a.sections()
	for i, s := range a.spans {
		segments[i] = line.Segment{
			Start: s.Tick, End: s.Tick + s.Length, Chord: s.Chord, Scale: s.Scale,
			Bar: a.score.Bars[s.bar].Written, Section: sectionAt[i],
		}
	}
	found, err := maker.Line(segments)
	if err != nil {
		return nil, err
	}
	thirds, rested := make([]theory.Third, len(found)), make([]bool, len(found))
	for i, step := range found {
		thirds[i] = step.Notes
		if i > 0 {
			before := found[i-1]
			rested[i] = before.Tick+before.Length < step.Tick || before.Length > a.Meter.Beat()
		}
	}
	pairs, err := a.fingered(thirds, rested, p)
	if err != nil {
		return nil, err
	}
	hands := a.Neck.Hands(pairs, rested, p)
	out := make([]score.Third, len(found))
	for i, step := range found {
		out[i] = score.Third{
			Tick: step.Tick, Length: step.Length, Notes: step.Notes, Places: pairs[i], Hand: hands[i],
			Role: step.Role, LeadsBack: step.LeadsBack,
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

// octaveFret is where a string sounds the octave of its open note, and where the body of
// many guitars joins the neck.
const octaveFret = 12

// curveHigh returns the highest lower note, as a staff step, to which the line's phrases
// need go on the whole neck: up to the octave's fret a student has every third of the key
// in at least an octave and a half. It is 0 in a position, which says itself how high it
// goes, and where the exercise asks for a compass.
func (a *arranger) curveHigh(p neck.Position) int {
	highest := neck.At(octaveFret - neck.Span - a.Neck.Capo)
	if p != neck.Free || a.Line.Low != nil || a.Line.High != nil || a.Neck.CheckPosition(highest) != nil {
		return 0
	}
	_, to, ok := a.Neck.Compass(a.Key.Scale(), highest)
	if !ok {
		return 0
	}
	return to.Staff()
}

// effort returns what the line asks of each third: whether the hand can play it
// in the position. Thirds come back often, so each is worked out once.
func (a *arranger) effort(p neck.Position) func(theory.Third) (int, bool) {
	type answer struct {
		effort int
		ok     bool
	}
	known := map[theory.Third]answer{}
	own := map[theory.Pitch]bool{} // what is written may lie beyond the compass
	for _, slots := range a.Line.Own {
		for _, slot := range slots {
			if slot.Lower != nil {
				own[*slot.Lower] = true
			}
		}
	}
	return func(t theory.Third) (int, bool) {
		got, seen := known[t]
		if !seen {
			got.effort, got.ok = a.Neck.Effort(t, p)
			got.ok = got.ok && (inCompass(a.Exercise, t) || own[t.Lower])
			known[t] = got
		}
		return got.effort, got.ok
	}
}

// home returns the index of the span to which the line leads back from the end of the
// chart: the first behind a pickup.
func (a *arranger) home() int {
	if !a.score.Pickup {
		return 0
	}
	return max(0, slices.IndexFunc(a.spans, func(s spanRef) bool { return s.bar > 0 }))
}

// closes reports whether the chart, without a pickup, begins and ends with a chord, so
// that the line can lead from its end back to its beginning.
func (a *arranger) closes() bool {
	start := 0
	if a.score.Pickup {
		start = a.Meter.Bar()
	}
	last := a.spans[len(a.spans)-1]
	return a.spans[a.home()].Tick == start && last.Tick+last.Length == a.score.Length()
}

// sections tells of each span which section begins with it, which is in the section's
// first bar or behind its rest: a number for each name, from 1, and 0 where none begins.
func (a *arranger) sections() []int {
	numbers := map[string]int{}
	if a.score.Bars[a.spans[0].bar].Section == "" {
		numbers[""] = 1
	}
	begins := make([]int, len(a.spans))
	bar := 0 // up to which sections are told
	for i, s := range a.spans {
		for ; bar <= s.bar; bar++ {
			name := a.score.Bars[bar].Section
			if name == "" {
				continue
			}
			if numbers[name] == 0 {
				numbers[name] = len(numbers) + 1
			}
			begins[i] = numbers[name]
		}
	}
	return begins
}
