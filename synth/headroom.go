package synth

import (
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth/clips"
	"thirdwise/synth/loudness"
)

// segmentSpans is for how many spans bounds are worked out at a time: about
// twelve seconds.
const segmentSpans = 2048

// peak returns the largest true peak of all tracks that are on no tape, at a gain of 1,
// where it passes floor, otherwise floor.
func (s *recording) peak(floor float32) float32 {
	type segment struct {
		of   *rendition
		from int
	}
	var segments []segment
	for _, r := range s.renditions {
		if r.tapes != nil {
			continue
		}
		for from := 0; from < r.frames; from += segmentSpans * clips.Span {
			segments = append(segments, segment{r, from})
		}
	}
	peaks := make([]float32, len(segments))
	concurrently(len(segments), func(i int) {
		if s.ctx.Err() == nil {
			peaks[i] = s.segmentPeak(segments[i].of, segments[i].from, floor)
		}
	})
	return slices.Max(append(peaks, floor))
}

// segmentPeak returns the largest true peak of a rendition's tracks in the segment
// from a frame on where it passes floor, otherwise floor.
//
// Only those stretches are mixed whose notes could reach the floor if their peaks
// fell together; most do not.
func (s *recording) segmentPeak(r *rendition, from int, floor float32) float32 {
	last := min(segmentSpans, (r.frames-from+clips.Span-1)/clips.Span)
	var bounds [len(seats)][]float32
	for _, p := range needs(r.mixes) {
		bounds[p] = make([]float32, echoSpans+last)
		r.bound(bounds[p], p, from-echoSpans*clips.Span)
	}
	var loud stretch
	for _, m := range r.mixes {
		dry := newDesk(m, nil, s.cache.rate)
		spans := make([]float32, echoSpans+last)
		for i := range spans {
			spans[i] = dry.bound(&bounds, i)
		}
		// echo returns what the room adds at most to some spans, as far as it can be
		// told without listening to it.
		echo := func(first, end int) float32 {
			if s.space == nil {
				return 0
			}
			return roomShare * slices.Max(spans[first:end+echoSpans])
		}
		for span := 0; span < last; span++ {
			first := span
			for span < last && spans[echoSpans+span]+echo(span, span+1) > floor {
				span++
			}
			if span == first {
				continue
			}
			begin, end := from+first*clips.Span, from+span*clips.Span
			if loud.peak(dry, 0, r.roll, begin, end, 0)+echo(first, span) > floor {
				wet := newDesk(m, s.space, s.cache.rate)
				floor = loud.peak(wet, s.reach(), r.roll, begin, end, floor)
			}
		}
	}
	return floor
}

// What the room adds to a peak follows from what sounded before it: at most this
// share of the bound of the last tenth of a second. The share is three times what is
// heard of kits with much of it.
const (
	roomShare = 0.12
	echoSpans = 18
)

// A stretch is some frames of a mix. Its memory is used again for the next.
type stretch struct {
	parts       sheaf
	left, right []float32
}

// peak returns the true peak of the mix from one frame up to another where it
// passes floor, otherwise floor. What sounds some frames before is still in the room.
func (s *stretch) peak(d *desk, reach int, r *roll, from, to int, floor float32) float32 {
	const margin = loudness.Reach
	frames := reach + to - from + 2*margin
	s.parts.fill(r, d.parts(), from-margin-reach, frames)
	s.left, s.right = resized(s.left, frames), resized(s.right, frames)
	d.mix(s.left, s.right, &s.parts.parts)
	return loudness.PeakAbove(s.left[reach:], s.right[reach:], floor)
}

// bound returns what no true peak of the mix passes in a span, given the parts' own
// bounds and the room left out.
func (d *desk) bound(parts *[len(seats)][]float32, span int) float32 {
	var left, right float32
	for _, s := range d.stems {
		for _, p := range s.parts {
			left += s.left[p] * parts[p][span]
			right += s.right[p] * parts[p][span]
		}
	}
	return max(left, right)
}

// bound fills spans, the first of which begins at a frame, with what no true peak
// of a part passes: the sum of its notes' own.
func (r *roll) bound(spans []float32, p score.Part, from int) {
	clear(spans)
	r.unroll(from, len(spans)*clips.Span, func(from, at, frames int) {
		r.sounding(p, from, frames, func(e event) {
			sound := r.cache.sound(e.sound)
			last := min(e.release+len(r.cache.touch), len(sound.Samples))
			addCrest(spans, sound.Crest()[:(last+clips.Span-1)/clips.Span], at+e.start-from, e.gain)
		})
	})
}

// addCrest adds a clip's crest times a gain to spans; the clip begins at a frame,
// which may lie outside and within a span. A span counts wherever it reaches.
func addCrest(spans, crest []float32, at int, gain float32) {
	first, within := at/clips.Span, at%clips.Span != 0
	if at < 0 {
		first, within = -((-at + clips.Span - 1) / clips.Span), true
	}
	var before float32
	for i := range len(crest) + 1 {
		var now float32
		if i < len(crest) {
			now = crest[i]
		}
		if k := first + i; k >= 0 && k < len(spans) {
			if within {
				spans[k] += gain * max(before, now)
			} else {
				spans[k] += gain * now
			}
		}
		before = now
	}
}
