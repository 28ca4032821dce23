package synth

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/score"
)

// The peak that is found where it can be is the peak of the whole track, and the
// bound of each span holds.
func TestPeakIsThatOfTheWholeTrack(t *testing.T) {
	for _, loop := range []bool{false, true} {
		track := Track{Performance: playAlong(2, 100), Mix: score.Full, Loop: loop}
		clips := newCache(44100)
		r := newRoll(track, clips)
		d := newDesk(score.Full, &smallRoom, 1, 44100)
		lead := d.reach/crestSpan + 2
		count := r.frames / crestSpan
		var bounds [len(seats)][]float32
		for _, p := range d.parts {
			bounds[p] = make([]float32, lead+count)
			r.bound(bounds[p], p, -lead*crestSpan)
		}
		highest := new(stretch).peak(d, r, 0, r.frames, 0)
		found := float32(0)
		for span := range count {
			peak := new(stretch).peak(d, r, span*crestSpan, (span+1)*crestSpan, 0)
			// Around a span the filter sees a few samples of its neighbours.
			bound := d.bound(&bounds, lead+span)
			if span > 0 && span < count-1 {
				bound = max(bound, d.bound(&bounds, lead+span-1), d.bound(&bounds, lead+span+1))
			}
			assert.LessOrEqual(t, peak, bound*1.0001, "span %d, loop %v", span, loop)
			found = max(found, peak)
		}
		assert.InEpsilon(t, highest, found, 1e-4)

		s := &recording{
			ctx: t.Context(), space: &smallRoom, cache: clips, gain: 1,
			renditions: []*rendition{{roll: r, mixes: []score.Mix{score.Full}}},
		}
		assert.InEpsilon(t, highest, s.peak(highest/2), 1e-4)
		assert.Equal(t, 2*highest, s.peak(2*highest))
	}
}
