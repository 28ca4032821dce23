package sheet

import (
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// evenLines breaks a text into as few lines as a width allows, none much shorter
// than the others.
func evenLines(text string, width, size float64, f drawing.Font) []string {
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

// shortened returns a text that is no wider than a width: where it must be, it is
// cut behind a word, or within one that is too wide itself, and ends with an ellipsis.
func shortened(text string, width, size float64, f drawing.Font) string {
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

// phrase sets words that begin what flows.
func phrase(size float64, f drawing.Font, text string) drawing.Mark {
	return drawing.Text(0, 0, size, f, drawing.FromLeft, text)
}

// flow sets groups of marks side by side in centred lines of a width and height, as
// many in each as fit.
func flow(items [][]drawing.Mark, width, height float64) []drawing.Mark {
	var marks []drawing.Mark
	for i, line := range inRows(items, perRow(widths(items), factSpace, width, len(items)), factSpace, width) {
		marks = append(marks, drawing.Moved(line, 0, float64(i)*height)...)
	}
	return marks
}

func widths(items [][]drawing.Mark) []float64 {
	wide := make([]float64, len(items))
	for i, item := range items {
		box := drawing.BoundsOf(item)
		wide[i] = box.Right - box.Left
	}
	return wide
}

// perRow returns how many of things of such widths, so far apart, stand in each row of a
// width: as many as fit, up to a number.
func perRow(wide []float64, space, width float64, most int) (counts []int) {
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

// evenly returns what perRow does, with as few rows, about equally long.
func evenly(wide []float64, space, width float64) []int {
	counts := perRow(wide, space, width, len(wide))
	for most := range slices.Backward(wide) {
		even := perRow(wide, space, width, most)
		if len(even) > len(counts) {
			break
		}
		counts = even
	}
	return counts
}

// inRows sets groups of marks side by side, so far apart, as many in each row as counts
// says, each row in the middle of a width.
func inRows(items [][]drawing.Mark, counts []int, space, width float64) (rows [][]drawing.Mark) {
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
