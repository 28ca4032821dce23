package sheet

import (
	"fmt"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// Sizes and distances above the music, in staff spaces.
const (
	titleSize  = 3.8
	longTitle  = 2.6 // of a title that is longer than a line
	factSize   = 1.8
	factSpace  = 2.6 // between two facts about the exercise
	noteScale  = 0.72
	noteStem   = 0.12
	gripsSpace = 1.6 // between two rows of grips
)

// head returns the blocks above the music: title, what the player must know,
// and the grips of the chords.
func (l *layout) head() []block {
	blocks := []block{{marks: l.title(), after: 1.8}, {marks: l.facts(), after: 2.2}}
	for _, row := range l.grips() {
		blocks = append(blocks, block{marks: row, after: gripsSpace})
	}
	blocks[len(blocks)-1].after = 2.4
	return blocks
}

// title sets the title, a long one smaller and in several lines.
func (l *layout) title() []drawing.Mark {
	size := titleSize
	if !l.fits(size, drawing.Bold)(l.score.Title) {
		size = longTitle
	}
	var marks []drawing.Mark
	for i, line := range paper.Lines(l.score.Title, l.fits(size, drawing.Bold)) {
		fit := min(size, size*l.width/drawing.Bold.Width(size, line))
		marks = append(marks, drawing.Text(l.width/2, float64(i)*1.3*size, fit, drawing.Bold, drawing.Centred, line))
	}
	return marks
}

// facts sets key, tempos, feel, passes, position, capo and tuning in lines that
// are centred.
func (l *layout) facts() []drawing.Mark {
	s := l.score
	facts := [][]drawing.Mark{
		{drawing.Text(0, 0, factSize, drawing.Regular, drawing.FromLeft, s.Key.String())},
		tempoMark(s),
	}
	if s.Feel == meter.Swing {
		facts = append(facts, swingMark())
	}
	words := []string{passesName(s.Passes), s.Position.Name()}
	if s.Neck.Capo > 0 {
		words = append(words, fmt.Sprintf("capo %d: sounds in %s, frets counted from the capo", s.Neck.Capo, s.Key))
	}
	if standard := neck.Standard().String(); s.Neck.Tuning.String() != standard {
		words = append(words, "tuning "+s.Neck.Tuning.String())
	}
	for _, w := range words {
		facts = append(facts, []drawing.Mark{drawing.Text(0, 0, factSize, drawing.Regular, drawing.FromLeft, w)})
	}
	return l.flow(facts)
}

// flow sets groups of marks side by side in centred lines, as many in each as
// fit.
func (l *layout) flow(items [][]drawing.Mark) []drawing.Mark {
	const lineHeight = 3.2
	var marks, row []drawing.Mark
	x, y := 0.0, 0.0
	flush := func() {
		if len(row) > 0 {
			marks = append(marks, drawing.Moved(row, (l.width-(x-factSpace))/2, y)...)
		}
		row, x, y = nil, 0, y+lineHeight
	}
	for _, item := range items {
		box := drawing.BoundsOf(item)
		if x+box.Right > l.width {
			flush()
		}
		row = append(row, drawing.Moved(item, x-box.Left, 0)...)
		x += box.Right - box.Left + factSpace
	}
	flush()
	return marks
}

// smallNote draws a note of a metronome mark with its left edge at x, on the
// baseline of the words, and returns where it ends.
func smallNote(x float64, value int, dotted bool) (marks []drawing.Mark, end float64) {
	y := -0.42
	head := drawing.BlackHead
	if value == 2 {
		head = drawing.HalfHead
	}
	stem := x + (drawing.HeadWidth-noteStem/2)*noteScale
	marks = []drawing.Mark{
		head.At(x, y, noteScale),
		drawing.Stroke(stem, y-0.1, stem, y-3*noteScale, noteStem),
	}
	end = x + drawing.HeadWidth*noteScale
	if dotted {
		marks = append(marks, drawing.Shape{Path: drawing.Circle(end+0.4, y, 0.18)})
		end += 0.6
	}
	return marks, end
}

// tempoMark sets the beat and the tempos: a note, an equals sign, numbers.
func tempoMark(s *score.Score) []drawing.Mark {
	value, name := 4, "quarter"
	if s.Meter.Unit == 2 {
		value, name = 2, "half"
	}
	if s.Meter.Compound() {
		name = "dotted quarter"
	}
	marks, end := smallNote(0, value, s.Meter.Compound())
	tempos := make([]string, len(s.Tempos))
	for i, t := range s.Tempos {
		tempos[i] = fmt.Sprint(t)
	}
	words := "= " + strings.Join(tempos, ", ")
	marks = append(marks, drawing.Text(end+0.5, 0, factSize, drawing.Regular, drawing.FromLeft, words))
	return []drawing.Mark{drawing.Group{Reads: name + " " + words, Marks: marks}}
}

// swingMark says how eighths are played: as the first and the last of a triplet.
func swingMark() []drawing.Mark {
	marks := []drawing.Mark{drawing.Text(0, 0, factSize, drawing.Regular, drawing.FromLeft, "Swing")}
	x := drawing.Regular.Width(factSize, "Swing") + 1.0
	pair := func(x, apart float64) (float64, float64) {
		left, end := smallNote(x, 4, false)
		right, last := smallNote(x+apart, 4, false)
		marks = append(append(marks, left...), right...)
		return end, last
	}
	top := -0.42 - 3*noteScale
	first, last := pair(x, 1.7)
	beam := drawing.Pt(first-noteStem*noteScale, top)
	marks = append(marks, drawing.Shape{Path: drawing.Polygon(beam, drawing.Pt(last, top), drawing.Pt(last, top+0.36), drawing.Pt(beam.X, top+0.36))})
	marks = append(marks, drawing.Text(last+0.6, 0, factSize, drawing.Regular, drawing.FromLeft, "="))
	x = last + 0.6 + drawing.Regular.Width(factSize, "=") + 0.6
	_, last = pair(x, 1.9)
	marks = append(marks, drawing.UpFlag.At(last-noteStem*noteScale, top, noteScale*0.8))
	left, right, y, middle := x, last+0.3, top-0.55, (x+last)/2
	marks = append(marks,
		drawing.Text(middle, y+0.4, 1.1, drawing.Italic, drawing.Centred, "3"),
		drawing.Stroke(left, y, middle-0.5, y, 0.1), drawing.Stroke(middle+0.5, y, right, y, 0.1),
		drawing.Stroke(left, y, left, y+0.4, 0.1), drawing.Stroke(right, y, right, y+0.4, 0.1),
	)
	return []drawing.Mark{drawing.Group{Reads: "Swing: eighths as the first and last of a triplet", Marks: marks}}
}

func passesName(n int) string {
	switch n {
	case 1:
		return "once through"
	case 2:
		return "twice through"
	}
	words := map[int]string{3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine", 10: "ten"}
	if w, ok := words[n]; ok {
		return w + " times through"
	}
	return fmt.Sprintf("%d times through", n)
}
