package musicxml

import (
	"strconv"

	"thirdwise/arrange/paper"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// typeNames names note values as the standard does.
var typeNames = map[paper.Value]string{
	1: "whole", 2: "half", 4: "quarter", 8: "eighth", 16: "16th", 32: "32nd", 64: "64th", 128: "128th",
}

// beamNames names what a beam does at a note as the standard does.
var beamNames = [...]string{
	paper.BeamBegins:    "begin",
	paper.BeamContinues: "continue",
	paper.BeamEnds:      "end",
	paper.HookForward:   "forward hook",
	paper.HookBackward:  "backward hook",
}

// accidentalNames names accidentals by their alteration as the standard does.
var accidentalNames = map[int]string{
	-3: "triple-flat", -2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp", 3: "triple-sharp",
}

// A staffNumber is one of a part's staves, counted from the top as the standard
// does; soleStaff is that of a part with one.
type staffNumber int

const (
	soleStaff staffNumber = iota
	notationStaff
	tabStaff
)

// A writtenNote is a note as a staff shows it.
type writtenNote struct {
	pitch      theory.Pitch
	place      neck.Place       // for tablature
	accidental paper.Accidental // that stands before it
	finger     int              // of the left hand, 0 where it is not told
}

// event writes an event of a measure as a chord in the sense of the standard:
// what sounds together on one stem. A stroke is the sign for the hand at the
// chord, or "".
func (d *document) event(m *paper.Measure, i int, staff staffNumber, notes []writtenNote, stroke string) {
	e := &m.Events[i]
	for k, n := range notes {
		if staff == tabStaff {
			d.begin("note", "dynamics", "0") // the notation sounds already
		} else {
			d.begin("note")
		}
		if k > 0 {
			d.empty("chord")
		}
		d.begin("pitch")
		d.tone("", n.pitch.Tone)
		d.leaf("octave", n.pitch.Octave)
		d.end()
		d.timing(m, e, staff, n)
		if k == 0 {
			d.beams(e)
		}
		d.notations(m, i, k, staff, n, stroke)
		if staff == tabStaff {
			d.begin("play")
			d.leaf("mute", "on")
			d.end()
		}
		d.end()
	}
}

// notations writes the signs of note k of an event: tuplet and stroke stand at
// the first one. String and fret are written on tablature only, for editors
// would set them beside the heads of a notation staff.
func (d *document) notations(m *paper.Measure, i, k int, staff staffNumber, n writtenNote, stroke string) {
	e := &m.Events[i]
	bound := k == 0 && bindsTuplet(m, i)
	struck := k == 0 && stroke != ""
	fingered := n.finger > 0 && staff == notationStaff
	if !e.TiedFrom && !e.TiedTo && !bound && !struck && !fingered && staff != tabStaff {
		return
	}
	d.begin("notations")
	d.tied(e)
	if bound {
		d.tuplet(m, i, staff)
	}
	if struck || fingered || staff == tabStaff {
		d.begin("technical")
		if struck {
			d.empty(stroke)
		}
		if fingered {
			d.leaf("fingering", n.finger)
		}
		if staff == tabStaff {
			d.leaf("string", n.place.String)
			d.leaf("fret", n.place.Fret)
		}
		d.end()
	}
	d.end()
}

// rest writes an event that is silent. Tablature below notation shows none.
func (d *document) rest(m *paper.Measure, i int, staff staffNumber) {
	e := &m.Events[i]
	if staff == tabStaff {
		d.begin("note", "print-object", "no")
	} else {
		d.begin("note")
	}
	if e.MeasureRest {
		d.empty("rest", "measure", "yes")
	} else {
		d.empty("rest")
	}
	d.timing(m, e, staff, writtenNote{})
	if bindsTuplet(m, i) {
		d.begin("notations")
		d.tuplet(m, i, staff)
		d.end()
	}
	d.end()
}

// tone writes a letter and, where there is one, its alteration.
func (d *document) tone(prefix string, t theory.Tone) {
	d.leaf(prefix+"step", t.Letter)
	if t.Alter != 0 {
		d.leaf(prefix+"alter", t.Alter)
	}
}

// timing writes the part of a note that says how long it lasts and how that is
// written.
func (d *document) timing(m *paper.Measure, e *paper.Event, staff staffNumber, n writtenNote) {
	d.leaf("duration", e.Length)
	if e.TiedFrom {
		d.empty("tie", "type", "stop")
	}
	if e.TiedTo {
		d.empty("tie", "type", "start")
	}
	d.leaf("voice", max(1, int(staff)))
	if !e.MeasureRest {
		d.leaf("type", typeNames[e.Value])
		for range e.Dots {
			d.empty("dot")
		}
	}
	switch {
	case staff == tabStaff || n.accidental == paper.NoAccidental:
	case n.accidental == paper.Courtesy:
		d.leaf("accidental", accidentalNames[n.pitch.Alter], "cautionary", "yes")
	default:
		d.leaf("accidental", accidentalNames[n.pitch.Alter])
	}
	if e.Tuplet >= 0 {
		t := m.Tuplets[e.Tuplet]
		d.begin("time-modification")
		d.leaf("actual-notes", t.Actual)
		d.leaf("normal-notes", t.Normal)
		if e.Value != t.Value {
			d.leaf("normal-type", typeNames[t.Value])
		}
		d.end()
	}
	if staff == tabStaff && !e.Rest() && e.Value > 1 {
		d.leaf("stem", "down")
	}
	if staff != soleStaff {
		d.leaf("staff", int(staff))
	}
}

// beams writes the beams of a chord.
func (d *document) beams(e *paper.Event) {
	for level, part := range e.Beams {
		d.leaf("beam", beamNames[part], "number", strconv.Itoa(level+1))
	}
}

// bindsTuplet reports whether a tuplet begins or ends with an event.
func bindsTuplet(m *paper.Measure, i int) bool {
	t := m.Events[i].Tuplet
	return t >= 0 && (m.Tuplets[t].First == i || m.Tuplets[t].Last == i)
}

// tuplet writes where a tuplet begins and ends. Tablature below notation does
// not show it.
func (d *document) tuplet(m *paper.Measure, i int, staff staffNumber) {
	e := &m.Events[i]
	if m.Tuplets[e.Tuplet].First == i {
		if staff == tabStaff {
			d.empty("tuplet", "type", "start", "bracket", "no", "show-number", "none")
		} else {
			d.empty("tuplet", "type", "start")
		}
	}
	if m.Tuplets[e.Tuplet].Last == i {
		d.empty("tuplet", "type", "stop")
	}
}

func (d *document) tied(e *paper.Event) {
	if e.TiedFrom {
		d.empty("tied", "type", "stop")
	}
	if e.TiedTo {
		d.empty("tied", "type", "start")
	}
}
