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
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
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
			texts[bar] = t.alone(b)
		}
	}
	return texts
}

// alone returns the rows of one bar.
func (t *tab) alone(b tabBar) string {
	plain := *b.Measure
	plain.RepeatOpens, plain.RepeatTimes = false, 0
	b.Measure = &plain
	rows := t.rows([]tabBar{b})[1:]
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

// A tabBar is one measure of a tab: where its columns stand.
type tabBar struct {
	*paper.Measure
	ticks []int // of each column, from the start of the measure, rising
	cell  int   // characters a column
}

// width returns the characters of the bar, its first bar line included.
func (b tabBar) width() int { return 2 + len(b.ticks)*b.cell }

// at returns where a tick's column stands, from the bar line on.
func (b tabBar) at(tick int) int {
	i, _ := slices.BinarySearch(b.ticks, tick)
	return 2 + i*b.cell
}

func newTab(n *paper.Notation) *tab {
	t := &tab{Notation: n, score: n.Score}
	for str := 1; str <= t.score.Neck.Strings(); str++ {
		t.label = max(t.label, utf8.RuneCountInString(t.stringName(str)))
	}
	cell := 2
	for i := range n.Measures {
		bar := tabBar{Measure: &n.Measures[i], cell: 2}
		bar.ticks = bar.columns(t.score.Meter)
		bar.cell = bar.narrowest(t.score.Meter)
		cell = max(cell, bar.cell)
		t.bars = append(t.bars, bar)
	}
	for i := range t.bars { // all alike, so that bars stand below one another
		if b := &t.bars[i]; t.label+2+len(b.ticks)*cell < paper.TextWidth {
			b.cell = cell
		}
	}
	return t
}

// columns divides the measure by the beats that are counted, and each of them by
// the shortest step of what happens in it: by two at least where beats divide so.
// What is not counted has a column where something happens.
func (b tabBar) columns(m meter.Meter) []int {
	happens := map[int]bool{}
	for _, e := range b.Events {
		happens[e.Tick] = true
	}
	for _, c := range b.Chords {
		happens[c.Tick-b.Tick] = true
	}
	var ticks []int
	for start := 0; start < b.Length; start += m.UnitTicks() {
		ticks = append(ticks, dividedBeat(m, start, happens)...)
	}
	return ticks
}

// dividedBeat returns the columns of a beat.
func dividedBeat(m meter.Meter, start int, happens map[int]bool) []int {
	const most = 8 // even steps in a beat
	unit := m.UnitTicks()
	step := unit
	var within []int
	for tick := start; tick < start+unit; tick++ {
		if happens[tick] {
			step = paper.CommonStep(step, tick-start)
			within = append(within, tick)
		}
	}
	if step == unit && m.Unit != 8 {
		step = unit / 2
	}
	if unit/step > most {
		if !happens[start] {
			within = append([]int{start}, within...)
		}
		return within
	}
	var ticks []int
	for tick := start; tick < start+unit; tick += step {
		ticks = append(ticks, tick)
	}
	return ticks
}

// narrowest returns the fewest characters a column that leave room for every
// fret and chord symbol.
func (b tabBar) narrowest(m meter.Meter) int {
	cell := 2
	if m.Unit == 8 && m.Beats > 9 { // counts of two digits in neighbouring columns
		cell = 3
	}
	for _, e := range b.Events {
		if !e.Rest() && max(e.Third.Places.Lower.Fret, e.Third.Places.Upper.Fret) > 9 {
			cell = 3
		}
	}
	column := func(tick int) int { return (tabBar{ticks: b.ticks, cell: 1}).at(tick) }
	for i, c := range b.Chords {
		end := 2 + len(b.ticks)
		if i+1 < len(b.Chords) {
			end = column(b.Chords[i+1].Tick - b.Tick)
		}
		columns := end - column(c.Tick-b.Tick)
		cell = max(cell, (utf8.RuneCountInString(c.Label())+columns)/columns)
	}
	return cell
}

// systems divides the bars into rows: at most four a row, a new one where a
// section begins, and rows of a section as equal as can be.
func (t *tab) systems() [][]tabBar {
	var systems [][]tabBar
	for first := 0; first < len(t.bars); {
		end := first + 1
		for end < len(t.bars) && t.bars[end].Section == "" {
			end++
		}
		systems = append(systems, t.divide(t.bars[first:end])...)
		first = end
	}
	return systems
}

// divide puts the bars of a section into as few rows as they need, and of those
// rows none has more bars than it must.
func (t *tab) divide(bars []tabBar) (rows [][]tabBar) {
	for most := 4; most > 0; most-- {
		fewer := t.fill(bars, most)
		if rows != nil && len(fewer) > len(rows) {
			break
		}
		rows = fewer
	}
	return rows
}

// fill puts bars into rows, as many in each as have room, up to a number.
func (t *tab) fill(bars []tabBar, most int) (rows [][]tabBar) {
	first, width := 0, 0
	for i, b := range bars {
		if i > first && (i-first == most || t.label+1+width+b.width() > paper.TextWidth) {
			rows = append(rows, bars[first:i])
			first, width = i, 0
		}
		width += b.width()
	}
	return append(rows, bars[first:])
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
		strs[i].Put(width-1, "|")
	}
	above := remarks{width: paper.TextWidth}
	above.put(0, fmt.Sprint(bars[0].Number))
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

// bar writes one bar into the rows of its system, its bar line at column x.
func (t *tab) bar(b tabBar, x int, chords, beats paper.Row, strs []paper.Row) {
	for _, c := range b.Chords {
		chords.Put(x+b.at(c.Tick-b.Tick), c.Label())
	}
	for i := range strs {
		strs[i].Put(x, "|")
	}
	for _, i := range []int{(len(strs) - 1) / 2, len(strs) / 2} { // repeat dots, around the middle
		if b.RepeatOpens {
			strs[i].Put(x+1, ":")
		}
		if b.RepeatTimes > 0 {
			strs[i].Put(x+b.width()-1, ":")
		}
	}
	for _, e := range b.Events {
		if e.Rest() || e.TiedFrom {
			continue
		}
		for _, p := range []neck.Place{e.Third.Places.Lower, e.Third.Places.Upper} {
			strs[p.String-1].Put(x+b.at(e.Tick), fmt.Sprint(p.Fret))
		}
	}
	for i, tick := range b.ticks {
		beats.Put(x+2+i*b.cell, paper.Count(t.score.Meter, tick))
	}
}
