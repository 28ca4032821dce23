package tab

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
)

// Write writes a score's line as a text tab, at most 80 columns wide, for a
// fixed-width font: chord symbols and section names above the strings, beats
// below, each third as two frets one above the other. Repeats are repeat signs;
// count-in and passes are not written out. The errors are those of w.
func Write(w io.Writer, n *paper.Notation) error {
	t := newTab(n)
	out := bufio.NewWriter(w)
	for _, line := range t.head() {
		fmt.Fprintln(out, line)
	}
	t.write(out)
	fmt.Fprintln(out)
	for _, line := range t.foot() {
		fmt.Fprintln(out, line)
	}
	return out.Flush()
}

// WriteSystems writes the tab as [Write] does, with nothing above and below it but an
// empty line before each system.
func WriteSystems(w io.Writer, n *paper.Notation) error {
	out := bufio.NewWriter(w)
	newTab(n).write(out)
	return out.Flush()
}

func (t *tab) write(out io.Writer) {
	for _, system := range t.systems() {
		fmt.Fprintln(out)
		for _, line := range t.rows(system) {
			fmt.Fprintln(out, strings.TrimRight(line, " "))
		}
	}
}

// Bars returns the tab of each bar of the score: its chord symbols first, its
// counts last, and no repeat signs.
func Bars(n *paper.Notation) []string {
	t := newTab(n)
	texts := make([]string, len(n.Score.Bars))
	for _, b := range t.bars {
		for _, bar := range b.Bars {
			texts[bar] = strings.TrimPrefix(texts[bar]+"\n"+t.alone(b), "\n")
		}
	}
	return texts
}

// alone returns the rows of one bar.
func (t *tab) alone(b tabBar) string {
	plain := *b.Measure
	plain.RepeatOpens, plain.RepeatTimes = false, 0
	b.Measure = &plain
	rows := t.rows([]tabBar{b})
	rows = rows[len(rows)-t.score.Neck.Strings()-2:] // without what is remarked above
	lines := make([]string, len(rows))
	for i := range rows {
		lines[i] = strings.TrimRight(rows[i], " ")
	}
	return strings.Join(lines, "\n")
}

// A tab is a notation on its way to text.
type tab struct {
	*paper.Notation
	score *score.Score
	bars  []tabBar
	label int // columns of the strings' names
}

func newTab(n *paper.Notation) *tab {
	t := &tab{Notation: n, score: n.Score}
	for str := 1; str <= t.score.Neck.Strings(); str++ {
		t.label = max(t.label, utf8.RuneCountInString(t.stringName(str)))
	}
	for i := range n.Measures {
		bar := tabBar{Measure: &n.Measures[i], index: i, begins: true, ends: true}
		bar.ticks = bar.columns(t.score.Meter)
		bar.cells = bar.narrowest(t.score.Meter)
		t.bars = append(t.bars, bar.divided(t.score.Meter, paper.TextWidth-t.label-1)...)
	}
	return t
}

// stringName returns the name that stands before a string.
func (t *tab) stringName(str int) string {
	tuning := t.score.Neck.Tuning
	return tuning.Open(str).Tone.String()
}

// rows returns the lines of text of one system: one or more of remarks, chord
// symbols, the strings, the counts.
func (t *tab) rows(bars []tabBar) []string {
	width := t.label + 1
	for _, b := range bars {
		width += b.width()
	}
	chords, beats := paper.NewRow(width, ' '), paper.NewRow(width, ' ')
	strs := make([]paper.Row, t.score.Neck.Strings())
	for i := range strs {
		strs[i] = paper.NewRow(width, '-')
		strs[i].Put(0, strings.Repeat(" ", t.label))
		strs[i].Put(0, t.stringName(i+1))
		if bars[len(bars)-1].ends {
			strs[i].Put(width-1, "|")
		}
	}
	above := remarks{width: paper.TextWidth}
	if bars[0].begins {
		above.put(0, bars[0].Label())
	}
	x := t.label
	for _, b := range bars {
		above.of(b, x)
		t.bar(b, x, chords, beats, strs)
		x += b.width()
	}
	var lines []string
	for _, r := range slices.Concat(above.rows, []paper.Row{chords}, strs, []paper.Row{beats}) {
		lines = append(lines, string(r))
	}
	return lines
}
