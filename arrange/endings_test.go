package arrange_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// backStairs has a pickup, two endings and a bar after them.
const backStairs = "title: Back Stairs\nkey: G major\nchart: '[pickup] N.C. / / D7 |: G | C |1. D7 :|2. D7 / G / | Em |'\ntempos: [60, 70]\nclimb: 10\nguitar: {position: 1}\n"

// numbers returns the bars of a performance as the page numbers them.
func numbers(s *score.Score, p *score.Performance) []int {
	var played []int
	for _, bar := range p.Bars {
		played = append(played, s.Bars[bar.Index].Number)
	}
	return played
}

// Common practice: a pickup is bar 0, and a repeat of the chart goes back to bar 1.
func TestAPickupIsNumberedZeroAndHeardOnce(t *testing.T) {
	s := arrangetest.Score(t, backStairs)
	once := []int{1, 2, 3, 1, 2, 4, 5}
	assert.Equal(t, append(append([]int{0}, once...), once...), numbers(s, s.Perform(60)))
	assert.Equal(t, append(append([]int{0}, once...), once...), numbers(s, s.Climbing()))
	assert.Equal(t, once, numbers(s, s.Loop(60)))
	bar := s.Meter.Bar()
	assert.Equal(t, (1+1+1+2*7)*bar, s.Perform(60).Length, "silence, count-in, pickup, two passes")
	assert.Equal(t, 7*bar, s.Loop(60).Length)
	first := s.Perform(60).Notes[0]
	assert.InDelta(t, 2*bar+3*480, first.Tick, 15, "three beats of the pickup are silent")
	for _, n := range s.Loop(60).Notes {
		require.True(t, n.Tick >= 0 && n.Tick < 7*bar)
	}
}

// The guide of the second pass is that of the first from bar one on.
func TestPassesAfterAPickupAreAlike(t *testing.T) {
	s := arrangetest.Score(t, backStairs+"passes: 3\n")
	length := 7 * s.Meter.Bar()
	byPass := map[int]map[score.Note]bool{1: {}, 2: {}}
	for _, n := range s.Perform(60).Notes {
		pass := n.Pass
		n.Tick -= 3*s.Meter.Bar() + (pass-1)*length
		n.Pass, n.Bar, n.Velocity = 0, 0, 0
		if pass < 3 && n.Tick >= 0 && (n.Part == score.GuideUpper || n.Part == score.GuideLower) {
			byPass[pass][n] = true
		}
	}
	assert.NotEmpty(t, byPass[1])
	assert.Equal(t, byPass[1], byPass[2])
}

// Between passes the line leads from the end of the chart back to bar one, and not to
// the pickup: it goes there as it went from the pickup, by a step or within the chord.
func TestALineLeadsBackToTheBarBehindAPickup(t *testing.T) {
	for _, chart := range []string{
		"[pickup] N.C. / G7 / | C | F | G7 | C |",
		"[pickup] N.C. / / G7 | C | Am | F | G7 | Em | Am | Dm | G7 |",
		"[pickup] N.C. / G7 / |: C | F | Dm | G :| Am | G |",
		"[pickup] N.C. / G7 / | C | Am |: Dm | G :|",
		"[pickup] G7 | C | Am | G | F |",
	} {
		s := arrangetest.Score(t, "title: Round\nkey: C major\nchart: '"+chart+"'\nline: {density: 60%}\n")
		first := slices.IndexFunc(s.Line, func(third score.Third) bool { return third.Tick >= s.Meter.Bar() })
		last := s.Line[len(s.Line)-1]
		require.True(t, last.LeadsBack, chart)
		require.Equal(t, score.Arrival, s.Line[first].Role)
		away := s.Line[first].Notes.Staff() - last.Notes.Staff()
		assert.LessOrEqual(t, max(away, -away), 2, "%s: from %s to %s", chart, last.Notes, s.Line[first].Notes)
	}
	rests := arrangetest.Score(t, "title: Rests\nkey: C major\nchart: '[pickup] N.C. / G7 / | N.C. / G / | C |'\n")
	assert.False(t, rests.Line[len(rests.Line)-1].LeadsBack, "there is nothing to lead to")
}

// A last bar in which the teacher writes nothing but rests is silent each time.
func TestAWrittenRestInTheLastBarIsKept(t *testing.T) {
	s := arrangetest.Score(t, "title: Rest\nkey: C major\nchart: '| C | F | G | C |'\nline:\n  own:\n    4: '. . . . . . . .'\n")
	last := s.Line[len(s.Line)-1]
	assert.Equal(t, s.Bars[3].Tick, last.Tick+last.Length)
	assert.False(t, last.LeadsBack)
	p := s.Perform(60)
	for _, n := range p.Notes {
		if n.Part == score.GuideUpper {
			assert.NotEqual(t, 3, p.Bars[n.Bar].Index, "%+v", n)
		}
	}
}

func TestEndingsStandOnThePageAsTheChartWritesThem(t *testing.T) {
	s := arrangetest.Score(t, "title: Stairs\nkey: C major\nchart: '|: C | F |1.-2. G | Am :|3. C | Dm |'\nline: {density: 0%}\n")
	var times []string
	var repeats []int
	for _, bar := range s.WrittenBars() {
		ending := ""
		if bar.Ending != nil {
			ending = bar.Ending.String()
		}
		times, repeats = append(times, ending), append(repeats, bar.RepeatTimes)
	}
	assert.Equal(t, []string{"", "", "1. 2.", "1. 2.", "3.", "3."}, times)
	assert.Equal(t, []int{0, 0, 0, 3, 0, 0}, repeats)
	assert.True(t, s.WrittenBars()[0].RepeatOpens)
}

func TestANumeralIsShownAsTyped(t *testing.T) {
	s := arrangetest.Score(t, "title: Typed\nkey: C major\nchart: '| I7 | bVII | 6 | D7 |'\n")
	var numerals []string
	for _, bar := range s.Bars {
		numerals = append(numerals, bar.Chords[0].Numeral)
	}
	assert.Equal(t, []string{"I7", "♭VII", "vi", "V7/V"}, numerals)
}

// F♯3 lies between F3 and G3, whose lines and spaces are those of F♯ and G.
func TestTheCompassIsKeptToTheSemitone(t *testing.T) {
	s := arrangetest.Score(t, "title: Low\nkey: C major\nchart: '| F | Dm | F | Dm |'\nline: {low: F#3, density: 100%}\n")
	low := theory.Pitch{Tone: theory.Tone{Letter: theory.F, Alter: 1}, Octave: 3}
	for _, third := range s.Line {
		assert.GreaterOrEqual(t, third.Notes.Lower.MIDI(), low.MIDI())
	}
}

// Each time through a repeat has the same line, and each chord begins with its arrival,
// where an ending is a rest, where endings differ in length, and with sections inside.
func TestEachTimeThroughARepeatArrivesOnItsChords(t *testing.T) {
	for _, chart := range []string{
		"|: C | Am |1. Dm :|2. N.C. |",
		"|: C | Am |1. Dm :|2. N.C. | F | G |",
		"|: C | F | Am |1. N.C. :|2. F | G |",
		"|: C | Am |1. Dm | G | F | C | Dm | G :|2. F | C |",
		"|: [Verse] C | F | Am | G | [Bridge] F | G | Dm | C :| F | G |",
		"|: C | F | Am | G | F | C G :|",
		"|: C | Am :|",
	} {
		for _, density := range []string{"25%", "50%", "75%", "100%"} {
			s := arrangetest.Score(t, "title: Back Stairs\nkey: C major\npasses: 1\nline: {density: "+density+"}\nchart: '"+chart+"'\n")
			arrivals := map[string]theory.Third{} // by the bar as it is written, and the place in it
			for _, bar := range s.Bars {
				for _, c := range bar.Chords {
					i := slices.IndexFunc(s.Line, func(third score.Third) bool { return third.Tick == c.Tick })
					if c.None {
						require.Less(t, i, 0, chart)
						continue
					}
					require.GreaterOrEqual(t, i, 0, chart)
					third := s.Line[i]
					require.Equal(t, score.Arrival, third.Role, chart)
					place := fmt.Sprint(bar.Written, c.Tick-bar.Tick)
					if before, again := arrivals[place]; again {
						require.Equal(t, before, third.Notes, "%s at %s", chart, density)
					}
					arrivals[place] = third.Notes
				}
			}
		}
	}
}
