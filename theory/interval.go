package theory

import (
	"fmt"
	"strings"
)

// An Interval is the distance from one pitch up to another, counted twice: in
// letters and in semitones. A third is two letters; a major third is four
// semitones, a minor third three.
type Interval struct {
	Steps     int // letters, 0 for a unison, 2 for a third
	Semitones int
}

// The intervals by which chords, scales and lines are told apart.
var (
	MinorSecond     = Interval{1, 1}
	MajorSecond     = Interval{1, 2}
	AugmentedSecond = Interval{1, 3}
	MinorThird      = Interval{2, 3}
	MajorThird      = Interval{2, 4}
	DiminishedFifth = Interval{4, 6}
	PerfectFifth    = Interval{4, 7}
	FlatSeventh     = Interval{6, 10}
	FlatNinth       = Interval{8, 13}
	SharpNinth      = Interval{8, 15}
	SharpEleventh   = Interval{10, 18}
	FlatThirteenth  = Interval{12, 20}
)

// Between returns the interval from low up to high. Where high lies below low,
// both counts are negative.
func Between(low, high Pitch) Interval {
	return Interval{high.Staff() - low.Staff(), high.MIDI() - low.MIDI()}
}

// perfect tells which letter counts within an octave come as perfect, not as
// major and minor: unison, fourth and fifth.
var perfect = [7]bool{0: true, 3: true, 4: true}

// Quality returns the quality of an interval that goes up: P perfect, M major,
// m minor, A augmented, d diminished, the last two doubled or more where need be.
func (i Interval) Quality() string {
	class := mod(i.Steps, 7)
	off := i.Semitones - naturals[class] - 12*floorDiv(i.Steps, 7)
	if perfect[class] {
		switch {
		case off == 0:
			return "P"
		case off > 0:
			return strings.Repeat("A", off)
		}
		return strings.Repeat("d", -off)
	}
	switch {
	case off == 0:
		return "M"
	case off == -1:
		return "m"
	case off > 0:
		return strings.Repeat("A", off)
	}
	return strings.Repeat("d", -off-1)
}

// String returns the interval's short name: P1, m3, M3, d5, A4, M9; with a minus
// sign where it goes down, as in -m3.
func (i Interval) String() string {
	if i.Steps < 0 {
		return "-" + Interval{-i.Steps, -i.Semitones}.String()
	}
	return fmt.Sprintf("%s%d", i.Quality(), i.Steps+1)
}
