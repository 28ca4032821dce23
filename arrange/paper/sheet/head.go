package sheet

import (
	"fmt"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet/flow"
	"thirdwise/arrange/paper/strumming"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// Sizes and distances above the music, in staff spaces.
const (
	titleSize    = 3.8
	longTitle    = 2.6 // of a title that is longer than a line
	subtitleSize = 2.2
	factSize     = 1.8
	noteSize     = 1.6
	factLine     = 3.2 // from one line of them to the next
	noteScale    = 0.72
	noteStem     = 0.12
	gripsSpace   = 1.6  // between two rows of grips
	mapShare     = 0.46 // of the width, for a map beside the grips
)

// head returns the blocks above the music: title, what the player must know,
// and the grips of the chords.
func (l *layout) head() []block {
	var blocks []block
	if l.score.Handout.Student {
		blocks = append(blocks, block{marks: l.studentLine(), after: 2.4, role: drawing.Paragraph})
	}
	blocks = append(blocks, block{marks: l.title(), after: 1.8, role: drawing.Heading1}, block{marks: l.facts(), after: 2.2, role: drawing.Paragraph})
	if note := l.note(); note != nil && l.kind == exercise {
		blocks = append(blocks, block{marks: note, after: 1.8, role: drawing.Paragraph})
	}
	if strum := strumming.Draw(l.score, l.width); strum != nil {
		blocks = append(blocks, block{marks: strum, after: 2.2, role: drawing.Paragraph})
	}
	var beside *neckMap
	if l.mapBeside && l.kind != chordChart {
		beside = newNeckMap(l, mapShare*l.width)
	}
	if beside != nil {
		blocks = append(blocks, block{marks: l.gripsAndMap(beside), role: drawing.Figure, says: l.gripsInWords() + " " + l.mapHeading() + "."})
	} else {
		for i, row := range l.grips(l.width) {
			says := l.gripsInWords()
			if i > 0 {
				says = "More grips."
			}
			blocks = append(blocks, block{marks: row, after: gripsSpace, role: drawing.Figure, says: says})
		}
	}
	blocks[len(blocks)-1].after = 2.4
	return blocks
}

// gripsAndMap sets the grips at the left and the map at the right, both in the
// middle of the height that the taller one has.
func (l *layout) gripsAndMap(m *neckMap) []drawing.Mark {
	room := (1 - mapShare) * l.width
	var grips []drawing.Mark
	y := 0.0
	for _, row := range l.grips(room - 2) {
		box := drawing.BoundsOf(row)
		grips = append(grips, drawing.Moved(row, 0, y-box.Top)...)
		y += box.Bottom - box.Top + gripsSpace
	}
	right := l.mapMarks(m, mapShare*l.width)
	a, b := drawing.BoundsOf(grips), drawing.BoundsOf(right)
	if len(grips) == 0 {
		return l.mapMarks(m, l.width)
	}
	return append(grips, drawing.Moved(right, room, (a.Top+a.Bottom-b.Top-b.Bottom)/2)...)
}

// title sets the title, a long one smaller and in several lines; the subtitle below
// it, and at the right who made the exercise.
func (l *layout) title() []drawing.Mark {
	size := titleSize
	if !l.fits(size, drawing.Bold)(l.score.Title) {
		size = longTitle
	}
	var marks []drawing.Mark
	y := 0.0
	for _, line := range flow.Lines(l.score.Title, l.width, size, drawing.Bold) {
		fit := min(size, size*l.width/drawing.Bold.Width(size, line))
		marks = append(marks, drawing.Text(l.width/2, y, fit, drawing.Bold, drawing.Centred, line))
		y += 1.3 * size
	}
	y += 1.15*subtitleSize - 1.3*size + 1.2
	for _, subtitle := range []string{l.score.Handout.Subtitle, l.heading()} {
		if subtitle == "" {
			continue
		}
		for _, line := range flow.Lines(subtitle, l.width, subtitleSize, drawing.Italic) {
			marks = append(marks, drawing.Text(l.width/2, y, subtitleSize, drawing.Italic, drawing.Centred, line))
			y += 1.3 * subtitleSize
		}
	}
	if by := l.score.Handout.By; by != "" {
		// On the last line of the headings where there is room at the right, else below.
		left := l.width - drawing.Regular.Width(factSize, by) - flow.Space
		last := drawing.BoundsOf(marks[len(marks)-1:])
		if len(marks) > 1 && last.Right < left {
			y = last.Bottom
		}
		for _, line := range paper.Lines(by, l.fits(factSize, drawing.Regular)) {
			marks = append(marks, drawing.Text(l.width, y, factSize, drawing.Regular, drawing.FromRight, line))
			y += 1.3 * factSize
		}
	}
	return marks
}

// studentLine sets the line for the student's name and the date.
func (l *layout) studentLine() []drawing.Mark {
	const line = 0.08
	marks := []drawing.Mark{}
	blank := func(x float64, label string, to float64) {
		from := x + drawing.Regular.Width(factSize, label) + 0.6
		marks = append(marks,
			drawing.Text(x, 0, factSize, drawing.Regular, drawing.FromLeft, label),
			drawing.Stroke(from, 0.3, to, 0.3, line))
	}
	blank(0, "Name", 0.62*l.width)
	blank(0.66*l.width, "Date", l.width)
	return marks
}

// note sets what the teacher tells the student, in lines of a length that is easy
// to read, which begin so that the longest stands in the middle.
func (l *layout) note() []drawing.Mark {
	size := max(noteSize, l.points(9))
	width := min(l.width, 75*drawing.Regular.Width(size, "n"))
	var marks []drawing.Mark
	y := 0.0
	for _, paragraph := range l.score.Handout.Note {
		for _, line := range flow.Lines(paragraph, width, size, drawing.Regular) {
			marks = append(marks, drawing.Text(0, y, size, drawing.Regular, drawing.FromLeft, line))
			y += 1.35 * size
		}
		y += 0.5 * size
	}
	if marks == nil {
		return nil
	}
	return drawing.Moved(marks, (l.width-drawing.BoundsOf(marks).Right)/2, 0)
}

// facts sets key, tempos, feel, passes, position, capo and tuning in lines that
// are centred.
func (l *layout) facts() []drawing.Mark {
	s := l.score
	facts := [][]drawing.Mark{
		{flow.Phrase(factSize, drawing.Regular, s.Key.String())},
		tempoMark(s),
	}
	switch s.Feel {
	case meter.Swing:
		facts = append(facts, swingMark(1))
	case meter.SwingSixteenths:
		facts = append(facts, swingMark(2))
	}
	words := []string{paper.Passes(s.Passes), s.Position.Name()}
	if s.Neck.Capo > 0 {
		words = append(words, fmt.Sprintf("capo %d: sounds in %s, frets counted from the capo", s.Neck.Capo, s.Key))
	}
	if standard := neck.Standard().String(); s.Neck.Tuning.String() != standard {
		words = append(words, "tuning "+s.Neck.Tuning.String())
	}
	for _, w := range words {
		facts = append(facts, []drawing.Mark{flow.Phrase(factSize, drawing.Regular, w)})
	}
	return flow.Centred(facts, l.width, factLine)
}

// smallNote draws a note of a metronome mark from 0 on, on the baseline of the words,
// and returns where it ends.
func smallNote(head drawing.Glyph, dotted bool) (marks []drawing.Mark, end float64) {
	y := -0.42
	stem := (drawing.HeadWidth - noteStem/2) * noteScale
	marks = []drawing.Mark{
		head.At(0, y, noteScale),
		drawing.Stroke(stem, y-0.1, stem, y-3*noteScale, noteStem),
	}
	end = drawing.HeadWidth * noteScale
	if dotted {
		marks = append(marks, drawing.Shape{Path: drawing.Circle(end+0.4, y, 0.18)})
		end += 0.6
	}
	return marks, end
}

// tempoMark sets the beat and the tempos: a note, an equals sign, numbers.
func tempoMark(s *score.Score) []drawing.Mark {
	head, name := drawing.BlackHead, "quarter"
	if s.Meter.Unit == 2 {
		head, name = drawing.HalfHead, "half"
	}
	if s.Meter.Compound() {
		name = "dotted quarter"
	}
	marks, end := smallNote(head, s.Meter.Compound())
	tempos := make([]string, len(s.Tempos))
	for i, t := range s.Tempos {
		tempos[i] = fmt.Sprint(t)
	}
	words := "= " + strings.Join(tempos, ", ")
	marks = append(marks, drawing.Text(end+0.8, 0, factSize, drawing.Regular, drawing.FromLeft, words))
	return []drawing.Mark{drawing.Group{Reads: name + " " + words, Marks: marks}}
}

// swingMark says how notes of so many flags are played, eighths or sixteenths: two of
// them as the first and the last of a triplet.
func swingMark(flags int) []drawing.Mark {
	marks := []drawing.Mark{flow.Phrase(factSize, drawing.Regular, "Swing")}
	x := drawing.Regular.Width(factSize, "Swing") + 1.0
	pair := func(x, apart float64) (float64, float64) {
		note, end := smallNote(drawing.BlackHead, false)
		marks = append(append(marks, drawing.Moved(note, x, 0)...), drawing.Moved(note, x+apart, 0)...)
		return x + end, x + apart + end
	}
	const beam, step = 0.36, 0.55
	top := -0.42 - 3*noteScale
	first, last := pair(x, 1.7)
	left := first - noteStem*noteScale
	for i := range flags {
		y := top + step*float64(i)
		marks = append(marks, drawing.Shape{Path: drawing.Polygon(drawing.Pt(left, y), drawing.Pt(last, y), drawing.Pt(last, y+beam), drawing.Pt(left, y+beam))})
	}
	marks = append(marks, drawing.Text(last+0.6, 0, factSize, drawing.Regular, drawing.FromLeft, "="))
	x = last + 0.6 + drawing.Regular.Width(factSize, "=") + 0.6
	first, last = pair(x, 1.9)
	for i, end := range []float64{first, last} {
		for flag := range flags - 1 + i {
			marks = append(marks, drawing.UpFlag.At(end-noteStem*noteScale, top+step*float64(flag), noteScale*0.8))
		}
	}
	left, right, y, middle := x, last+0.3, top-0.55, (x+last)/2
	marks = append(marks,
		drawing.Text(middle, y+0.4, 1.1, drawing.Italic, drawing.Centred, "3"),
		drawing.Stroke(left, y, middle-0.5, y, 0.1), drawing.Stroke(middle+0.5, y, right, y, 0.1),
		drawing.Stroke(left, y, left, y+0.4, 0.1), drawing.Stroke(right, y, right, y+0.4, 0.1),
	)
	name := [...]string{1: "eighths", 2: "sixteenths"}[flags]
	return []drawing.Mark{drawing.Group{Reads: "Swing: " + name + " as the first and last of a triplet", Marks: marks}}
}
