package system

import (
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/staff"
	"thirdwise/arrange/score"
)

// Measures of the rhythm below a tab that stands alone: stems and beams as under a
// staff, with no heads; a half note's stem is half as long, a whole note has none
// (common practice).
const (
	rhythmGap   = 0.9 // from the lowest string to the stems
	rhythmStem  = 2.6
	rhythmLine  = 0.14
	rhythmBeam  = 0.45
	rhythmBeams = 0.7 // from beam to beam
	rhythmSize  = 1.4 // of a tuplet's number
	rhythmRest  = 0.8 // of a rest's usual size
)

// tabPrefixWidth returns how much room the letters TAB and, where it is shown, the
// time signature take.
func tabPrefixWidth(s *score.Score, time bool) float64 {
	w := staff.ClefX + 3.2
	if time {
		w += staff.TimeWidth(s.Meter) + 0.7
	}
	return w
}

// drawTabTime draws the time signature of a tab, in the middle of its height; it
// stands in the first system.
func (s *system) drawTabTime() {
	if s.first > 0 {
		return
	}
	middle := (s.tabTop + s.tabBottom()) / 2
	s.add(drawing.Moved(staff.Time(s.notation.Score.Meter), staff.ClefX+3.0, middle-staff.MiddleLine)...)
}

// drawRhythm draws stems, flags, beams, dots, ties, rests and tuplets below the tab.
func (s *system) drawRhythm() {
	top := s.tabBottom() + rhythmGap
	foot := top + rhythmStem
	tie := func(from, to float64) { s.add(drawing.Shape{Path: drawing.Tie(from+0.2, to-0.2, top-0.1, -0.5)}) }
	if s.bars[0].Events[0].TiedFrom { // in the row before
		tie(s.prefix()-0.4, s.xs[0][0]+drawing.HeadWidth/2)
	}
	for i := range s.bars {
		b := &s.bars[i]
		for j := range b.Events {
			e, x := &b.Events[j], s.xs[i][j]+drawing.HeadWidth/2
			switch {
			case e.MeasureRest:
			case e.Rest():
				s.add(b.RestSign(j).At(s.xs[i][j], (top+foot)/2, rhythmRest))
			default:
				s.add(rhythmMarks(e, x, top, foot)...)
			}
			if e.TiedTo {
				tie(x, min(s.following(i, j)+drawing.HeadWidth/2, s.width))
			}
		}
		s.drawRhythmBeams(b, s.xs[i], foot)
		for _, t := range b.Tuplets {
			left, right := s.xs[i][t.First], s.xs[i][t.Last]+drawing.HeadWidth
			s.add(drawing.Text((left+right)/2, foot+0.5+rhythmSize, rhythmSize, drawing.Italic, drawing.Centred, t.Label()))
		}
	}
}

// rhythmMarks draws an event's stem, flags and dots.
func rhythmMarks(e *paper.Event, x, top, foot float64) (marks []drawing.Mark) {
	if e.Value == 2 {
		top = (top + foot) / 2
	}
	if e.Value > 1 {
		marks = append(marks, drawing.Stroke(x, top, x, foot, rhythmLine))
	}
	if e.Beams == nil {
		for i := range e.Value.Flags() {
			glyph := drawing.DownFlagMore
			if i == e.Value.Flags()-1 {
				glyph = drawing.DownFlag
			}
			marks = append(marks, glyph.At(x-rhythmLine/2, foot-float64(i)*rhythmBeams, 0.8))
		}
	}
	for d := range e.Dots {
		marks = append(marks, drawing.Shape{Path: drawing.Circle(x+0.6+float64(d)*0.6, (top+foot)/2, 0.2)})
	}
	return marks
}

// drawRhythmBeams draws the beams of a bar, level by level.
func (s *system) drawRhythmBeams(b *bar, xs []float64, foot float64) {
	const stub = 0.9
	begun := map[int]float64{} // by level
	for j := range b.Events {
		x := xs[j] + drawing.HeadWidth/2
		for level, part := range b.Events[j].Beams {
			y := foot - rhythmBeam/2 - float64(level)*rhythmBeams
			beam := func(from, to float64) { s.add(drawing.Stroke(from-rhythmLine/2, y, to+rhythmLine/2, y, rhythmBeam)) }
			switch part {
			case paper.BeamBegins:
				begun[level] = x
			case paper.BeamEnds:
				beam(begun[level], x)
			case paper.HookForward:
				beam(x, x+stub)
			case paper.HookBackward:
				beam(x-stub, x)
			}
		}
	}
}
