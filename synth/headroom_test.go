package synth

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/score"
	"thirdwise/synth/clips"
	"thirdwise/synth/desk"
	"thirdwise/synth/room"
)

// The peak that is found where it can be is the peak of the whole track, and the
// bound of each span holds.
func TestPeakIsThatOfTheWholeTrack(t *testing.T) {
	for _, loop := range []bool{false, true} {
		track := Track{Performance: playAlong(2, 100), Mix: score.Full, Loop: loop}
		notes := newCache(44100, NewClips())
		r := newRoll(track, notes)
		around := &room.Small
		s := &recording{
			ctx: t.Context(), space: around, cache: notes, gain: 1,
			stretches:  sync.Pool{New: func() any { return new(stretch) }},
			renditions: []*rendition{{roll: r, mixes: []score.Mix{score.Full}}},
		}
		dry := desk.New(score.Full, nil, 44100)
		count := r.frames / clips.Span
		var bounds desk.Samples
		for _, p := range dry.Parts() {
			bounds[p] = make([]float32, count)
			r.bound(bounds[p], p, 0)
		}
		for span := range count {
			peak := new(stretch).peak(dry, 0, r, span*clips.Span, (span+1)*clips.Span, 0)
			// Around a span the filter sees a few samples of its neighbours.
			bound := dry.Bound(&bounds, span)
			if span > 0 && span < count-1 {
				bound = max(bound, dry.Bound(&bounds, span-1), dry.Bound(&bounds, span+1))
			}
			assert.LessOrEqual(t, peak, bound*1.0001, "span %d, loop %v", span, loop)
		}
		highest := new(stretch).peak(desk.New(score.Full, around, 44100), s.reach(), r, 0, r.frames, 0)
		// What sounds long before is still in the room, by a ten-thousandth.
		assert.InEpsilon(t, highest, s.peak(highest/2), 1e-3)
		assert.Equal(t, 2*highest, s.peak(2*highest))
	}
}
