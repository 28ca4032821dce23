package synth

import (
	"math"
	"slices"

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
		floor = max(floor, float32(exact.Amplitude(t.peak.TruePeak())))
	}
	s.gain = highest / s.peak(floor)
}

// record makes the full mix of the reference, which is returned. The reference's tracks
// are made with it, and kept on tape, where that does not take too much memory.
func (s *recording) record() (full *tape) {
	r := s.reference
	var mixes []score.Mix
	var tapes []*tape
	if r.keptBytes() <= KeptAtMost {
		for _, m := range r.mixes {
			t := newTape(s.cache.rate)
			t.keep(r.frames)
			mixes, tapes = append(mixes, m), append(tapes, t)
		}
		r.tapes = slices.Clone(tapes)
	}
	i := slices.Index(mixes, score.Full)
	if i < 0 {
		i = len(mixes)
		mixes, tapes = append(mixes, score.Full), append(tapes, newTape(s.cache.rate))
	}
	writers := make([]audiofile.Writer, len(tapes))
	for i, t := range tapes {
		writers[i] = t
	}
	s.play(r.roll, mixes, writers)
	return tapes[i]
}
