package arrange

import (
	"fmt"
	"slices"
	"strings"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
	"thirdwise/theory/remedy"
)

// Limits of a ladder.
const (
	// Counted from the nut. Beyond it the body of many guitars is in the hand's way (a
	// neck that joins it at fret 14 has a fret more within reach), and what a student
	// learns there lies an octave lower too.
	highestFret = 15
	easiest     = 2 // the effort up to which a third asks no finger to leave the position
	fewest      = 3 // thirds without which there is no ladder
)

// Laid returns an exercise with the chart and the line of its ladder written out:
// the thirds of the key from the tonic's up to the highest in reach, down to the lowest,
// and home, the last one held. An exercise with a chart comes back as it is.
func Laid(e *exercise.Exercise) (*exercise.Exercise, error) {
	if e.Ladder.Along == exercise.NoLadder {
		return e, nil
	}
	laid := *e
	laid.Position = ladderPosition(e)
	up := rungsOf(&laid)
	if len(up) < fewest {
		return nil, source.Findings{e.Finding(source.Mistake, e.Ladder.At,
			fmt.Sprintf("a ladder of %s has only %d thirds here", e.Key, len(up)), remedy.Say("choose other strings, or another position"))}
	}
	laid.Chart, laid.Line.Own = layOut(&laid, roundFrom(e.Key.Tonic, up))
	return &laid, nil
}

// roundFrom returns thirds that rise in the order in which scales are practised: from the
// lowest on the tonic up to the highest, down to the lowest of all, and home (common
// practice). Without one on the tonic they begin and end with the lowest.
func roundFrom(tonic theory.Tone, up []theory.Third) []theory.Third {
	home := max(0, slices.IndexFunc(up, func(t theory.Third) bool { return t.Lower.Tone == tonic }))
	down := slices.Clone(up[:len(up)-1])
	slices.Reverse(down)
	return slices.Concat(up[home:], down, up[1:home+1])
}

// ladderPosition returns the position in which a ladder is played: the one asked for,
// the whole neck where it goes along that, or the first in which the key lies well.
func ladderPosition(e *exercise.Exercise) neck.Position {
	if e.Position != neck.Lowest {
		return e.Position
	}
	if e.Ladder.Along == exercise.AlongPosition {
		if well := e.Neck.Positions(e.Key); len(well) > 0 {
			return well[0].Position
		}
		return neck.Open
	}
	return neck.Free
}

// rungsOf returns the thirds of a ladder from the lowest up.
func rungsOf(e *exercise.Exercise) []theory.Third {
	var thirds []theory.Third
	for _, pattern := range e.Neck.Map(e.Key, e.Position) {
		if e.Ladder.Along == exercise.AlongStrings && pattern.Upper != e.Ladder.Upper {
			continue
		}
		for _, t := range pattern.Thirds {
			if t.Effort <= easiest && max(t.Pair.Lower.Fret, t.Pair.Upper.Fret) <= topOfLadder(e.Neck) && t.IsThird() && inCompass(e, t.Third) {
				thirds = append(thirds, t.Third)
			}
		}
	}
	slices.SortFunc(thirds, func(a, b theory.Third) int { return a.Staff() - b.Staff() })
	return slices.Compact(thirds)
}

// holes tells which thirds a ladder leaves out on its way because the hand would have to
// leave its place for them.
func (a *arranger) holes() source.Findings {
	if a.Ladder.Along == exercise.NoLadder {
		return nil
	}
	rungs, scale := rungsOf(a.Exercise), a.Key.Scale()
	var lacking []string
	for i, t := range rungs[1:] {
		for staff := rungs[i].Staff() + 1; staff < t.Staff(); staff++ {
			lacking = append(lacking, scale.Third(staff).String())
		}
	}
	if len(lacking) == 0 {
		return nil
	}
	return source.Findings{a.Finding(source.Note, a.Ladder.At,
		fmt.Sprintf("the ladder leaves out %s, out of the hand's reach in %s", strings.Join(lacking, ", "), a.Position.Name()),
		remedy.Say("ask for another position, or write ladder: free"))}
}

// topOfLadder returns the highest fret that a ladder uses, counted from the capo.
func topOfLadder(n neck.Neck) int { return highestFret - n.Capo }

// layOut writes thirds out as a chart and a line: in the written rhythm, in the slots
// of the grid, or one a beat.
func layOut(e *exercise.Exercise, thirds []theory.Third) ([]chart.Bar, map[int][]exercise.OwnSlot) {
	tonic, _ := e.Key.Triad(1)
	var bars []chart.Bar
	own := map[int][]exercise.OwnSlot{}
	for next := 0; next < len(thirds); {
		index := len(bars)
		bar := chart.Bar{At: e.Ladder.At.Pos}
		signs := ladderRhythm(e, index)
		slot := e.Meter.Bar() / len(signs)
		for i, sign := range signs {
			written := exercise.OwnSlot{Sign: sign, At: e.Ladder.At}
			switch {
			case sign == rhythm.Begin && next < len(thirds):
				third := thirds[next]
				next++
				written.Lower = &third.Lower
				if triad, ok := e.Key.Triad(e.Key.Degree(third.Lower.Letter)); ok && e.Ladder.Triads {
					bar.Chords = append(bar.Chords, chart.Chord{At: e.Ladder.At, Tick: i * slot, Chord: triad})
				}
			case next == len(thirds): // the last is held
				written.Sign = rhythm.Hold
			}
			own[index] = append(own[index], written)
		}
		if !e.Ladder.Triads || len(bar.Chords) == 0 {
			bar.Chords = []chart.Chord{{At: e.Ladder.At, Chord: tonic}}
		}
		bar.Chords[0].Tick = 0
		for i := range bar.Chords {
			end := e.Meter.Bar()
			if i+1 < len(bar.Chords) {
				end = bar.Chords[i+1].Tick
			}
			bar.Chords[i].Length = end - bar.Chords[i].Tick
		}
		bars = append(bars, bar)
	}
	return bars, own
}

// ladderRhythm returns the rhythm of a bar of a ladder.
func ladderRhythm(e *exercise.Exercise, bar int) []rhythm.Sign {
	if n := len(e.Line.Rhythm); n > 0 {
		return e.Line.Rhythm[bar%n]
	}
	slot, starts := e.Meter.Beat(), e.Meter.BeatStarts()
	switch {
	case e.Ladder.Grid:
		slot = e.Line.Grid.Ticks()
		starts = nil
		for tick := 0; tick < e.Meter.Bar(); tick += slot {
			starts = append(starts, tick)
		}
	case e.Meter.Uneven():
		slot = meter.Quarter / 2
	}
	signs := slices.Repeat([]rhythm.Sign{rhythm.Hold}, e.Meter.Bar()/slot)
	for _, tick := range starts {
		signs[tick/slot] = rhythm.Begin
	}
	return signs
}

// fingered returns the places of the line's thirds in a position: those of a ladder
// that goes along two strings on these, and of one over the whole neck no higher than a
// student goes.
func (a *arranger) fingered(thirds []theory.Third, rested []bool, p neck.Position) ([]neck.Pair, error) {
	last := a.Neck.LastFret()
	if a.Ladder.Along != exercise.NoLadder {
		last = topOfLadder(a.Neck)
	}
	pairs, err := a.Neck.FingerUpTo(thirds, rested, p, last)
	if err != nil || a.Ladder.Along != exercise.AlongStrings {
		return pairs, err
	}
	pattern := a.Neck.Map(a.Key, a.Position)[a.Ladder.Upper-1]
	for i, third := range thirds {
		for _, t := range pattern.Thirds {
			if t.Third == third {
				pairs[i] = t.Pair
			}
		}
	}
	return pairs, nil
}
