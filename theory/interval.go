package theory

import "fmt"

// An Interval is the distance from one pitch up to another, counted twice: in
// letters and in semitones. A third is two letters; a major third is four
// semitones, a minor third three.
type Interval struct {
	Steps     int // letters, 0 for a unison, 2 for a third
	Semitones int
}

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
			return accidentals(off, "A", "")
		}
		return accidentals(off, "", "d")
	}
	switch {
	case off == 0:
		return "M"
	case off == -1:
		return "m"
	case off > 0:
		return accidentals(off, "A", "")
	}
	return accidentals(off+1, "", "d")
}

// String returns the interval's short name: P1, m3, M3, d5, A4, M9; with a minus
// sign where it goes down, as in -m3.
func (i Interval) String() string {
	if i.Steps < 0 {
		return "-" + Interval{-i.Steps, -i.Semitones}.String()
	}
	return fmt.Sprintf("%s%d", i.Quality(), i.Steps+1)
}
