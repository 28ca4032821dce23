package line_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/theory"
	"thirdwise/theory/chordscale"
	"thirdwise/theory/line"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
)

// A chart is bars with | between them; in a bar chords stand for equal shares, and
// [ before a bar begins a section.
func chartOf(t *testing.T, key theory.Key, in meter.Meter, chart string) []line.Segment {
	var segments []line.Segment
	for i, text := range strings.Split(chart, "|") {
		symbols := strings.Fields(text)
		for j, symbol := range symbols {
			if symbol == "." { // no chord
				continue
			}
			chord, err := theory.ParseChord(strings.TrimPrefix(symbol, "["))
			require.NoError(t, err)
			segments = append(segments, line.Segment{
				Start: i*in.Bar() + j*in.Bar()/len(symbols), End: i*in.Bar() + (j+1)*in.Bar()/len(symbols),
				Bar: i, Section: symbol[0] == '[', Chord: chord, Scale: chordscale.Over(key, chord),
			})
		}
	}
	return segments
}

// writtenOut writes a line as an exercise has a teacher's own: a slot a sign, the lower
// note where a third begins, - where it is held, and . where the line rests. Before a
// note * is an arrival, ~ a neighbour, = a repeat, and < leads back.
func writtenOut(in meter.Meter, grid int, steps []line.Step) string {
	var b strings.Builder
	end := steps[len(steps)-1].Tick + steps[len(steps)-1].Length
	signs := map[line.Role]string{line.Arrival: "*", line.Neighbour: "~", line.Repeat: "="}
	for tick := 0; tick < end; tick += grid {
		if tick > 0 && tick%in.Bar() == 0 {
			b.WriteString(" |")
		}
		i := slices.IndexFunc(steps, func(s line.Step) bool { return s.Tick <= tick && tick < s.Tick+s.Length })
		switch {
		case i < 0:
			b.WriteString(" .")
		case steps[i].Tick < tick:
			b.WriteString(" -")
		default:
			b.WriteByte(' ')
			if steps[i].LeadsBack {
				b.WriteByte('<')
			}
			b.WriteString(signs[steps[i].Role] + steps[i].Notes.Lower.String())
		}
	}
	return b.String()
}

// Lines that a person has looked at, over charts of many kinds.
func TestLinesThatAreFound(t *testing.T) {
	four := meter.Meter{Beats: 4, Unit: 4}
	in := func(beats, unit int) meter.Meter { return meter.Meter{Beats: beats, Unit: unit} }
	closed := func(m *line.Maker) { m.Closed = true }
	repeats := func(parts ...line.RepeatedPart) func(m *line.Maker) {
		return func(m *line.Maker) { m.Repeats = parts }
	}
	c4, e4, b3 := pitch("C4"), pitch("E4"), pitch("B3")
	var out strings.Builder
	for _, c := range []struct {
		name, key       string
		in              meter.Meter
		slots, density  int // in a quarter; per cent
		chart           string
		change          func(m *line.Maker)
		low, high, hand string
	}{
		{name: "a song in four", key: "C major", chart: "C | Am | F | G | C | Am | Dm G | C"},
		{name: "the same, going round", key: "C major", chart: "C | Am | F | G | C | Am | Dm G | C", change: closed},
		{name: "bare", key: "C major", chart: "C | Am | F | G | C | Am | Dm G | C", density: -1},
		{name: "full", key: "C major", chart: "C | Am | F | G | C | Am | Dm G | C", density: 100},
		{name: "full, in sixteenths", key: "G major", chart: "G | Em | C | D7 | G", density: 100, slots: 4},
		{name: "triplets", key: "A minor", chart: "Am | Dm | E7 | Am", density: 75, slots: 3},
		{name: "in three", key: "D major", in: in(3, 4), chart: "D | Bm | G | A7 | D | A7 D | G A7 | D", change: closed},
		{name: "in six", key: "G major", in: in(6, 8), chart: "G | Em C | D | G", density: 60},
		{name: "in seven", key: "E minor", in: in(7, 8), chart: "Em | C | D | B7 | Em", density: 60, change: closed},
		{name: "in two", key: "F major", in: in(2, 2), chart: "F | Dm | Gm C7 | F", slots: 2, density: 40},
		{name: "borrowed chords", key: "C major", chart: "C | Fm | Bb | Ab | Db7 | G7 | C", density: 60},
		{name: "fourths and fifths", key: "C major", chart: "Csus4 C | G5 | Dsus2 | G7sus4 G7 | C", density: 75},
		{name: "sevenths", key: "B♭ major", chart: "Bbmaj7 | Gm7 | Cm7 | F7 | Dm7b5 G7 | Cm7 F7 | Bb6", density: 50},
		{name: "two chords a bar, sections", key: "E major", chart: "[E B | C#m A | E B | A | [A E | F#m B | A E | B7", density: 50, change: closed},
		{name: "a rest in the chart", key: "C major", chart: "C | . | F | . G | C", density: 80},
		{name: "pushed", key: "C major", chart: "C | Am | F | G | C", change: func(m *line.Maker) { m.Rhythm.Push = true }},
		{name: "a pickup", key: "C major", chart: "G7 | C | Am | F | G7", change: func(m *line.Maker) { m.Closed, m.Home = true, 1 }},
		{name: "a variant", key: "C major", chart: "C | Am | F | G | C", change: func(m *line.Maker) { m.Variant = 2 }},
		{name: "another", key: "C major", chart: "C | Am | F | G | C", change: func(m *line.Maker) { m.Variant = 3 }},
		{name: "some of it written", key: "C major", chart: "C | Am | F | G | C", change: func(m *line.Maker) {
			m.Own = map[int][]line.Slot{
				1: {{Sign: rhythm.Begin, Lower: &c4}, {Sign: rhythm.Hold}, {Sign: rhythm.Rest}, {Sign: rhythm.Begin, Lower: &e4}},
				3: {{Sign: rhythm.Begin, Lower: &b3}, {Sign: rhythm.Begin}},
			}
		}},
		{name: "a rhythm written", key: "C major", chart: "C | Am | F | G | C", change: func(m *line.Maker) {
			m.Rhythm.Written = map[int][]rhythm.Sign{0: []rhythm.Sign("x--xx-.."), 2: []rhythm.Sign("x.x.")}
		}},
		{name: "a narrow compass", key: "C major", chart: "C | Am | F | G | C", density: 75, low: "C4", high: "G4"},
		{name: "a wide compass", key: "C major", chart: "C | Am | F | G | C", density: 75, low: "E2", high: "C6"},
		{name: "some thirds out of reach", key: "C major", chart: "C | Am | F | G | C", density: 75, hand: "out of reach"},
		{name: "some thirds hard", key: "C major", chart: "C | Am | F | G | C", density: 75, hand: "hard"},
		{name: "a part twice", key: "C major", chart: "C | Am | C | Am | F", change: repeats(line.RepeatedPart{Length: 2, Times: 2})},
		{name: "a part twice, going round", key: "C major", chart: "C | Am | G | C | Am | G", change: func(m *line.Maker) {
			m.Closed, m.Repeats = true, []line.RepeatedPart{{Length: 3, Times: 2}}
		}},
		{name: "a part with two endings", key: "C major", chart: "C | Am | G | C | Am | F | C",
			change: repeats(line.RepeatedPart{Length: 2, Times: 2, Endings: []int{1, 1}})},
		{name: "a part three times, with endings", key: "G major", chart: "G | C | D | G | C | D | G | C | Em | G",
			change: repeats(line.RepeatedPart{Length: 2, Times: 3, Endings: []int{1, 1, 1}})},
		{name: "a chord alone", key: "C major", chart: "C"},
		{name: "a chord alone, going round", key: "C major", chart: "Am", change: closed, density: 100},
	} {
		if c.in == (meter.Meter{}) {
			c.in = four
		}
		c.slots, c.low, c.high = max(c.slots, 2), ifEmpty(c.low, "C4"), ifEmpty(c.high, "G5")
		if c.density == 0 {
			c.density = 50
		}
		key := mustKey(t, c.key)
		m := maker(key, max(0, c.density), quarter/c.slots)
		m.Rhythm.Meter, m.Low, m.High = c.in, staff(c.low), staff(c.high)
		switch c.hand {
		case "hard":
			m.Effort = someAreHard
		case "out of reach":
			m.Effort = func(t theory.Third) (effort int, ok bool) { return t.Staff() % 2, t.Staff()%4 > 0 }
		}
		if c.change != nil {
			c.change(&m)
		}
		segments := chartOf(t, key, c.in, c.chart)
		for _, part := range m.Repeats { // a bar that comes again is written once
			every := part.Length + part.Ending(0)
			for i := range segments[:every*part.Times] {
				if at := i % every; at < part.Length {
					segments[i].Bar = at
				}
			}
		}
		steps, err := m.Line(segments)
		require.NoError(t, err, c.name)
		fmt.Fprintf(&out, "%s: %s, %s, %s\n%s\n\n", c.name, c.key, c.in, c.chart, writtenOut(c.in, quarter/c.slots, steps))
	}
	goldentest.Equal(t, filepath.Join("testdata", "found.txt"), out.String())
}

func ifEmpty(s, instead string) string {
	if s == "" {
		return instead
	}
	return s
}
