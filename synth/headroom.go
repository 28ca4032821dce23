package synth

import (
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth/backings"
	"thirdwise/synth/clips"
	"thirdwise/synth/desk"
	"thirdwise/synth/loudness"
)

// segmentSpans is for how many spans bounds are worked out at a time: about
// twelve seconds.
const segmentSpans = 2048

// A segment is some spans of mixes of a roll, the first of which begins at a frame.
type segment struct {
	roll    *roll
	mixes   []score.Mix
	backing *backings.Backing // of the roll; nil where it is not known
	from    int
	spans   int
	bounds  desk.Samples // of each part, echoSpans before the first span too
}

// peak returns the largest true peak of all tracks that have yet to be measured, at a
// gain of 1, where it passes floor, otherwise floor.
func (s *recording) peak(floor float32) float32 {
	known := make([]*backings.Backing, len(s.renditions))
	concurrently(len(s.renditions), func(i int) {
		known[i] = s.backing(s.renditions[i].roll, s.renditions[i].unmeasured())
	})
	var segments []*segment
	for i, r := range s.renditions {
		defer known[i].Release()
		mixes := r.unmeasured()
		for from := 0; from < r.frames && len(mixes) > 0; from += segmentSpans * clips.Span {
			spans := min(segmentSpans, (r.frames-from+clips.Span-1)/clips.Span)
			segments = append(segments, &segment{roll: r.roll, mixes: mixes, backing: known[i], from: from, spans: spans})
		}
	}
	peaks := make([]float32, len(segments))
	concurrently(len(segments), func(i int) {
		if s.ctx.Err() == nil {
			peaks[i] = s.segmentPeak(segments[i], floor)
		}
	})
	return slices.Max(append(peaks, floor))
}

// segmentPeak returns the largest true peak of a segment where it passes floor, otherwise
// floor.
//
// Only those stretches are mixed whose notes could reach the floor if their peaks
// fell together; most do not.
func (s *recording) segmentPeak(g *segment, floor float32) float32 {
	for _, p := range needs(g.mixes) {
		g.bounds[p] = make([]float32, echoSpans+g.spans)
		g.roll.bound(g.bounds[p], p, g.from-echoSpans*clips.Span)
	}
	loud := s.stretches.Get().(*stretch)
	defer s.stretches.Put(loud)
	for _, m := range g.mixes {
		dry := desk.New(m, nil, s.cache.rate)
		sums := make([]float32, echoSpans+g.spans)
		for i := range sums {
			sums[i] = dry.Bound(&g.bounds, i)
		}
		for span := 0; span < g.spans; span++ {
			first := span
			for span < g.spans && sums[echoSpans+span]+s.echo(sums, span, span+1) > floor {
				span++
			}
			if span == first || s.underBacking(g, m, dry.Stems, first, span, loud, floor) {
				continue
			}
			begin, end := g.from+first*clips.Span, g.from+span*clips.Span
			if loud.peak(dry, 0, g.roll, begin, end, 0)+s.echo(sums, first, span) > floor {
				wet := desk.New(m, s.space, s.cache.rate)
				floor = loud.peak(wet, s.reach(), g.roll, begin, end, floor)
			}
		}
	}
	return floor
}

// echo returns what the room adds at most to some spans, given the bounds of what sounds
// in these and before, as far as it can be told without listening to it.
func (s *recording) echo(sums []float32, first, end int) float32 {
	if s.space == nil {
		return 0
	}
	return roomShare * slices.Max(sums[first:end+echoSpans])
}

// underBacking reports whether a mix, of some dry stems, does not pass the floor in some
// spans, given what its backing is: with the bounds of the stems beside it, or else with
// these stems. The bounds of all notes tell less. Where there is no backing it cannot be told.
func (s *recording) underBacking(g *segment, m score.Mix, dry []*desk.Stem, first, end int, with *stretch, floor float32) bool {
	if g.backing == nil || !desk.Backed(m) {
		return false
	}
	dry = dry[desk.BackingStems:]
	beside := make([]float32, echoSpans+end-first)
	for i := range beside {
		var left, right float32
		for _, other := range dry {
			l, r := other.Bound(&g.bounds, first+i)
			left, right = left+l, right+r
		}
		beside[i] = max(left, right)
	}
	floor -= s.echo(beside, 0, end-first)
	from, to, most := g.from+first*clips.Span, g.from+end*clips.Span, slices.Max(beside[echoSpans:])
	return with.peakOver(g.backing, nil, g.roll, from, to, floor-most) <= floor-most ||
		with.peakOver(g.backing, dry, g.roll, from, to, floor) <= floor
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
func (s *stretch) peak(d *desk.Desk, reach int, r *roll, from, to int, floor float32) float32 {
	const margin = loudness.Reach
	frames := reach + to - from + 2*margin
	s.parts.fill(r, d.Parts(), from-margin-reach, frames)
	s.left, s.right = resized(s.left, frames), resized(s.right, frames)
	d.Mix(s.left, s.right, &s.parts.parts)
	return loudness.PeakAbove(s.left[reach:], s.right[reach:], floor)
}

// peakOver is peak for the sum of a backing of the roll and of dry stems.
func (s *stretch) peakOver(b *backings.Backing, stems []*desk.Stem, r *roll, from, to int, floor float32) float32 {
	const margin = loudness.Reach
	frames := to - from + 2*margin
	s.left, s.right = resized(s.left, frames), resized(s.right, frames)
	r.unroll(from-margin, frames, func(from, at, frames int) { b.Read(s.left[at:at+frames], s.right[at:at+frames], from) })
	for _, one := range stems {
		s.parts.fill(r, one.Parts, from-margin, frames)
		one.Add(s.left, s.right, &s.parts.parts)
	}
	return loudness.PeakAbove(s.left, s.right, floor)
}

// bound fills spans, the first of which begins at a frame, with what no true peak
// of a part passes: the sum of its notes' own.
func (r *roll) bound(spans []float32, p score.Part, from int) {
	clear(spans)
	r.unroll(from, len(spans)*clips.Span, func(from, at, frames int) {
		r.sounding(p, from, frames, func(e event) {
			sound := r.cache.sound(e.sound)
			last := min(e.release+len(r.cache.touch), len(sound.Samples))
			sound.AddCrest(spans, at+e.start-from, last, max(e.gain, -e.gain))
		})
	})
}
