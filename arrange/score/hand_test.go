package score_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// stroke is the notes of the chords part that one stroke is made of.
type stroke []score.Note

// strokesOf gathers notes that follow each other within 30 ms.
func strokesOf(p *score.Performance) []stroke {
	var strokes []stroke
	last := -1_000_000
	for _, n := range notesOf(p, score.Chords) {
		at := p.Sample(n.Tick, 1_000_000)
		if at-last > 30_000 {
			strokes = append(strokes, nil)
		}
		strokes[len(strokes)-1] = append(strokes[len(strokes)-1], n)
		last = at
	}
	return strokes
}

func strummed(t *testing.T, tempo int) *score.Performance {
	return arrangetest.Score(t, fmt.Sprintf(
		"title: Hands\nkey: G major\nchart: '| G | Em | C | D |'\npasses: 4\ntempos: [%d]\nstrum: D D D D\n", tempo)).Perform(tempo)
}

// A stroke takes 25 to 60 ms at any tempo, and the beat falls after a third of it: it
// sounds on the click.
func TestStrumsTakeTheSameTimeAtAnyTempo(t *testing.T) {
	for _, tempo := range []int{20, 40, 60, 100, 200, 400} {
		p := strummed(t, tempo)
		tick := float64(p.Tempos[1].QuarterMicros) / meter.Quarter / 1000 // ms
		for _, s := range strokesOf(p) {
			first, last := s[0], s[len(s)-1]
			spread := float64(last.Tick-first.Tick) * tick
			assert.GreaterOrEqual(t, spread+tick, 25.0, "at %d", tempo)
			assert.LessOrEqual(t, spread-tick, 60.0, "at %d", tempo)
			// The nearest beat.
			beat := (first.Tick + 240) / 480 * 480
			assert.InDelta(t, float64(beat-first.Tick)*tick, spread/3, 3.1+1.5*tick, "at %d", tempo)
		}
	}
}

// Nothing is played twice in the same way, and what is played is the same each time that
// it is asked for.
func TestHandsDoNothingTwice(t *testing.T) {
	p := strummed(t, 100)
	assert.Equal(t, p, strummed(t, 100))
	strokes := strokesOf(p)
	require.Len(t, strokes, 3*16+4*3+1)
	missed, alike := 0, 0
	for i, s := range strokes[:48-16] {
		later := strokes[i+16]
		if len(s) != len(later) {
			missed++
			continue
		}
		same := true
		for j := range s {
			same = same && s[j].Velocity == later[j].Velocity
		}
		if same {
			alike++
		}
	}
	assert.Positive(t, missed, "now and then a string is missed")
	assert.Less(t, missed, 10)
	assert.Less(t, alike, 3)
}

// Two and four are stronger than one and three (common practice).
func TestTwoAndFourAreAccented(t *testing.T) {
	sums, counts := [4]int{}, [4]int{}
	for _, s := range strokesOf(strummed(t, 100)) {
		beat := (s[0].Tick + 240) / 480 % 4
		for _, n := range s {
			sums[beat] += n.Velocity
			counts[beat]++
		}
	}
	mean := func(beat int) float64 { return float64(sums[beat]) / float64(counts[beat]) }
	assert.Greater(t, mean(1), mean(2)+5)
	assert.Greater(t, mean(3), mean(2)+5)
}

// The guide and the click are to be played with: each of their notes is on its tick.
func TestGuideAndClickAreExactlyOnTime(t *testing.T) {
	for name, s := range arrangetest.Scores(t) {
		p := s.Perform(s.Tempo())
		for _, n := range p.Notes {
			if n.Part != score.GuideUpper && n.Part != score.GuideLower {
				continue
			}
			bar := p.Bars[n.Bar]
			written := s.Bars[bar.Index].Tick
			on := false
			for _, third := range s.Line {
				start := bar.Tick - written
				on = on || n.Tick == start+s.Feel.Played(third.Tick)
			}
			assert.True(t, on, "%s, tick %d", name, n.Tick)
		}
		for _, c := range p.Click {
			assert.Zero(t, (c.Tick-p.CountIns[0])%s.Meter.UnitTicks(), name)
		}
	}
}

// A string that sounds the note with which a third arrives steps back behind it.
func TestChordsMakeRoomForTheGuide(t *testing.T) {
	s := arrangetest.Score(t, "title: Room\nkey: C major\nchart: '| C | G |'\nguitar:\n  position: open\nstrum: D\nline:\n  density: 0%\n")
	p := s.Perform(100)
	guide := map[int]int{} // MIDI key to velocity, by bar
	for _, n := range notesOf(p, score.GuideUpper) {
		guide[n.Bar*1000+n.Pitch.MIDI()] = n.Velocity
	}
	for _, n := range notesOf(p, score.GuideLower) {
		guide[n.Bar*1000+n.Pitch.MIDI()] = n.Velocity
	}
	met := 0
	for _, n := range notesOf(p, score.Chords) {
		if loud, ok := guide[n.Bar*1000+n.Pitch.MIDI()]; ok {
			met++
			assert.Less(t, n.Velocity*3, loud*2)
		}
	}
	assert.Positive(t, met)
}
