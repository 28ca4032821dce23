package synth

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/score"
	"thirdwise/synth/clips"
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
			renditions: []*rendition{{roll: r, mixes: []score.Mix{score.Full}}},
		}
		dry := newDesk(score.Full, nil, 44100)
		count := r.frames / clips.Span
		var bounds [len(seats)][]float32
		for _, p := range dry.parts() {
			bounds[p] = make([]float32, count)
			r.bound(bounds[p], p, 0)
		}
		for span := range count {
			peak := new(stretch).peak(dry, 0, r, span*clips.Span, (span+1)*clips.Span, 0)
			// Around a span the filter sees a few samples of its neighbours.
			bound := dry.bound(&bounds, span)
			if span > 0 && span < count-1 {
				bound = max(bound, dry.bound(&bounds, span-1), dry.bound(&bounds, span+1))
			}
			assert.LessOrEqual(t, peak, bound*1.0001, "span %d, loop %v", span, loop)
		}
		highest := new(stretch).peak(newDesk(score.Full, around, 44100), s.reach(), r, 0, r.frames, 0)
		// What sounds long before is still in the room, by a ten-thousandth.
		assert.InEpsilon(t, highest, s.peak(highest/2), 1e-3)
		assert.Equal(t, 2*highest, s.peak(2*highest))
	}
}
