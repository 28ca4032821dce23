package synth

import (
	"math"
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/exact"
	"thirdwise/synth/loudness"
)

func isClick(p score.Part) bool { return p == score.Click }

// setGain finds the recording's gain: the loudness of the reference's full mix asks
// for it, and the largest true peak of all tracks may lower it.
func (s *recording) setGain() {
	s.gain = 1
	meter := loudness.NewMeter(s.cache.rate)
	// All but the click in one stem: the same sum, sooner made.
	var stems []*stem
	for _, parts := range [][]score.Part{{score.Click}, slices.DeleteFunc(slices.Clone(score.Full.Parts()), isClick)} {
		stems = append(stems, newStem(parts, s.space, s.gain, s.cache.rate))
	}
	s.playStems(s.reference, stems, [][]int{{0, 1}}, []audiofile.Writer{meter})
	if math.IsInf(meter.Integrated(), -1) {
		return // nothing sounds
	}
	gain := 0.0
	for range 4 { // the gates make it other than a sum, but nearly one
		gain += s.options.Loudness - meter.IntegratedAt(gain)
	}
	s.gain = float32(exact.Amplitude(gain))

	highest := float32(exact.Amplitude(peakLimit))
	s.gain *= highest / s.peak(highest)
}
