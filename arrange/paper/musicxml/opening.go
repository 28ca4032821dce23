package musicxml

import (
	"fmt"

	"thirdwise/arrange/paper"
	"thirdwise/theory/meter"
)

// opening writes what stands above the first measure: tempo, feel and capo.
func (d *document) opening() {
	s := d.notation.Score
	if s.Neck.Capo > 0 {
		d.words(fmt.Sprintf("Capo %d", s.Neck.Capo), 0, tabStaff)
	}
	beat := paper.Value(4 * meter.Quarter / s.Meter.Beat())
	if s.Meter.Compound() {
		beat = 4 // with a dot
	}
	d.begin("direction", "placement", "above")
	if s.Feel != meter.Straight {
		d.begin("direction-type")
		d.leaf("words", swings[s.Feel].words)
		d.end()
	}
	d.begin("direction-type")
	d.begin("metronome")
	d.leaf("beat-unit", typeNames[beat])
	if s.Meter.Compound() {
		d.empty("beat-unit-dot")
	}
	d.leaf("per-minute", s.Tempos[0])
	d.end()
	d.end()
	d.leaf("staff", int(notationStaff))
	d.sound()
	d.end()
}

// swings holds what stands above music that swings, and which notes do.
var swings = map[meter.Feel]struct {
	words string
	value paper.Value
}{
	meter.Swing:           {"Swing", 8},
	meter.SwingSixteenths: {"Swing sixteenths", 16},
}

// sound says how the score plays: the tempo, in quarters whatever the beat, and
// the swing.
func (d *document) sound() {
	s := d.notation.Score
	quarters := float64(s.Tempos[0]*s.Meter.Beat()) / meter.Quarter
	tempo := fmt.Sprint(quarters)
	if s.Feel == meter.Straight {
		d.empty("sound", "tempo", tempo)
		return
	}
	d.begin("sound", "tempo", tempo)
	d.begin("swing")
	d.leaf("first", 2)
	d.leaf("second", 1)
	d.leaf("swing-type", typeNames[swings[s.Feel].value])
	d.end()
	d.end()
}

// words writes a text above a staff, so many ticks behind the note that follows.
func (d *document) words(text string, offset int, staff staffNumber) {
	d.begin("direction", "placement", "above")
	d.begin("direction-type")
	d.leaf("words", text)
	d.end()
	d.placed(offset, staff)
	d.end()
}

// rehearsal writes the name of a section above the first staff.
func (d *document) rehearsal(name string) {
	d.begin("direction", "placement", "above")
	d.begin("direction-type")
	d.leaf("rehearsal", name)
	d.end()
	d.placed(0, notationStaff)
	d.end()
}
