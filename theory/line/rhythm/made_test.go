package rhythm_test

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
)

// A charted is a chart in a line of text: bars with | between them, in a bar c for each
// chord, which have equal shares of it, and . for one without a chord. [ begins a section.
type charted struct {
	name, meter    string
	slots, density int // slots to a quarter; per cent
	chart          string
	// how is what else is asked for: open, where nothing leads on from the end; push;
	// style=2; sections=1,2,1 the numbers of those that begin; first=0 part=2 times=2 endings=1,2, spans of a part that comes again;
	// rhythm0=x-.x what is written of a bar.
	how string
}

// maker returns the maker of the chart's rhythm, its spans, and what comes again.
func (c charted) maker(t *testing.T) (rhythm.Maker, []rhythm.Span, []rhythm.RepeatedPart) {
	in, err := meter.Parse(c.meter)
	require.NoError(t, err)
	m := rhythm.Maker{Meter: in, Grid: meter.Quarter / c.slots, Density: c.density, Written: map[int][]rhythm.Sign{}}
	var part rhythm.RepeatedPart
	open := false
	var sections []int
	for _, asked := range strings.Fields(c.how) {
		name, value, _ := strings.Cut(asked, "=")
		number, _ := strconv.Atoi(value)
		bar, _ := strconv.Atoi(strings.TrimPrefix(name, "rhythm"))
		switch strings.TrimRight(name, "0123456789") {
		case "open":
			open = true
		case "push":
			m.Push = true
		case "style":
			m.Style = number
		case "first":
			part.First = number
		case "part":
			part.Length = number
		case "times":
			part.Times = number
		case "endings":
			part.Endings = numbers(t, value)
		case "sections":
			sections = numbers(t, value)
		case "rhythm":
			m.Written[bar] = []rhythm.Sign(value)
		default:
			t.Fatalf("%s: %q is not known", c.name, asked)
		}
	}
	var repeats []rhythm.RepeatedPart
	if part.Times > 0 {
		repeats = append(repeats, part)
	}
	return m, c.spans(in.Bar(), open, sections), repeats
}

func numbers(t *testing.T, listed string) (list []int) {
	for text := range strings.SplitSeq(listed, ",") {
		number, err := strconv.Atoi(text)
		require.NoError(t, err)
		list = append(list, number)
	}
	return list
}

func (c charted) spans(bar int, open bool, sections []int) (spans []rhythm.Span) {
	begun := 0
	for i, text := range strings.Split(c.chart, "|") {
		section := 0
		if strings.Contains(text, "[") || i == 0 {
			begun++
			section = begun
			if sections != nil {
				section = sections[begun-1]
			}
		}
		text = strings.ReplaceAll(strings.ReplaceAll(text, "[", ""), " ", "")
		for j, sign := range text {
			if sign != 'c' {
				continue
			}
			s := rhythm.Span{Start: i*bar + j*bar/len(text), End: i*bar + (j+1)*bar/len(text), Bar: i, Section: section}
			section = 0
			if n := len(spans); n > 0 {
				spans[n-1].Leads = spans[n-1].End == s.Start
			}
			spans = append(spans, s)
		}
	}
	last := &spans[len(spans)-1]
	last.Leads, last.Last = !open, open
	return spans
}

// phrasing writes phrases: the spans of each from 1, the letter of its section and its
// number in it. Where more bars belong to it than it has, it says how many, and how
// many of them go before.
func phrasing(m rhythm.Maker, spans []rhythm.Span, phrases []rhythm.Phrase) string {
	var all []string
	for _, p := range phrases {
		last := p.First + p.Spans - 1
		text := fmt.Sprintf("%d-%d %c%d", p.First+1, last+1, 'A'+p.Section, p.Index+1)
		if own := spans[last].Start/m.Meter.Bar() - spans[p.First].Start/m.Meter.Bar() + 1; own != p.Bars {
			text += fmt.Sprintf(" of %d bars, %d before", p.Bars, p.Before)
		}
		all = append(all, text)
	}
	return strings.Join(all, "; ")
}

// bars writes notes down: X an arrival, x another third, - held, and . a rest. A bar
// that states its phrase's rhythm begins with =. Where something begins or ends off the
// grid, there are more signs.
func bars(m rhythm.Maker, notes []rhythm.Note, until int) string {
	step := m.Grid
	for _, n := range notes {
		step = common(common(step, n.Tick), n.Length)
	}
	var b strings.Builder
	for tick := 0; tick < until; tick += step {
		if tick%m.Meter.Bar() == 0 {
			b.WriteString(" | ")
		}
		sign := "."
		for _, n := range notes {
			switch {
			case n.Tick == tick && n.Arrival:
				sign = "X"
			case n.Tick == tick:
				sign = "x"
			case n.Tick < tick && tick < n.Tick+n.Length:
				sign = "-"
			}
			if n.Tick == tick && n.Statement {
				sign = strings.Replace(sign, "X", "=X", 1)
			}
		}
		b.WriteString(sign)
	}
	return b.String()
}

// common returns the greatest common divisor of two numbers.
func common(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}

// Rhythms that a person has looked at and clapped, over charts of many kinds.
func TestRhythmsThatAreMade(t *testing.T) {
	const eight = "c | c | c | c | c | c | c | c"
	cases := []charted{
		{"four in quarters", "4/4", 1, 50, eight, ""},
		{"four in triplets", "4/4", 3, 50, eight, ""},
		{"four in sixteenths", "4/4", 4, 50, eight, ""},
		{"three", "3/4", 2, 50, eight, ""},
		{"six", "6/8", 2, 50, eight, ""},
		{"seven", "7/8", 2, 50, eight, ""},
		{"seven in quarters", "7/8", 1, 70, eight, ""},
		{"seven in triplets", "7/8", 3, 60, eight, ""},
		{"twelve", "12/8", 2, 50, eight, ""},
		{"two halves", "2/2", 2, 50, eight, ""},
		{"five", "5/4", 2, 50, eight, ""},
		{"two chords a bar", "4/4", 2, 50, "c c | c c | c c | c c | c c | c c | c c | c c", ""},
		{"two chords a bar, in sixteenths", "4/4", 4, 60, "c c | c c | c c | c c", ""},
		{"three chords a bar, off the grid", "4/4", 2, 60, "c c c | c c c | c c c | c c c", ""},
		{"three chords a bar, in sixteenths", "4/4", 4, 60, "c c c | c c c | c c c | c c c", ""},
		{"five chords a bar", "4/4", 2, 50, "c c c c c | c", ""},
		{"two chords in five", "5/4", 2, 50, "c c | c c | c c | c c", ""},
		{"two chords in three, in quarters", "3/4", 1, 100, "c c | c c | c c | c c", ""},
		{"one bar", "4/4", 2, 50, "c", ""},
		{"two bars", "4/4", 2, 50, "c | c", ""},
		{"three bars", "4/4", 2, 50, "c | c | c", ""},
		{"five bars", "4/4", 2, 50, "c | c | c | c | c", ""},
		{"six bars", "4/4", 2, 50, "c | c | c | c | c | c", ""},
		{"nine bars, the last two open", "4/4", 2, 50, "c | c | c | c | c | c | c | c | c", "open"},
		{"sections", "4/4", 2, 50, "[c | c | c | [c | c | [c | c | c | c | c | c", ""},
		{"sections that come again", "4/4", 2, 50, "[c | c | c | c | [c | c | c | c | [c | c | c | c | [c | c | c | c", "sections=1,2,1,3"},
		{"a section that comes first again, longer", "4/4", 2, 50, "[c | c | [c | c | c | c | [c | c | c | c | c | c | c | c", "sections=2,1,2"},
		{"bars before the first section", "4/4", 2, 50, "c | c | [c | c | c | c | [c | c | c | c", "sections=1,2,1"},
		{"few in eighths", "4/4", 2, 20, eight, ""},
		{"many in eighths", "4/4", 2, 75, eight, ""},
		{"few in sixteenths", "4/4", 4, 15, eight, ""},
		{"some in sixteenths", "4/4", 4, 30, eight, ""},
		{"many in sixteenths", "4/4", 4, 70, eight, ""},
		{"few in six", "6/8", 2, 25, eight, ""},
		{"sixteenths in six", "6/8", 4, 40, eight, ""},
		{"sixteenths in twelve", "12/8", 4, 30, eight, ""},
		{"few in twelve", "12/8", 2, 20, eight, ""},
		{"few in nine", "9/8", 2, 30, eight, ""},
		{"some in five", "5/4", 2, 30, eight, ""},
		{"some in seven quarters", "7/4", 2, 30, eight, ""},
		{"few in seven quarters", "7/4", 2, 15, eight, ""},
		{"fewer in seven quarters", "7/4", 2, 10, eight, ""},
		{"some in six", "6/8", 2, 35, eight, ""},
		{"some in nine", "9/8", 2, 45, eight, ""},
		{"some in twelve", "12/8", 2, 35, eight, ""},
		{"two chords a bar, few", "4/4", 2, 25, "c c | c c | c c | c c", ""},
		{"three chords a bar in sixteenths of three", "3/4", 4, 40, "c c c | c c c | c c c | c c c", ""},
		{"a rest where a phrase would begin", "4/4", 2, 70, "c | c | c | c | . | c | c | c | c | c", ""},
		{"a rest", "4/4", 2, 70, "c | . | c | . c | c", ""},
		{"a chord on two, a rest behind it", "4/4", 2, 70, ". c c . | c . | c | c", ""},
		{"open", "4/4", 2, 70, "c | c | c | c", "open"},
		{"pushed", "4/4", 2, 50, eight, "push"},
		{"pushed, full", "4/4", 2, 100, eight, "push"},
		{"pushed in sixteenths", "4/4", 4, 100, "c | c | c | c", "push"},
		{"no push in quarters", "4/4", 1, 100, "c | c | c | c", "push"},
		{"pushed, two chords a bar", "4/4", 2, 60, "c c | c c | c c | c c", "push"},
		{"pushed, two chords in three", "3/4", 2, 100, "c c | c c | c | c", "push"},
		{"no push from a quarter", "4/4", 2, 60, "c c c c | c | c c c c | c", "push"},
		{"no push out of a rest", "4/4", 2, 60, "c . | c | c c | c", "push"},
		{"no push into or out of what is written", "4/4", 2, 60, eight, "push rhythm1=x-x-x-x- rhythm4=x---x---"},
		{"two bars written", "4/4", 2, 50, "c | c | c | c", "rhythm1=x-.x rhythm2=xx.x.xx."},
		{"written and tied over", "4/4", 2, 50, "c | c | c | c", "rhythm0=x--x-xx. rhythm1=xxxx---x rhythm2=-xx-x--."},
		{"written in sixteenths and tied over", "4/4", 4, 50, "c | c | c", "rhythm0=x---x---x---x--x rhythm1=-x--x--.x--xx--x"},
		{"written in quarters, not tied over", "4/4", 2, 50, "c | c", "rhythm0=x--x rhythm1=-x--"},
		{"written from a rest", "4/4", 2, 50, "c | . | c", "rhythm0=x-x-x--x rhythm2=-x------"},
		{"written over two chords", "4/4", 2, 50, "c c | c c c | c c", "rhythm0=x--x-x-x rhythm1=x--x---x rhythm2=.x.x..-x"},
		{"written, a rest in the second chord", "4/4", 2, 50, "c c | c", "rhythm0=x---x.x."},
		{"written, a chord in each slot", "4/4", 2, 50, "c c c c c c c c | c", "rhythm0=xxxxxxxx rhythm1=-xx-----"},
		{"written, not tied over a rest", "4/4", 2, 50, "c c c c c c c c c . | c", "rhythm0=x-x-x-xx rhythm1=-x------"},
		{"written, held from the start", "4/4", 2, 50, "c | c", "rhythm0=-xx-x-x-"},
		{"written as a rest alone", "4/4", 2, 50, "c | c | c | c", "rhythm1=. rhythm3=.."},
		{"written at the end, open", "4/4", 2, 50, "c | c", "rhythm1=x-.. open"},
		{"a part twice", "4/4", 2, 50, "c | c | c | c | c | c | c | c | c | c", "first=1 part=4 times=2"},
		{"a part twice, two chords in its last bar", "4/4", 2, 50, "c | c | c | c c | c | c | c | c c", "part=5 times=2"},
		{"a part twice and more, two chords in its last bar", "4/4", 2, 50, "c | c | c | c c | c | c | c | c c | c | c", "part=5 times=2"},
		{"a part with one ending, two chords in its last bar", "4/4", 2, 50, "c | c | c | c c | c | c | c | c | c c", "part=5 times=2 endings=1,0"},
		{"a part with an ending at last, two chords in its last bar", "4/4", 2, 50, "c | c | c | c c | c | c | c | c c | c", "part=5 times=2 endings=0,1"},
		{"two phrases twice, two chords in their last bar", "4/4", 2, 75, eight + " c | " + eight + " c", "part=9 times=2"},
		{"two phrases twice and more, two chords in their last bar", "4/4", 2, 75, eight + " c | " + eight + " c | c | c", "part=9 times=2"},
		{"two phrases with an ending at last, two chords in their last bar", "4/4", 2, 75, eight + " c | " + eight + " c | c", "part=9 times=2 endings=0,1"},
		{"two phrases thrice, two chords in their last bar", "4/4", 4, 50, eight + " c | " + eight + " c | " + eight + " c", "part=9 times=3"},
		{"a part twice, in two phrases", "4/4", 2, 50, "c | c | c | c | c | c | c | c | c | c | c | c", "part=6 times=2"},
		{"a part with endings", "4/4", 2, 50, "c | c | c | c | c | c | c | c", "part=3 times=2 endings=1,1"},
		{"a part of four with endings", "4/4", 2, 50, "c | c | c | c | c | c | c | c | c | c | c", "part=4 times=2 endings=1,1"},
		{"a part with endings of two", "4/4", 2, 50, "c | c | c | c | c | c | c | c | c | c", "part=3 times=2 endings=2,2"},
		{"a part with long endings", "4/4", 2, 50, "c | c | c | c | c | c | c | c | c | c | c | c | c", "part=3 times=2 endings=3,3"},
		{"a part with uneven endings", "4/4", 2, 50, "c | c | c | c | c | c | c | c | c | c", "part=2 times=3 endings=1,2,0"},
		{"a part in two phrases with endings", "4/4", 2, 50, "c | c | c | c | c | c | c | c | c | c | c | c | c | c | c", "part=6 times=2 endings=1,1"},
	}
	for style := range 4 {
		for _, density := range []int{20, 40, 60, 80} {
			cases = append(cases,
				charted{"a style", "4/4", 2, density, "c | c | c | c | c | c c | c | c c", fmt.Sprintf("style=%d", style)})
		}
		cases = append(cases,
			charted{"a style, in sixteenths", "4/4", 4, 45, "c | c | c | c c", fmt.Sprintf("style=%d", style)},
			charted{"a style, in three", "3/4", 2, 45, "c | c | c | c c", fmt.Sprintf("style=%d", style)},
			charted{"a style, in six", "6/8", 4, 35, "c | c | c | c c", fmt.Sprintf("style=%d", style)})
	}
	var out strings.Builder
	for _, c := range cases {
		m, spans, repeats := c.maker(t)
		phrases := m.Divide(spans, repeats)
		fmt.Fprintf(&out, "%s: %s, %d to a quarter, %d %%, %s\n", c.name, c.meter, c.slots, c.density, strings.TrimSpace(c.chart+"  "+c.how))
		fmt.Fprintf(&out, "  phrases %s\n", phrasing(m, spans, phrases))
		until := (strings.Count(c.chart, "|") + 1) * m.Meter.Bar()
		fmt.Fprintf(&out, " %s\n\n", bars(m, m.Notes(spans, phrases), until))
	}
	goldentest.Equal(t, filepath.Join("testdata", "made.txt"), out.String())
}
