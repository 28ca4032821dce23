package synth

import (
	"math"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/loudness"
)

// setGain finds the recording's gain: the loudness of the reference's full mix asks
// for it, and the largest true peak of all tracks may lower it.
func (s *recording) setGain() {
	s.gain = 1
	meter := loudness.NewMeter(s.cache.rate)
	s.play(s.reference, []score.Mix{score.Full}, []audiofile.Writer{meter})
	loud := meter.Integrated()
	if math.IsInf(loud, -1) {
		return // nothing sounds
	}
	s.gain = float32(math.Pow(10, (s.options.Loudness-loud)/20))

	highest := float32(math.Pow(10, peakLimit/20.0))
	s.gain *= highest / s.peak(highest)
}
