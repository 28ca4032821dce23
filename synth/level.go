package synth

import (
	"math"
	"sync"

	"thirdwise/arrange"
)

// level finds the session's gain.
func (s *session) level() {
	s.gain = 1
	loud := s.loudness()
	if math.IsInf(loud, -1) {
		return // nothing sounds
	}
	s.gain = float32(math.Pow(10, (s.options.Loudness-loud)/20))

	limit := float32(math.Pow(10, peakLimit/20.0))
	highest := limit
	var mu sync.Mutex
	s.each(func(r *rendition) {
		peak := s.peak(r, limit)
		mu.Lock()
		defer mu.Unlock()
		highest = max(highest, peak)
	})
	s.gain *= limit / highest
}

// loudness returns the integrated loudness of the reference's full mix.
func (s *session) loudness() float64 {
	var parts [len(seats)][]float32
	var left, right [blockLength]float32
	meter := NewMeter(s.stock.rate)
	board := s.desk(arrange.Full, s.reference)
	for from := 0; from < s.reference.frames && s.ctx.Err() == nil; from += blockLength {
		n := min(blockLength, s.reference.frames-from)
		s.reference.mixParts(board.parts, &parts, from, n)
		board.mix(left[:n], right[:n], &parts)
		meter.Write(left[:n], right[:n])
	}
	return meter.Integrated()
}

// peak returns the largest true peak of a rendition's tracks where it passes
// limit, otherwise limit. Only those stretches are mixed of which the notes'
// own peaks do not already say that they stay below.
func (s *session) peak(r *rendition, limit float32) float32 {
	const stretch = 2048
	const margin = peakTaps // frames that a true peak's filter sees around
	var desks []*desk
	var mixes []arrange.Mix
	for _, i := range r.tracks {
		mixes = append(mixes, s.tracks[i].Mix)
		desks = append(desks, newDesk(s.tracks[i].Mix, s.space, s.gain, s.stock.rate))
	}
	parts, reach := needs(mixes), desks[0].reach
	var buffers [len(seats)][]float32
	left, right := make([]float32, stretch+2*margin), make([]float32, stretch+2*margin)
	for from := 0; from < r.frames && s.ctx.Err() == nil; from += stretch {
		var bounds [len(seats)]float32
		for _, p := range parts {
			bounds[p] = r.bound(p, from-reach-margin, reach+stretch+2*margin)
		}
		mixed := false
		for _, d := range desks {
			if d.bound(&bounds) <= limit {
				continue
			}
			if !mixed {
				r.mixParts(parts, &buffers, from-margin, stretch+2*margin)
				mixed = true
			}
			d.enter(r.roll, from-margin)
			d.mix(left, right, &buffers)
			meter := NewPeakMeter(s.stock.rate)
			meter.peak = limit
			meter.Write(left, right)
			limit = max(limit, meter.peak)
		}
	}
	return limit
}
