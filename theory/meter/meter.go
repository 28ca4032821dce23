// Package meter holds music's time: ticks, time signatures, the grid in which a
// line moves, and the feel with which eighths are played.
//
// There are 480 ticks to the quarter note, and every start and length is a whole
// tick. The package is pure and knows nothing of pitch.
package meter

import "fmt"

// Quarter is the length of a quarter note in ticks.
const Quarter = 480

// A Meter is a time signature: beats of a unit, as written one above the other.
type Meter struct {
	Beats, Unit int // 6 and 8 for 6/8
}

// Meters returns the meters that an exercise can have.
func Meters() []Meter {
	return []Meter{{2, 4}, {3, 4}, {4, 4}, {5, 4}, {2, 2}, {6, 8}, {9, 8}, {12, 8}}
}

// Bar returns the length of a bar in ticks.
func (m Meter) Bar() int { return m.Beats * m.UnitTicks() }

// UnitTicks returns the length of the meter's written unit in ticks: an eighth
// in 6/8.
func (m Meter) UnitTicks() int { return 4 * Quarter / m.Unit }

// Compound reports whether the meter's beat divides by three: 6/8, 9/8, 12/8.
func (m Meter) Compound() bool { return m.Unit == 8 }

// Beat returns the length in ticks of the beat that a tempo counts: a quarter
// in 4/4, a dotted quarter in 6/8, a half in 2/2.
func (m Meter) Beat() int {
	if m.Compound() {
		return 3 * m.UnitTicks()
	}
	return m.UnitTicks()
}

// QuarterMicros returns the length of a quarter note in whole microseconds at a
// tempo in beats a minute: what a Standard MIDI File can say, and the number
// from which audio is timed too.
func (m Meter) QuarterMicros(tempo int) int {
	const minute = 60_000_000
	beat := m.Beat() * tempo
	return (minute*Quarter + beat/2) / beat
}

// String prints the meter as an exercise writes it: "6/8".
func (m Meter) String() string { return fmt.Sprintf("%d/%d", m.Beats, m.Unit) }
