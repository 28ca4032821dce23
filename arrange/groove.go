package arrange

import (
	"slices"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// groove writes the groove once through the chart, the same in each bar: what a player
// would keep up for as long as the student wants to play (common practice; the patterns
// are our own). In a pickup it is silent.
func groove(s *score.Score, setting exercise.Groove) []score.GrooveStroke {
	var bar []score.GrooveStroke
	switch setting {
	case exercise.Shaker:
		bar = shaken(s.Meter, s.Feel)
	case exercise.Brush:
		bar = brushed(s.Meter, s.Feel)
	}
	var all []score.GrooveStroke
	for i, b := range s.Bars {
		if i == 0 && s.Pickup {
			continue
		}
		for _, stroke := range bar {
			stroke.Tick += b.Tick
			all = append(all, stroke)
		}
	}
	return all
}

// grooveSlot returns the ticks from one stroke of a groove to the next: half a beat, an
// eighth in x/8, and a sixteenth where sixteenths swing.
func grooveSlot(m meter.Meter, f meter.Feel) int {
	switch {
	case f == meter.SwingSixteenths:
		return meter.Quarter / 4
	case m.Unit == 8:
		return m.UnitTicks()
	}
	return m.Beat() / 2
}

// shaken is a bar of the shaker: forth on each beat and back between them, stronger on
// two and four where a bar has four beats, and otherwise where its groups begin.
func shaken(m meter.Meter, f meter.Feel) []score.GrooveStroke {
	var bar []score.GrooveStroke
	beats, strong := m.BeatStarts(), m.Strong()
	if len(beats) == 4 {
		strong = []int{beats[1], beats[3]}
	}
	for tick := 0; tick < m.Bar(); tick += grooveSlot(m, f) {
		stroke := score.GrooveStroke{Tick: tick, Sound: score.ShakeBack}
		if slices.Contains(beats, tick) {
			stroke.Sound, stroke.Strength = score.ShakeForth, score.Usual
		}
		if slices.Contains(strong, tick) {
			stroke.Strength = score.Strong
		}
		bar = append(bar, stroke)
	}
	return bar
}

// brushed is a bar of brushes: a sweep where a group begins, a tap on each other beat,
// and a soft one before each sweep. Where each beat is a group, every other one is
// swept.
func brushed(m meter.Meter, f meter.Feel) []score.GrooveStroke {
	var bar []score.GrooveStroke
	beats, strong, slot := m.BeatStarts(), m.Strong(), grooveSlot(m, f)
	swept := func(beat int) bool {
		if len(strong) < len(beats) || len(beats) == 1 {
			return slices.Contains(strong, beats[beat])
		}
		return beat%2 == 0 && (beat == 0 || beat < len(beats)-1)
	}
	for i, tick := range beats {
		stroke := score.GrooveStroke{Tick: tick, Sound: score.Tap, Strength: score.Usual}
		if swept(i) {
			stroke.Sound = score.Sweep
		}
		bar = append(bar, stroke)
		next := m.Bar()
		if i+1 < len(beats) {
			next = beats[i+1]
		}
		if i+1 == len(beats) || swept(i+1) {
			bar = append(bar, score.GrooveStroke{Tick: next - slot, Sound: score.Tap, Strength: score.Soft})
		}
	}
	return bar
}
