package synth

import (
	"bytes"
	"context"
	"slices"
	"testing"

	"github.com/go-audio/wav"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
)

// Passages of a bar each, added up where they overlap, are the samples of the
// part's own track, in blocks of any length.
func TestPassagesAddUpToTheirPart(t *testing.T) {
	const (
		bars = 2
		rate = 44100
		bar  = 4 * 480
	)
	p := playAlong(bars, 100)
	for i := range bars + 1 {
		p.Bars = append(p.Bars, score.PlayedBar{Tick: i * bar})
	}
	for i := range p.Notes {
		n := &p.Notes[i]
		n.Bar = n.Tick / bar
		if n.Tick%bar == 0 { // begun before the bar
			n.Tick, n.Length = n.Tick-20, n.Length+20
			n.Yield = 20
		}
	}
	for part, mix := range map[score.Part]score.Mix{
		score.Click: score.ClickAlone, score.Chords: score.ChordsAlone, score.GuideUpper: score.GuideUpperAlone,
	} {
		var file bytes.Buffer
		results, err := Render(context.Background(), []Track{{Performance: p, Mix: mix, Out: &file}},
			Options{Format: audiofile.Format{Rate: rate, Depth: 24}})
		require.NoError(t, err)
		samples, err := wav.NewDecoder(bytes.NewReader(file.Bytes())).FullPCMBuffer()
		require.NoError(t, err)
		parts, err := NewParts(p, false, rate, results[0].Gain, NewPageClips())
		require.NoError(t, err)
		left, right := make([]float64, results[0].Frames), make([]float64, results[0].Frames)
		for i := range bars + 1 {
			passage, err := parts.Passage(part, i, bar)
			require.NoError(t, err)
			at := p.Sample(i*bar, rate) - Lead
			l, r := make([]float32, 700+i), make([]float32, 700+i)
			for passage.Read(l, r) {
				for j := range l {
					if at+j >= 0 && at+j < len(left) {
						left[at+j] += float64(l[j])
						right[at+j] += float64(r[j])
					}
				}
				at += len(l)
			}
		}
		for i := range left {
			// Two steps of 24 bits for rounding and for sums in another order.
			require.InDelta(t, float64(samples.Data[2*i]), left[i]*(1<<23), 4, "%s at %d", mix, i)
			require.InDelta(t, float64(samples.Data[2*i+1]), right[i]*(1<<23), 4, "%s at %d", mix, i)
		}
	}
}

// A passage ends once its last note and the room have died away, and not before.
func TestPassagesEnd(t *testing.T) {
	p := playAlong(1, 120)
	p.Bars = []score.PlayedBar{{Tick: 0}}
	parts, err := NewParts(p, false, 48000, 0, NewPageClips())
	require.NoError(t, err)
	passage, err := parts.Passage(score.Click, 0, 480) // a stroke of the count-in
	require.NoError(t, err)
	left, right := make([]float32, 512), make([]float32, 512)
	frames, loudest := 0, float32(0)
	for passage.Read(left, right) {
		frames += len(left)
		loudest = max(slices.Max(left), slices.Max(right))
		require.Less(t, frames, 48000)
	}
	assert.Greater(t, frames, 48000/20)
	assert.Less(t, loudest, float32(1e-3))
	_, err = NewParts(p, false, 22050, 0, NewPageClips())
	assert.Error(t, err)
}
