// Package musicxml writes a score for notation editors: as a MusicXML 4.0
// document, score-partwise.
//
// In goes a [paper.Notation]. The parts:
//
//   - Guide: a staff of notation and below it one of tablature with the same
//     notes, each with its string and fret. Chord symbols with their grips stand
//     above it, sections as rehearsal marks, and the first of the exercise's
//     tempos. The tablature is silent, so that nothing sounds twice.
//   - Chords: the rhythm of the strums as slashes, with chord symbols above and the
//     signs for down- and up-strokes, accents and damped strings; a picking pattern as
//     notes. Or all strums as the notes that sound: see [Chords]. Slashes have no
//     pitch, so that an editor plays none; it knows the chords by their symbols.
//   - Bass, where one plays.
//
// Pitches are written as they sound, as the standard asks, capo included; the
// clef's octave sign tells that a guitar reads them an octave higher. Rhythm is
// straight, and a sound element says where it swings. Repeats are repeats, unless
// chords or bass play otherwise the second time; then they are written out.
package musicxml

import (
	"fmt"
	"io"
	"strconv"

	"thirdwise/arrange/paper"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

// Write writes a score as a MusicXML document.
func Write(w io.Writer, n *paper.Notation, chords Chords) error {
	d := document{notation: repeating(n, chords), written: chords}
	d.write()
	if _, err := w.Write(d.Bytes()); err != nil {
		return fmt.Errorf("the MusicXML file of %q: %w", n.Score.Title, err)
	}
	return nil
}

// A document is a MusicXML document as it is written.
type document struct {
	xmlWriter
	notation *paper.Notation
	written  Chords
}

// Identifiers of the parts.
const (
	guideID  = "P1"
	chordsID = "P2"
	bassID   = "P3"
)

func (d *document) write() {
	s := d.notation.Score
	d.WriteString(`<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
`)
	d.begin("score-partwise", "version", "4.0")
	d.begin("work")
	d.leaf("work-title", s.Title)
	d.end()
	d.begin("identification")
	if s.Handout.By != "" {
		d.leaf("creator", s.Handout.By, "type", "arranger")
	}
	d.begin("encoding")
	d.leaf("software", "thirdwise")
	for _, element := range []string{"accidental", "beam"} {
		d.empty("supports", "element", element, "type", "yes")
	}
	d.end()
	d.end()
	d.credits()
	d.begin("part-list")
	d.scorePart(guideID, "Guide", "Nylon-string guitar", 2, 25)
	d.scorePart(chordsID, "Chords", "Steel-string guitar", 1, 26)
	if len(s.Bass) > 0 {
		d.scorePart(bassID, "Bass", "Bass guitar", 3, 34)
	}
	d.end()

	d.guide()
	d.chordsPart()
	if len(s.Bass) > 0 {
		d.bassPart()
	}
	d.end()
}

// credits writes the words that stand on the first page beside the music.
func (d *document) credits() {
	s := d.notation.Score
	credit := func(kind, words string) {
		if words == "" {
			return
		}
		d.begin("credit", "page", "1")
		if kind != "" {
			d.leaf("credit-type", kind)
		}
		d.leaf("credit-words", words)
		d.end()
	}
	credit("title", s.Title)
	credit("subtitle", s.Handout.Subtitle)
	credit("arranger", s.Handout.By)
	for _, paragraph := range s.Handout.Note {
		credit("", paragraph)
	}
}

// scorePart lists a part. Channel and program are counted from 1, as the
// standard has it; both are those of the MIDI files.
func (d *document) scorePart(id, name, instrument string, channel, program int) {
	d.begin("score-part", "id", id)
	d.leaf("part-name", name)
	d.begin("score-instrument", "id", id+"-I1")
	d.leaf("instrument-name", instrument)
	d.end()
	d.begin("midi-instrument", "id", id+"-I1")
	d.leaf("midi-channel", channel)
	d.leaf("midi-program", program)
	d.end()
	d.end()
}

func (d *document) guide() {
	d.begin("part", "id", guideID)
	for i := range d.notation.Measures {
		d.guideMeasure(i)
	}
	d.end()
}

// guideMeasure writes one measure of the guide: first all of the notation, then,
// back at its start, all of the tablature.
func (d *document) guideMeasure(i int) {
	m := &d.notation.Measures[i]
	d.beginMeasure(i)
	if i == 0 {
		d.guideAttributes()
	}
	if m.Section != "" {
		d.rehearsal(m.Section)
	}
	if i == 0 {
		d.opening()
	}
	if m.RepeatTimes > 2 && m.Ending == nil {
		d.words(fmt.Sprintf("%d times", m.RepeatTimes), 0, notationStaff)
	}
	symbols := harmonies{chords: m.Chords}
	for j := range m.Events {
		e := &m.Events[j]
		if d.notation.HeldLastTime(e) {
			d.words("last time: hold", 0, notationStaff)
		}
		symbols.before(d, m, e, notationStaff)
		d.lineEvent(m, j, notationStaff)
	}
	d.begin("backup")
	d.leaf("duration", m.Length)
	d.end()
	for j := range m.Events {
		d.lineEvent(m, j, tabStaff)
	}
	d.rightBarline(i)
	d.end()
}

// lineEvent writes an event of the line on a staff.
func (d *document) lineEvent(m *paper.Measure, i int, staff staffNumber) {
	e := &m.Events[i]
	if e.Rest() {
		d.rest(m, i, staff)
		return
	}
	third, pair := e.Third.Notes, e.Third.Places
	lower, upper := pair.Fingers(e.Third.Hand)
	if !e.Fingered {
		lower, upper = 0, 0
	}
	d.event(m, i, staff, []writtenNote{
		{pitch: third.Lower, place: pair.Lower, accidental: e.Accidentals[0], finger: lower},
		{pitch: third.Upper, place: pair.Upper, accidental: e.Accidentals[1], finger: upper},
	}, hand{})
}

func (d *document) guideAttributes() {
	s := d.notation.Score
	d.begin("attributes")
	d.keyAndTime()
	d.leaf("staves", 2)
	d.leaf("part-symbol", "bracket")
	d.clef(clefs[paper.ClefOf(s.Neck)], "number", "1")
	d.begin("clef", "number", "2")
	d.leaf("sign", "TAB")
	d.end()
	d.begin("staff-details", "number", "2")
	d.leaf("staff-lines", s.Neck.Strings())
	for i, open := range s.Neck.Tuning {
		d.begin("staff-tuning", "line", strconv.Itoa(i+1))
		d.tone("tuning-", open.Tone)
		d.leaf("tuning-octave", open.Octave)
		d.end()
	}
	if s.Neck.Capo > 0 {
		d.leaf("capo", s.Neck.Capo)
	}
	d.end()
	d.end()
}

// keyAndTime begins a part's attributes. A tick of the score is a division.
func (d *document) keyAndTime() {
	s := d.notation.Score
	d.leaf("divisions", meter.Quarter)
	d.begin("key")
	d.leaf("fifths", s.Key.Fifths())
	d.leaf("mode", keyMode(s.Key))
	d.end()
	d.begin("time")
	d.leaf("beats", s.Meter.Beats)
	d.leaf("beat-type", s.Meter.Unit)
	d.end()
}

// keyMode returns the mode as the standard names it: the minor scales
// share one signature and one name.
func keyMode(k theory.Key) string {
	if k.IsMinor() {
		return theory.Minor.String()
	}
	return k.Mode.String()
}

// A clef stands on a line, counted from the lowest. With an 8 below, an octave of −1, it
// reads an octave higher than it sounds, as guitars and basses do.
type clef struct {
	sign         string
	line, octave int
}

// clefs holds the clefs of guitars and their like.
var clefs = [...]clef{
	paper.GuitarClef: {sign: "G", line: 2, octave: -1},
	paper.TrebleClef: {sign: "G", line: 2},
	paper.BassClef:   {sign: "F", line: 4, octave: -1},
}

func (d *document) clef(c clef, attributes ...string) {
	d.begin("clef", attributes...)
	d.leaf("sign", c.sign)
	d.leaf("line", c.line)
	if c.octave != 0 {
		d.leaf("clef-octave-change", c.octave)
	}
	d.end()
}
