package synth

import (
	"math"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/exact"
)

// setGain finds the recording's gain: the loudness of the reference's full mix asks
// for it, and the largest true peak of all tracks may lower it. The reference's tracks
// are made for it, and kept where there is room.
func (s *recording) setGain() {
	s.gain = 1
	full := s.record()
	if math.IsInf(full.loudness.Integrated(), -1) {
		return // nothing sounds
	}
	gain := 0.0
	for range 4 { // the gates make it other than a sum, but nearly one
		gain += s.options.Loudness - full.loudness.IntegratedAt(gain)
	}
	s.gain = float32(exact.Amplitude(gain))
	highest := float32(exact.Amplitude(peakLimit))
	floor := highest / s.gain
	for _, t := range s.reference.tapes {
		if t == nil {
			continue
		}
		floor = max(floor, float32(exact.Amplitude(t.peak.TruePeak())))
	}
	s.gain = highest / s.peak(floor)
}

// record makes the full mix of the reference, which is returned. The reference's tracks
// are made with it, and kept on tape, where that does not take too much memory.
func (s *recording) record() (full *tape) {
	r := s.reference
	r.kept = r.keptBytes() <= KeptAtMost
	r.tapes = make([]*tape, len(r.mixes))
	var mixes []score.Mix
	var writers []audiofile.Writer
	for i, m := range r.mixes {
		if !r.kept && m != score.Full {
			continue
		}
		t := newTape(s.cache.rate)
		if r.kept {
			t.keep(r.frames)
		}
		if m == score.Full {
			full = t
		}
		r.tapes[i] = t
		mixes, writers = append(mixes, m), append(writers, t)
	}
	if full == nil {
		full = newTape(s.cache.rate)
		mixes, writers = append(mixes, score.Full), append(writers, full)
	}
	s.play(r.roll, mixes, writers)
	return full
}

// measured returns the tape of a track that has been measured already, nil of others.
func (r *rendition) measured(track int) *tape {
	if r.tapes == nil {
		return nil
	}
	return r.tapes[track]
}

// unmeasured returns the mixes of the tracks that have yet to be measured.
func (r *rendition) unmeasured() (mixes []score.Mix) {
	for i, m := range r.mixes {
		if r.measured(i) == nil {
			mixes = append(mixes, m)
		}
	}
	return mixes
}
