package board

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/score"
)

// writeChart writes the chart as it is written in the exercise, repeats
// included, with numerals under its chords. A section begins a row, and a
// repeat ends one.
func (b *writer) writeChart() {
	written := b.chart
	b.printf("\nChart\n")
	cells := make([]chartCell, len(written))
	width, margin := 0, ""
	for i, bar := range written {
		cells[i] = chartCellOf(b.firstPlayed(i))
		if bar.Ending != nil && !slices.Equal(bar.Ending, written[i-1].Ending) {
			cells[i] = cells[i].inEnding(score.Ending{Times: bar.Ending})
		}
		width = max(width, utf8.RuneCountInString(cells[i].chords), utf8.RuneCountInString(cells[i].numerals))
		if bar.RepeatOpens {
			margin = " " // keeps a repeat sign off the chord behind it
		}
	}
	for i := range cells {
		cells[i].chords = margin + pad(cells[i].chords, width)
		cells[i].numerals = margin + pad(cells[i].numerals, width)
	}
	width += len(margin)
	for first := 0; first < len(written); {
		last := rowEnd(written, first, barsAcross(width))
		b.writeChartRow(written[first:last], cells[first:last], b.barNumber(first))
		first = last
	}
}

// barNumber returns the number of a bar of the chart.
func (b *writer) barNumber(written int) int { return b.firstPlayed(written).Number }

// firstPlayed returns a bar of the chart as it is first played.
func (b *writer) firstPlayed(written int) score.Bar {
	i := slices.IndexFunc(b.score.Bars, func(bar score.Bar) bool { return bar.Written == written })
	return b.score.Bars[i]
}

// A chartCell is a bar's chords, and its numerals under them.
type chartCell struct{ chords, numerals string }

func chartCellOf(bar score.Bar) chartCell {
	var c chartCell
	for _, span := range bar.Chords {
		name := span.Label()
		width := max(utf8.RuneCountInString(name), utf8.RuneCountInString(span.Numeral)) + 1
		c.chords += pad(name, width)
		c.numerals += pad(span.Numeral, width)
	}
	return c
}

// inEnding returns the cell with the times of the ending that begins in it.
func (c chartCell) inEnding(e score.Ending) chartCell {
	times := e.String() + " "
	return chartCell{times + c.chords, strings.Repeat(" ", utf8.RuneCountInString(times)) + c.numerals}
}

// Columns of a chart row beside its bars' chords.
const (
	chartIndent = 6 // the first bar's number
	chartFrame  = 3 // a bar's line and its repeat signs
	chartEnd    = 5 // the last bar line, and how often a repeat is played
)

// barsAcross returns how many bars stand in a row of the chart.
func barsAcross(width int) int {
	for _, bars := range []int{4, 2} {
		if chartIndent+bars*(width+chartFrame)+chartEnd <= columns {
			return bars
		}
	}
	return 1
}

// rowEnd returns the index behind the last bar of the row that begins at first.
func rowEnd(bars []chart.Bar, first, across int) int {
	last := first + 1
	for last < len(bars) && last-first < across &&
		bars[last].Section == "" && bars[last-1].RepeatTimes == 0 {
		last++
	}
	return last
}

func (b *writer) writeChartRow(bars []chart.Bar, cells []chartCell, first int) {
	if bars[0].Section != "" {
		b.printf("%s[%s]\n", strings.Repeat(" ", chartIndent), bars[0].Section)
	}
	above := fmt.Sprintf("%*d ", chartIndent-1, first)
	below := strings.Repeat(" ", chartIndent)
	for i, bar := range bars {
		open, closed := " ", " "
		if bar.RepeatOpens {
			open = ":"
		}
		if bar.RepeatTimes > 0 {
			closed = ":"
		}
		above += "|" + open + cells[i].chords + closed
		below += "  " + cells[i].numerals + " "
	}
	above += "|"
	if last := bars[len(bars)-1]; last.RepeatTimes > 2 && last.Ending == nil {
		above += fmt.Sprintf(" ×%d", last.RepeatTimes)
	}
	b.printf("%s\n%s\n", above, strings.TrimRight(below, " "))
}
