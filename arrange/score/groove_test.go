package score_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// ticksOf returns where the sounds of a groove are played, from a tick up to another.
func ticksOf(p *score.Performance, from, to int, sounds ...score.Percussion) []int {
	var ticks []int
	for _, stroke := range p.Percussion {
		if stroke.Tick >= from && stroke.Tick < to && slices.Contains(sounds, stroke.Sound) {
			ticks = append(ticks, stroke.Tick-from)
		}
	}
	return ticks
}

const shaking = "title: Rattle\nkey: C major\nchart: '| C | Am | F | G |'\ngroove: shaker\n"

// A shaker goes forth on each beat and back between them, swung with the feel (common
// practice), and is exactly on the grid: bars and passes differ in strength alone.
func TestAShakerIsOnTheGrid(t *testing.T) {
	for feel, back := range map[string][]int{
		"straight": {240, 720, 1200, 1680},
		"swing":    {320, 800, 1280, 1760},
	} {
		p := arrangetest.Score(t, shaking+"feel: "+feel+"\n").Perform(80)
		velocities := map[int]bool{}
		for _, bar := range p.Bars[:len(p.Bars)-1] {
			assert.Equal(t, []int{0, 480, 960, 1440}, ticksOf(p, bar.Tick, bar.Tick+1920, score.ShakeForth), feel)
			assert.Equal(t, back, ticksOf(p, bar.Tick, bar.Tick+1920, score.ShakeBack), feel)
		}
		for _, stroke := range p.Percussion {
			velocities[stroke.Velocity] = true
			if in := stroke.Tick % 1920; in == 480 || in == 1440 {
				assert.InDelta(t, 88, stroke.Velocity, 5, "two and four are stronger")
			}
		}
		assert.Greater(t, len(velocities), 8, "no two strokes are quite alike")
		assert.Equal(t, p, arrangetest.Score(t, shaking+"feel: "+feel+"\n").Perform(80))
	}
}

// Brushes sweep on one and three of four and tap on two and four (common practice).
func TestBrushesSweepAndTap(t *testing.T) {
	p := arrangetest.Score(t, "title: Broom\nkey: C major\nchart: '| C | Am | F | G |'\ngroove: brush\nfeel: swing\n").Loop(80)
	assert.Equal(t, []int{0, 960}, ticksOf(p, 1920, 2*1920, score.Sweep))
	assert.Equal(t, []int{480, 800, 1440, 1760}, ticksOf(p, 1920, 2*1920, score.Tap))
}

// In every meter each beat has a stroke, and the bar fits its line.
func TestAGroovePlaysInEveryMeter(t *testing.T) {
	for _, m := range meter.Meters() {
		for _, groove := range []string{"shaker", "brush"} {
			s := arrangetest.Score(t, "title: Rattle\nkey: C major\nchart: '| C | F |'\nline: {grid: eighths}\nmeter: "+m.String()+"\ngroove: "+groove+"\n")
			p := s.Loop(80)
			all := ticksOf(p, 0, m.Bar(), score.ShakeForth, score.ShakeBack, score.Sweep, score.Tap)
			assert.Subset(t, all, m.BeatStarts(), "%s in %s", groove, m)
			assert.True(t, slices.IsSorted(all), "%s in %s", groove, m)
			assert.Equal(t, all, ticksOf(p, m.Bar(), 2*m.Bar(), score.ShakeForth, score.ShakeBack, score.Sweep, score.Tap))
			assert.Equal(t, groove, s.Groove[0].Sound.Instrument())
		}
	}
}

// The groove has the last chord's first stroke as its last, is silent in a pickup, and
// stays in the turns and the climb.
func TestTheGrooveBeginsAndEnds(t *testing.T) {
	s := arrangetest.Score(t, shaking+"passes: 2\nclimb: 10\ntempos: [60, 80]\n")
	p := s.Perform(60)
	last := p.Bars[len(p.Bars)-1].Tick
	assert.Equal(t, last, p.Percussion[len(p.Percussion)-1].Tick)
	assert.Equal(t, p.Bars[0].Tick, p.Percussion[0].Tick)
	assert.Equal(t, p.Percussion, p.Turns(1).Percussion)
	climb := s.Climbing()
	for _, tick := range climb.CountIns {
		assert.Empty(t, ticksOf(climb, tick, tick+1920, score.ShakeForth, score.ShakeBack), "a bar of click leads in")
	}
	assert.Greater(t, len(climb.Percussion), 3*3*8)

	s = arrangetest.Score(t, "title: Rattle\nkey: C major\nchart: '[pickup] N.C. / / G7 | C | F | G | C |'\ngroove: shaker\n")
	p = s.Perform(60)
	require.Equal(t, 0, p.Bars[0].Index)
	assert.Equal(t, p.Bars[1].Tick, p.Percussion[0].Tick)
}

// With click: count-in the click is heard before the music alone: in the count-in, a
// pickup, and the bars that lead into each tempo of a climb.
func TestTheClickEndsWithTheCountIn(t *testing.T) {
	const ends = "click: count-in\ntempos: [60, 80]\nclimb: 10\n"
	ticks := func(p *score.Performance) (ticks []int) {
		for _, c := range p.Click {
			ticks = append(ticks, c.Tick)
		}
		return ticks
	}
	s := arrangetest.Score(t, shaking+ends)
	p := s.Perform(60)
	assert.Equal(t, []int{1920, 2400, 2880, 3360}, ticks(p))
	assert.Equal(t, 3840, p.Bars[0].Tick)
	assert.Empty(t, s.Loop(60).Click)
	climb := s.Climbing()
	require.Len(t, climb.CountIns, 3)
	assert.Len(t, climb.Click, 3*4)
	s = arrangetest.Score(t, "title: Rattle\nkey: C major\nchart: '[pickup] N.C. / / G7 | C | F |'\n"+ends)
	p = s.Perform(60)
	assert.Len(t, p.Click, 2*4)
	assert.Equal(t, p.Bars[1].Tick-480, p.Click[len(p.Click)-1].Tick)

	// Otherwise it goes on to the end.
	p = arrangetest.Score(t, shaking).Perform(60)
	assert.Equal(t, p.Length-480, p.Click[len(p.Click)-1].Tick)
	assert.Len(t, p.Click, 4*(1+2*4))
}
