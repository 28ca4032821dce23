package paper

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// inBar returns a score of one bar whose rhythm is written as in an exercise, a sign a
// slot: x a third begins, - it is held, . the line rests. Slots divide the bar evenly.
func inBar(m meter.Meter, signs string) *score.Score {
	var ticks []int
	slot := m.Bar() / len(signs)
	resting := false
	for i, sign := range signs {
		switch {
		case sign == 'x':
			ticks = append(ticks, i*slot)
		case sign == '.' && i == 0:
			ticks = append(ticks, -1)
		case sign == '.' && !resting:
			ticks = append(ticks, -i*slot)
		}
		resting = sign == '.'
	}
	return lineScore(m, 1, ticks...)
}

// signsOf prints a measure's beams, level by level: ( begins, = goes on, ) ends, and
// > and < are stubs; a note without any is a point.
func signsOf(m Measure) string {
	var levels []string
	for level := range 3 {
		row, any := "", false
		for _, e := range m.Events {
			if len(e.Beams) <= level {
				row += "."
				continue
			}
			row += [...]string{BeamBegins: "(", BeamContinues: "=", BeamEnds: ")", HookForward: ">", HookBackward: "<"}[e.Beams[level]]
			any = true
		}
		if any {
			levels = append(levels, row)
		}
	}
	return strings.Join(levels, " ")
}

// Bars that a person has looked at, in every meter: each single third from one slot to
// another with rests around it, then figures of several. What a measure holds: note
// values with dots and ties, rests, tuplets, and the beams.
func TestBarsAreWrittenForReaders(t *testing.T) {
	var out strings.Builder
	for _, m := range append(meter.Meters(), meter.Meter{Beats: 5, Unit: 4, Grouping: "2+3"}, meter.Meter{Beats: 7, Unit: 8, Grouping: "3+2+2"}) {
		fmt.Fprintf(&out, "%s\n", m)
		slots := m.Bar() / (meter.Quarter / 2)
		if m.Unit == 2 || m.Beats > 4 && m.Unit == 4 {
			slots = m.Bar() / meter.Quarter
		}
		for from := range slots {
			for to := from + 1; to <= slots; to++ {
				writeBar(&out, m, strings.Repeat(".", from)+"x"+strings.Repeat("-", to-from-1)+strings.Repeat(".", slots-to))
			}
		}
		for _, f := range figures {
			if m.Bar()%f.length == 0 && m.Compound() == (f.length%(3*meter.Quarter/2) == 0) {
				writeBar(&out, m, strings.Repeat(f.signs, m.Bar()/f.length))
			}
		}
		out.WriteString("\n")
	}
	for _, bar := range rare {
		m, err := meter.Parse(bar.in)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&out, "%s\n", m)
		writeBar(&out, m, bar.signs)
	}
	goldentest.Equal(t, filepath.Join("testdata", "bars.txt"), out.String())
}

// figures are rhythms of so many ticks, those of multiples of a dotted quarter for
// meters whose beat that is.
var figures = []struct {
	length int
	signs  string
}{
	{240, "x"}, {240, "xx"},
	{480, "x-xx"}, {480, "xxx-"}, {480, "xx-x"}, {480, "x--x"}, {480, "xx--"}, {480, ".xxx"}, {480, "xx.x"}, {480, "x.xx"},
	{480, "xxx"}, {480, "x-x"}, {480, "xx-"}, {480, ".xx"}, {480, "x.x"},
	{480, "xxxxx"}, {480, "xxxxxx"}, {480, "x-xxxx"}, {480, "xxxxxxxx"}, {480, "x--xx---"}, {480, "x-xxx-xx"},
	{960, "xxx"}, {960, "x-x"}, {960, "xx-xx-"}, {960, "x--xxx"}, {960, "xxxxx"}, {960, "xx-x"}, {960, "x--xx--x"},
	{960, "x-xx-xx-"}, {960, "x------x"}, {960, "xxx-x-xx"}, {960, "x-xxx---"}, {960, "x-x-x-xx"}, {960, "xxxx----"},
	{960, "x-x-xx"}, {960, "xxx-x-"}, {960, "xxxxxx-xxxxx"}, {1920, "x-x-xx"}, {1920, "xx-x--"},
	{1920, "xxx"}, {1920, "x-x"}, {1920, "xxxxx"}, {1920, "x--x--x-"}, {1920, "xx-x-x-x"}, {1920, "x-x---x-"}, {1920, "xx--xx--"}, {1920, "xxxxx-xxxxxxxx-x"},
	{720, "xxx"}, {720, "x-x"}, {720, "xx-"}, {720, ".xx"}, {720, "xxxxxx"}, {720, "x--xx-"}, {720, "x-xxx-"}, {720, "xxxx--"}, {720, "x----x"},
	{720, "x--x--"}, {720, "xx"}, {720, "xxxxx"}, {720, "xxxxxxxxx"},
	{1440, "x---x-"}, {1440, "xx-x-x"}, {1440, "x-xx-x"}, {1440, "x-----xxxxxx"}, {1440, "x--x--x--x--"},
}

// rare are bars in which something decides that seldom does, drawn by a search.
var rare = []struct{ in, signs string }{
	{"7/8", "xx-x--.x---x"}, {"5/4", "x.xxx-"}, {"3/4", "x--xx-xx"}, {"7/8", "xxx-xx---x--"}, {"7/8 (3+2+2)", "x---"},
	{"2/2", "xx..xxxxxx-."}, {"2/4", "..xx-..x"}, {"5/4 (2+3)", "xx--.x-x"}, {"12/8", "xxxx.xxxxx.."}, {"4/4", "x-x-x-x-xxxxx-x-"},
}

func writeBar(out *strings.Builder, m meter.Meter, signs string) {
	measure := Notate(inBar(m, signs)).Measures[0]
	out.WriteString(strings.TrimRight(fmt.Sprintf("  %-24s  %-40s  %s", signs, rhythmOf(measure), signsOf(measure)), " ") + "\n")
}
