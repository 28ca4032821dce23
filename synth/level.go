package synth

import (
	"iter"
	"math"

	"thirdwise/arrange/score"
)

// level finds the recording's gain.
func (s *recording) level() {
	s.gain = 1
	loud := s.loudness()
	if math.IsInf(loud, -1) {
		return // nothing sounds
	}
	s.gain = float32(math.Pow(10, (s.options.Loudness-loud)/20))

	limit := float32(math.Pow(10, peakLimit/20.0))
	s.gain *= limit / s.peak(limit)
}

// loudness returns the integrated loudness of the reference's full mix.
func (s *recording) loudness() float64 {
	meter := newLoudnessMeter(s.stock.rate)
	s.play(s.reference, []score.Mix{score.Full}, func(_ int, blocks iter.Seq[stereo]) error {
		for b := range blocks {
			meter.Write(b.left, b.right)
		}
		return nil
	})
	return meter.Integrated()
}
