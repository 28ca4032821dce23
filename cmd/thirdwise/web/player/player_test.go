package player_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/web/player"
)

var all = []score.Part{score.Click, score.Chords, score.GuideUpper, score.GuideLower, score.Bass}

// A page holds its score as JSON; what is played of it is what is played of the
// score itself, for every exercise.
func TestScoresSurviveJSON(t *testing.T) {
	for name, s := range arrangetest.Scores(t) {
		text, err := json.Marshal(s)
		require.NoError(t, err)
		var read score.Score
		require.NoError(t, json.Unmarshal(text, &read))
		for _, ends := range []bool{false, true} {
			assert.Equal(t, player.Once(s, 77, ends), player.Once(&read, 77, ends), name)
		}
		assert.Equal(t, s.Perform(90), read.Perform(90), name)
	}
}

// Each bar has the same frames, and the same samples, whatever was played before.
func TestBarsDoNotDependOnEachOther(t *testing.T) {
	s := arrangetest.Named(t, "porch-light")
	played := func(p *player.Player) (samples []float32) {
		b, err := p.Bar(2, 90, false, all)
		require.NoError(t, err)
		for blocks := b.Read(4096); blocks != nil; blocks = b.Read(4096) {
			for _, block := range blocks {
				samples = append(samples, block...)
			}
		}
		return samples
	}
	p := player.New(s, 44100, -10)
	first := played(p)
	require.Greater(t, len(first), 44100)
	for _, tempo := range []int{60, 90, 120, 200, 201, 90} {
		b, err := p.Bar(1, tempo, true, all)
		require.NoError(t, err)
		for b.Read(8192) != nil {
		}
	}
	assert.Equal(t, first, played(p))
	assert.Equal(t, first, played(player.New(s, 44100, -10)))
}

func TestBarsOutsideTheScoreAreRefused(t *testing.T) {
	p := player.New(arrangetest.Named(t, "porch-light"), 44100, -10)
	for _, bar := range []int{-1, 8} {
		_, err := p.Bar(bar, 90, false, all)
		assert.Error(t, err)
	}
}

func BenchmarkBar(b *testing.B) {
	s := arrangetest.Named(b, "harbour-ladder")
	frames := 0
	for b.Loop() {
		p := player.New(s, 44100, -10)
		for i := range s.Bars {
			bar, err := p.Bar(i, 100, false, all)
			if err != nil {
				b.Fatal(err)
			}
			for bar.Read(4096) != nil {
			}
		}
		frames += player.Once(s, 100, false).Sample(s.Length(), 44100)
	}
	b.ReportMetric(float64(frames)/44100/b.Elapsed().Seconds(), "×real")
}
