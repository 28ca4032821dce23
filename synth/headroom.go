package synth

import (
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth/loudness"
)

// crestSpan is the frames for which a bound of the true peak is kept.
const crestSpan = 256

// segmentSpans is for how many spans bounds are worked out at a time: about
// twelve seconds.
const segmentSpans = 2048

// peak returns the largest true peak of all tracks where it passes floor, otherwise
// floor.
func (s *recording) peak(floor float32) float32 {
	type segment struct {
		of   *rendition
		from int
	}
	var segments []segment
	for _, r := range s.renditions {
		for from := 0; from < r.frames; from += segmentSpans * crestSpan {
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
	lead := s.space.reach(s.cache.rate)/crestSpan + 2 // spans before the segment that are still in the room
	last := min(segmentSpans, (r.frames-from+crestSpan-1)/crestSpan)
	var bounds [len(seats)][]float32
	for _, p := range needs(r.mixes) {
		bounds[p] = make([]float32, lead+last)
		r.bound(bounds[p], p, from-lead*crestSpan)
	}
	var loud stretch
	for _, m := range r.mixes {
		d := newDesk(m, s.space, s.gain, s.cache.rate)
		for span := 0; span < last; span++ {
			first := span
			for span < last && d.bound(&bounds, lead+span) > floor {
				span++
			}
			if span > first {
				floor = loud.peak(d, r.roll, from+first*crestSpan, from+span*crestSpan, floor)
			}
		}
	}
	return floor
}

// A stretch is some frames of a mix. Its memory is used again for the next.
type stretch struct {
	parts       block
	left, right []float32
}

// peak returns the true peak of the mix from one frame up to another where it
// passes floor, otherwise floor.
func (s *stretch) peak(d *desk, r *roll, from, to int, floor float32) float32 {
	const margin = loudness.Reach
	frames := d.reach + to - from + 2*margin
	s.parts.fill(r, d.parts, from-margin-d.reach, frames)
	s.left, s.right = resized(s.left, frames), resized(s.right, frames)
	d.mix(s.left, s.right, &s.parts.parts)
	left, right := s.left[d.reach:], s.right[d.reach:]
	return loudness.PeakAbove(left, right, floor)
}

// bound returns what no true peak of the mix passes in a span, given the parts'
// own bounds, which begin early enough for all that is still in the room.
func (d *desk) bound(parts *[len(seats)][]float32, span int) float32 {
	var left, right float32
	for _, p := range d.parts {
		left += d.left[p] * parts[p][span]
		right += d.right[p] * parts[p][span]
	}
	if d.reach == 0 {
		return max(left, right)
	}
	for i := range echoes {
		var sentLeft, sentRight float32
		leftAt, rightAt := span-d.delays[0][i]/crestSpan, span-d.delays[1][i]/crestSpan
		for _, p := range d.parts {
			sentLeft += max(parts[p][leftAt], parts[p][leftAt-1])
			sentRight += max(parts[p][rightAt], parts[p][rightAt-1])
		}
		left += sentLeft * d.gains[0][i]
		right += sentRight * d.gains[1][i]
	}
	return max(left, right)
}

// bound fills spans, the first of which begins at a frame, with what no true peak
// of a part passes: the sum of its notes' own.
func (r *roll) bound(spans []float32, p score.Part, from int) {
	clear(spans)
	r.unroll(from, len(spans)*crestSpan, func(from, at, frames int) {
		r.sounding(p, from, frames, func(e event) {
			sound := r.cache.sound(e.sound)
			start := at + e.start - from
			last := min(e.release, len(sound.samples))
			addCrest(spans, sound.crest[:(last+crestSpan-1)/crestSpan], start, e.gain)
			if last == e.release && last > 0 {
				addCrest(spans, r.cache.ending(e.sound, e.release).crest, start+last, e.gain)
			}
		})
	})
}

// addCrest adds a clip's crest times a gain to spans; the clip begins at a frame,
// which may lie outside and within a span. A span counts wherever it reaches.
func addCrest(spans, crest []float32, at int, gain float32) {
	first, within := at/crestSpan, at%crestSpan != 0
	if at < 0 {
		first, within = -((-at + crestSpan - 1) / crestSpan), true
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
