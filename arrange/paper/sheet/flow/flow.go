// Package flow sets words in lines, and small drawings side by side in rows, none much
// longer than the others. Lengths are in staff spaces.
package flow

import (
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Space is what stands between two things that [Centred] sets.
const Space = 2.6

// Lines breaks a text into as few lines as a width allows, none much shorter
// than the others.
func Lines(text string, width, size float64, f drawing.Font) []string {
	within := func(width float64) []string {
		return paper.Lines(text, func(line string) bool { return f.Width(size, line) <= width })
	}
	lines := within(width)
	for step := width; step > 0.1; step /= 2 {
		if narrower := within(width - step); len(narrower) == len(lines) {
			lines, width = narrower, width-step
		}
	}
	return lines
}

// Shortened returns a text that is no wider than a width: where it must be, it is
// cut behind a word, or within one that is too wide itself, and ends with an ellipsis.
func Shortened(text string, width, size float64, f drawing.Font) string {
	fits := func(text string) bool { return f.Width(size, text) <= width }
	if fits(text) {
		return text
	}
	cut := func(line string) string { return line + "…" }
	begun := []rune(paper.Lines(text, func(line string) bool { return fits(cut(line)) })[0])
	for !fits(cut(string(begun))) {
		begun = begun[:len(begun)-1]
	}
	return cut(string(begun))
}

// Phrase sets words that begin what [Centred] sets.
func Phrase(size float64, f drawing.Font, text string) drawing.Mark {
	return drawing.Text(0, 0, size, f, drawing.FromLeft, text)
}

// Centred sets groups of marks side by side in centred lines of a width and height, as
// few as can be and about equally long.
func Centred(items [][]drawing.Mark, width, height float64) []drawing.Mark {
	var marks []drawing.Mark
	for i, line := range InRows(items, Evenly(Widths(items), Space, width), Space, width) {
		marks = append(marks, drawing.Moved(line, 0, float64(i)*height)...)
	}
	return marks
}

// Widths returns the widths of groups of marks.
func Widths(items [][]drawing.Mark) []float64 {
	wide := make([]float64, len(items))
	for i, item := range items {
		box := drawing.BoundsOf(item)
		wide[i] = box.Right - box.Left
	}
	return wide
}

// PerRow returns how many of things of such widths, so far apart, stand in each row of a
// width: as many as fit, up to a number.
func PerRow(wide []float64, space, width float64, most int) (counts []int) {
	room := 0.0 // in the last row
	for _, w := range wide {
		if w > room || counts[len(counts)-1] == most {
			counts, room = append(counts, 0), width
		}
		counts[len(counts)-1]++
		room -= w + space
	}
	return counts
}

// Evenly returns what [PerRow] does, with as few rows, about equally long.
func Evenly(wide []float64, space, width float64) []int {
	counts := PerRow(wide, space, width, len(wide))
	for most := range slices.Backward(wide) {
		even := PerRow(wide, space, width, most)
		if len(even) > len(counts) {
			break
		}
		counts = even
	}
	return counts
}

// InRows sets groups of marks side by side, so far apart, as many in each row as counts
// says, each row in the middle of a width.
func InRows(items [][]drawing.Mark, counts []int, space, width float64) (rows [][]drawing.Mark) {
	for _, n := range counts {
		var row []drawing.Mark
		end := -space
		for _, item := range items[:n] {
			box := drawing.BoundsOf(item)
			row = append(row, drawing.Moved(item, end+space-box.Left, 0)...)
			end += space + box.Right - box.Left
		}
		rows = append(rows, drawing.Moved(row, (width-end)/2, 0))
		items = items[n:]
	}
	return rows
}
