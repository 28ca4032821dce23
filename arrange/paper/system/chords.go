package system

import (
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/staff"
)

// Measures of a row of chords alone.
const (
	chordsPrefix = 1.4  // around the time signature
	chordsHeight = 2.3  // of the symbols' baseline, below the top of the bar lines
	beatHeight   = 0.55 // half of a beat's stroke
	beatLine     = 0.16
	evenAtMost   = 40.0 // the width of a bar up to which all its beats stand evenly
)

// drawBeats draws a stroke for each beat of each bar, as charts to play by have
// them, below the symbols.
func (s *system) drawBeats() {
	y := staff.BottomLine - 0.4
	if s.notation.Score.Handout.Numerals {
		y += numeralLine
	}
	beats := s.notation.Score.Meter.BeatStarts()
	for i := range s.bars {
		for _, tick := range beats {
			if tick < s.bars[i].Start {
				continue
			}
			x := s.xAt(i, tick)
			s.add(drawing.Stroke(x, y+beatHeight, x+beatHeight*1.6, y-beatHeight, beatLine))
		}
	}
}

// symbolsAt returns the baseline of the chord symbols.
func (s *system) symbolsAt() float64 {
	if s.staves == Chords {
		return chordsHeight
	}
	return min(-1.7, s.contentAbove()-0.7)
}
