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
	slash      bool // a slash on the middle line; it has no pitch
	pitch      theory.Pitch
	place      neck.Place       // for tablature
	accidental paper.Accidental // that stands before it
	finger     int              // of the left hand, 0 where it is not told
}

// A hand is what the right hand does at an event.
type hand struct {
	bow            string // the sign of a stroke, "down-bow" or "up-bow"; "" for none
	accent, damped bool
}

// event writes an event of a measure as a chord in the sense of the standard:
// what sounds together on one stem.
func (d *document) event(m *paper.Measure, i int, staff staffNumber, notes []writtenNote, right hand) {
	e := &m.Events[i]
	for k, n := range notes {
		silent := staff == tabStaff || n.slash // the notation sounds already; nobody knows how a slash does
		if silent {
			d.begin("note", "dynamics", "0")
		} else {
			d.begin("note")
		}
		if k > 0 {
			d.empty("chord")
		}
		d.pitch(n)
		d.timing(m, e, staff, n)
		d.head(n, right)
		d.staff(staff)
		if k == 0 {
			d.beams(e)
		}
		d.notations(m, i, k, staff, n, right)
		if silent {
			d.begin("play")
			d.leaf("mute", "on")
			d.end()
		}
		d.end()
	}
}

// pitch writes the pitch of a note, or where on the staff a slash stands: on the
// middle line.
func (d *document) pitch(n writtenNote) {
	if n.slash {
		d.begin("unpitched")
		d.leaf("display-step", theory.B)
		d.leaf("display-octave", 4)
		d.end()
		return
	}
	d.begin("pitch")
	d.tone("", n.pitch.Tone)
	d.leaf("octave", n.pitch.Octave)
	d.end()
}

// head writes the shape of a notehead where it is not the usual one.
func (d *document) head(n writtenNote, right hand) {
	switch {
	case right.damped:
		d.leaf("notehead", "x")
	case n.slash:
		d.leaf("notehead", "slash")
	}
}

// staff writes the staff on which a note stands, where its part has several.
func (d *document) staff(staff staffNumber) {
	if staff != soleStaff {
		d.leaf("staff", int(staff))
	}
}

// notations writes the signs of note k of an event: tuplet, stroke and accent stand
// at the first one. String and fret are written on tablature only, for editors
// would set them beside the heads of a notation staff.
func (d *document) notations(m *paper.Measure, i, k int, staff staffNumber, n writtenNote, right hand) {
	e := &m.Events[i]
	bound := k == 0 && bindsTuplet(m, i)
	struck := k == 0 && right.bow != ""
	accented := k == 0 && right.accent
	fingered := n.finger > 0 && staff == notationStaff
	if !e.TiedFrom && !e.TiedTo && !bound && !struck && !accented && !fingered && staff != tabStaff {
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
			d.empty(right.bow)
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
	if accented {
		d.begin("articulations")
		d.empty("accent")
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
	d.staff(staff)
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
