package bench

import (
	"fmt"
	"slices"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
	"thirdwise/theory/line/rhythm"
)

// A BarOfLine is a bar of the line as the exercise could write it, and which thirds
// can be written in it.
type BarOfLine struct {
	Number int      `json:"number"` // by which the exercise names it
	Own    bool     `json:"own"`    // whether the exercise writes it
	Signs  []string `json:"signs"`  // a slot each: a lower note, "-" or "."
	Thirds []Choice `json:"thirds"` // that can be played there, the lowest first
}

// A Choice is a third that can be written over the chord of some slots.
type Choice struct {
	From  int            `json:"from"` // its first slot, from 0
	To    int            `json:"to"`   // behind its last slot
	Lower kit.NoteRecord `json:"lower"`
	Upper kit.NoteRecord `json:"upper"`
}

// How many other ways a bar is offered, and how many variants of the line are looked
// through for them.
const (
	mostWays     = 4
	mostVariants = 7
)

// Bar returns a bar of the line, counted from 0 with repeats written out.
func (b *Bench) Bar(index int) (BarOfLine, error) {
	if err := b.holds(index); err != nil {
		return BarOfLine{}, err
	}
	bar := b.score.Bars[index]
	_, own := b.written.Line.Own[bar.Written]
	return BarOfLine{Number: bar.Number, Own: own, Signs: signsOf(slotsOf(b.score, index)), Thirds: thirdsIn(b.score, index)}, nil
}

// Ways returns other good ways to play a bar, the best first, in the signs of an
// exercise: what the search finds there, and its variants, while the rest of the
// line stays as it is.
func (b *Bench) Ways(index int) ([][]string, error) {
	if err := b.holds(index); err != nil {
		return nil, err
	}
	at := b.score.Bars[index].Written
	other := *b.written
	other.Position = b.score.Position
	other.Line.Own = map[int][]exercise.OwnSlot{}
	for i, bar := range b.score.Bars {
		if bar.Written != at && slices.ContainsFunc(bar.Chords, func(c score.ChordSpan) bool { return !c.None }) {
			other.Line.Own[bar.Written] = slotsOf(b.score, i)
		}
	}
	ways, known := [][]string{}, [][]string{signsOf(slotsOf(b.score, index))}
	for variant := 1; variant <= mostVariants && len(ways) < mostWays; variant++ {
		other.Line.Variant = variant
		found, _, err := arrange.Arrange(&other)
		if err != nil {
			break // what stands around it leaves no other way
		}
		signs := signsOf(slotsOf(found, index))
		if !slices.ContainsFunc(known, func(k []string) bool { return slices.Equal(k, signs) }) {
			known, ways = append(known, signs), append(ways, signs)
		}
	}
	return ways, nil
}

// holds returns an error where the bench has no such bar.
func (b *Bench) holds(index int) error {
	if b.score == nil {
		return errNothing
	}
	if index < 0 || index >= len(b.score.Bars) {
		return fmt.Errorf("bar %d of %d", index+1, len(b.score.Bars))
	}
	return nil
}

// slotTicks returns the length of the slots in which a bar of the line can be
// written: those of the grid, or finer ones where it has thirds between them.
func slotTicks(s *score.Score, index int) int {
	start, end := s.Bars[index].Tick, s.Bars[index].Tick+s.Meter.Bar()
	slot := s.Grid.Ticks()
	for _, t := range s.Line {
		for _, tick := range []int{t.Tick, t.Tick + t.Length} {
			if tick > start && tick < end {
				slot = divisor(slot, tick-start)
			}
		}
	}
	return slot
}

func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// slotsOf returns a bar of the line as it is, as an exercise would write it.
func slotsOf(s *score.Score, index int) []exercise.OwnSlot {
	slot := slotTicks(s, index)
	start := s.Bars[index].Tick
	var slots []exercise.OwnSlot
	for tick := start; tick < start+s.Meter.Bar(); tick += slot {
		written := exercise.OwnSlot{Sign: rhythm.Rest}
		for _, t := range s.Line {
			switch {
			case t.Tick == tick:
				written = exercise.OwnSlot{Sign: rhythm.Begin, Lower: &t.Notes.Lower}
			case t.Tick < tick && tick < t.Tick+t.Length:
				written = exercise.OwnSlot{Sign: rhythm.Hold}
			}
		}
		slots = append(slots, written)
	}
	return slots
}

// signsOf returns slots as an exercise writes them.
func signsOf(slots []exercise.OwnSlot) []string {
	signs := make([]string, len(slots))
	for i, slot := range slots {
		signs[i] = string(slot.Sign)
		if slot.Lower != nil {
			signs[i] = slot.Lower.ASCII()
		}
	}
	return signs
}

// thirdsIn returns the thirds that can be played in a bar in the line's position,
// over each of its chords those of the scale in force.
func thirdsIn(s *score.Score, index int) []Choice {
	bar, slot := s.Bars[index], slotTicks(s, index)
	choices := []Choice{}
	for _, span := range bar.Chords {
		if span.None {
			continue
		}
		from, to, ok := s.Neck.Compass(span.Scale, s.Position)
		for staff := from.Staff(); ok && staff <= to.Staff(); staff++ {
			third := span.Scale.Third(staff)
			pairs, err := s.Neck.Finger([]theory.Third{third}, s.Position)
			if err != nil {
				continue // out of reach
			}
			choices = append(choices, Choice{
				From: (span.Tick - bar.Tick) / slot, To: (span.Tick + span.Length - bar.Tick) / slot,
				Lower: kit.NoteAt(third.Lower, pairs[0].Lower), Upper: kit.NoteAt(third.Upper, pairs[0].Upper),
			})
		}
	}
	return choices
}
