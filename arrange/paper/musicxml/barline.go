package musicxml

import (
	"strconv"
	"strings"

	"thirdwise/arrange/score"
)

// beginMeasure begins a measure, with a barline where it begins a repeat or an
// ending.
func (d *document) beginMeasure(i int) {
	m := &d.notation.Measures[i]
	number := score.BarLabel(m.Number, m.Time) // no two measures have the same
	if m.Number == 0 {                         // a pickup is not counted
		d.begin("measure", "number", number, "implicit", "yes")
	} else {
		d.begin("measure", "number", number)
	}
	begins := m.Ending != nil && m.Ending.Begins
	if !m.RepeatOpens && !begins {
		return
	}
	d.begin("barline", "location", "left")
	if m.RepeatOpens {
		d.leaf("bar-style", "heavy-light")
	}
	if begins {
		d.leaf("ending", m.Ending, "number", timesOf(m.Ending), "type", "start")
	}
	if m.RepeatOpens {
		d.empty("repeat", "direction", "forward")
	}
	d.end()
}

// rightBarline writes a barline that ends a repeat, an ending, a section or the
// piece. The last ending stays open where the piece goes on.
func (d *document) rightBarline(i int) {
	m := &d.notation.Measures[i]
	last := i == len(d.notation.Measures)-1
	ends := m.Ending != nil && m.Ending.Ends
	repeats := m.RepeatTimes >= 2
	double := m.SectionEnds && !d.notation.Measures[i+1].RepeatOpens
	if !repeats && !ends && !last && !double {
		return
	}
	d.begin("barline", "location", "right")
	switch {
	case repeats || last:
		d.leaf("bar-style", "light-heavy")
	case double:
		d.leaf("bar-style", "light-light")
	}
	if ends {
		end := "discontinue"
		if repeats || last {
			end = "stop"
		}
		d.empty("ending", "number", timesOf(m.Ending), "type", end)
	}
	switch {
	case repeats && (m.Ending != nil || m.RepeatTimes == 2):
		d.empty("repeat", "direction", "backward")
	case repeats:
		d.empty("repeat", "direction", "backward", "times", strconv.Itoa(m.RepeatTimes))
	}
	d.end()
}

// timesOf lists the times at which an ending is played: "1,2".
func timesOf(e *score.Ending) string {
	numbers := make([]string, len(e.Times))
	for i, n := range e.Times {
		numbers[i] = strconv.Itoa(n)
	}
	return strings.Join(numbers, ",")
}
