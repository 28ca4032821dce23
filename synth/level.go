package synth

import (
	"iter"
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
	meter := NewMeter(s.stock.rate)
	s.play(s.reference, []arrange.Mix{arrange.Full}, func(_ int, blocks iter.Seq[stereo]) error {
		for b := range blocks {
			meter.Write(b.left, b.right)
		}
		return nil
	})
	return meter.Integrated()
}

// peak returns the largest true peak of a rendition's tracks where it passes
// limit, otherwise limit. Only those stretches are mixed of which the notes'
// own peaks do not already say that they stay below.
func (s *session) peak(r *rendition, limit float32) float32 {
	const stretch = 1024
	const margin = peakTaps // frames that a true peak's filter sees around
	const slack = 1.05      // for the joint of a note and its ending
	var desks []*desk
	for _, m := range r.mixes {
		desks = append(desks, newDesk(m, s.space, s.gain, s.stock.rate))
	}
	parts, reach := needs(r.mixes), desks[0].reach
	var b block
	left, right := make([]float32, reach+stretch+2*margin), make([]float32, reach+stretch+2*margin)
	for from := -margin; from < r.frames && s.ctx.Err() == nil; from += stretch {
		var now, past [len(seats)]float32
		for _, p := range parts {
			now[p] = slack * r.bound(p, from, stretch+2*margin)
			past[p] = max(now[p], slack*r.bound(p, from-reach, reach))
		}
		filled := false
		for _, d := range desks {
			if d.bound(&now, &past) <= limit {
				continue
			}
			if !filled {
				b.fill(r.roll, parts, from-reach, len(left))
				filled = true
			}
			d.mix(left, right, &b.parts)
			meter := NewPeakMeter(s.stock.rate)
			meter.peak = limit
			meter.Write(left[reach:], right[reach:])
			limit = max(limit, meter.peak)
		}
	}
	return limit
}
