package synth

import (
	"context"
	"fmt"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/soundtest"
	"thirdwise/theory/meter"
)

// frameOf is the sample on which a tick falls, by exact arithmetic.
func frameOf(tick, quarterMicros, rate int) int {
	exact := big.NewRat(int64(tick)*int64(quarterMicros)*int64(rate), meter.Quarter*1_000_000)
	exact.Add(exact, big.NewRat(1, 2))
	return int(new(big.Int).Div(exact.Num(), exact.Denom()).Int64())
}

func TestTrackIsAsLongAsItsPerformanceAndTail(t *testing.T) {
	tracks := practice()
	p := tracks[0].Performance
	for _, rate := range []int{44100, 48000} {
		want := frameOf(p.Length, p.Tempos[0].QuarterMicros, rate)
		assert.Equal(t, want+rate/2, tracks[0].frames(rate))
		loop := Track{Performance: p, Loop: true}
		assert.Equal(t, want, loop.frames(rate))
	}
	for _, r := range recordedPractice(t) {
		assert.Len(t, r.left, r.result.Frames)
		assert.Equal(t, tracks[0].frames(44100), r.result.Frames)
	}
}

// A track made longer by a note that outlasts the performance.
func TestTrackWaitsForItsLastNote(t *testing.T) {
	p := playAlong(1, 100)
	last := &p.Notes[len(p.Notes)-1]
	last.Length = p.Length - last.Tick + meter.Quarter
	want := frameOf(p.Length+meter.Quarter, p.Tempos[0].QuarterMicros, 44100) + 22050
	assert.Equal(t, want, Track{Performance: p}.frames(44100))
}

func TestClickBeginsOnItsSample(t *testing.T) {
	for _, rate := range []int{44100, 48000} {
		p := playAlong(3, 97)
		click := record(t, rate, Track{Performance: p, Mix: score.ClickAlone})[0]
		for _, c := range p.Click {
			at := frameOf(c.Tick, p.Tempos[0].QuarterMicros, rate)
			before := 0
			if at > 0 {
				before = click.left[at-1]
			}
			assert.InDelta(t, 0, before, 200, "before tick %d", c.Tick) // −92 dBFS
			assert.InDelta(t, 0, click.left[at], 200, "on tick %d", c.Tick)
			assert.Greater(t, magnitudeOf(click.left[at:at+8]), 10_000, "from tick %d on", c.Tick)
		}
	}
}

func magnitudeOf(samples []int) int {
	largest := 0
	for _, x := range samples {
		largest = max(largest, x, -x)
	}
	return largest
}

// Every note of the guide, alone, begins on its sample: it is silent before and
// sounds within half a millisecond.
func TestNoteBeginsOnItsSample(t *testing.T) {
	notes := newCache(44100, NewClips())
	for _, part := range []score.Part{score.Chords, score.GuideUpper, score.Bass} {
		for _, n := range playAlong(2, 97).Notes {
			if n.Part != part {
				continue
			}
			p := &score.Performance{
				Tempos: []score.TempoChange{{QuarterMicros: 618_557}},
				Length: n.Tick + n.Length,
				Notes:  []score.Note{n},
			}
			r := newRoll(Track{Performance: p}, notes)
			start := frameOf(n.Tick, 618_557, 44100)
			var heard [64]float32
			r.mix(heard[:], part, start-32)
			for _, x := range heard[:32] {
				assert.Zero(t, x)
			}
			assert.InDelta(t, 0, heard[32], 1e-3)
			assert.Greater(t, soundtest.Magnitude(heard[32:54]), float32(5e-3))
		}
	}
}

func TestTempoChangeMovesNotes(t *testing.T) {
	p := &score.Performance{
		Tempos: []score.TempoChange{{QuarterMicros: 1_000_000}, {Tick: 960, QuarterMicros: 500_000}},
		Length: 1920,
	}
	for _, tick := range []int{0, 480, 960, 1440} {
		p.Click = append(p.Click, score.ClickStroke{Tick: tick, Velocity: 100})
	}
	r := newRoll(Track{Performance: p}, newCache(48000, NewClips()))
	var starts []int
	for _, e := range r.parts[score.Click].events {
		starts = append(starts, e.start)
	}
	assert.Equal(t, []int{0, 48000, 96000, 120000}, starts)
	assert.Equal(t, 144000+24000, r.frames)
}

// Each click of two hours falls on its exact sample, in a stream that ends on
// its own.
func TestTwoHoursStayOnTheSample(t *testing.T) {
	const micros, hours = 618_557, 2 // 97 beats a minute
	beats := hours * 3600 * 1_000_000 / micros
	p := &score.Performance{
		Tempos: []score.TempoChange{{QuarterMicros: micros}},
		Length: beats * meter.Quarter,
	}
	for beat := range beats {
		p.Click = append(p.Click, score.ClickStroke{Tick: beat * meter.Quarter, Velocity: 100})
	}
	notes := newCache(44100, NewClips())
	r := newRoll(Track{Performance: p}, notes)
	require.Equal(t, frameOf(p.Length, micros, 44100)+22050, r.frames)

	ctx, cancel := context.WithCancelCause(t.Context())
	defer cancel(nil)
	s := &recording{ctx: ctx, fail: cancel, cache: notes, gain: 1}
	counted := clickCounter{micros: micros, silent: 1 << 20}
	s.play(r, []score.Mix{score.ClickAlone}, []audiofile.Writer{&counted})
	require.NoError(t, context.Cause(ctx))
	assert.Equal(t, r.frames, counted.frames)
	assert.Equal(t, beats, counted.clicks)
}

// A clickCounter counts clicks a beat apart, which begin from zero on their samples.
type clickCounter struct {
	micros int // a quarter
	frames int // so far
	clicks int // so far
	silent int // frames before the one at hand
}

func (c *clickCounter) Write(left, _ []float32) error {
	for i, x := range left {
		if x == 0 {
			c.silent++
			continue
		}
		if c.silent > 1000 {
			begins := frameOf(c.clicks*meter.Quarter, c.micros, 44100)
			if d := c.frames + i - begins; d < 0 || d > 1 {
				return fmt.Errorf("click %d begins %d samples late", c.clicks, d)
			}
			c.clicks++
		}
		c.silent = 0
	}
	c.frames += len(left)
	return nil
}
