package score

import "slices"

// A Stretch is the part of a bar in which one third sounds, or none.
type Stretch struct {
	Start, End int  // ticks from the start of the bar
	Third      int  // index into Score.Line; -1 for silence
	Held       bool // the third began in a bar before
	On         bool // it sounds on in the next
}

// Stretches divides a bar, an index into s.Bars, by what of the line sounds in it.
func (s *Score) Stretches(bar int) []Stretch {
	length := s.Meter.Bar()
	start := s.Bars[bar].Tick
	// The first third that sounds in the bar, or begins after it.
	i, _ := slices.BinarySearchFunc(s.Line, start+1, func(t Third, tick int) int { return t.Tick - tick })
	if i > 0 {
		i--
	}
	var out []Stretch
	at := 0
	for ; i < len(s.Line) && s.Line[i].Tick < start+length; i++ {
		from, to := s.Line[i].Tick-start, s.lineEnd(i)-start
		if to <= max(from, 0) {
			continue
		}
		held, on := from < 0, to > length
		from, to = max(from, 0), min(to, length)
		if from > at {
			out = append(out, Stretch{Start: at, End: from, Third: -1})
		}
		out = append(out, Stretch{Start: from, End: to, Third: i, Held: held, On: on})
		at = to
	}
	if at < length {
		out = append(out, Stretch{Start: at, End: length, Third: -1})
	}
	return out
}

// lineEnd returns the tick at which a third stops: its own end, the next
// third's start or the end of the chart.
func (s *Score) lineEnd(i int) int {
	end := min(s.Line[i].Tick+s.Line[i].Length, s.Length())
	if i+1 < len(s.Line) {
		end = min(end, s.Line[i+1].Tick)
	}
	return end
}
