package staff

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Staves that a person has looked at, with the values of notes and rests, stems and
// flags, beams and hooks, dots, ties, accidentals, ledger lines, tuplets, key and time
// signatures and both clefs. Above, a space is 6 ticks wide; what is not drawn here are
// bar lines.
func TestStavesLookAsTheyDid(t *testing.T) {
	const lead, ticks = 16.0, 60.0
	var marks []drawing.Mark
	y, width := 8.0, 0.0
	add := func(of ...drawing.Mark) { marks = append(marks, drawing.Moved(of, 2, y)...) }
	for _, text := range []string{
		"key: C major\nchart: '| C | Am | F | C |'\nline: {grid: sixteenths, rhythm: 'x--- ---- ---- ---- | x--- ---- x--- --.. | x-x- x--x xxx- xx-x | x..x .x-. ..x. .xx.'}",
		"key: C major\nchart: '| C | Am | F |'\nline: {grid: sixteenths, rhythm: 'x--x --x- -x-- x--- | x-.. .... .... .... | .... .... x--- --xx'}",
		"key: A minor\nchart: '| Am | E7 | Bb | D7 | F#m7b5 | Am |'\nline: {density: 75%}",
		"key: F# major\nchart: '| F# | A#7 | D#m | G#7 |'\nline: {density: 100%}",
		"key: Gb major\nmeter: 12/8\nchart: '| Gb | Bb7 | Ebm | Fb |'\nline: {density: 60%}",
		"key: E major\nchart: '| E | A | C#7 | B7 |'\nline: {grid: triplets, density: 80%}\nguitar: {position: 9}",
		"key: Eb major\nchart: '| Eb | Ab | Bb7 | Eb |'\nline: {grid: triplets, rhythm: 'xxx x-x -x- x-- | x.x .x. xx. ..x | x-- -x- x-- --x'}\nguitar: {position: 11}",
		"key: F major\nmeter: 6/8\nchart: '| F | N.C. | C | F |'\nline: {rhythm: 'x . . . . . | . . . x - - | x . . x x x'}",
		"key: D major\nmeter: 12/8\nchart: '| D | G | A |'\nline: {rhythm: 'x - - - - - . . . x - - | x . . . . . . . . . x -'}",
		"key: C major\nmeter: 2/2\nchart: '| C | Am | F | G |'\nline: {density: 100%, low: E2, high: E3}",
		"key: G major\nmeter: 7/8\nchart: '| G | Em | C | D |'\nline: {density: 80%, low: C5}\nguitar: {position: free}",
		"key: C major\nchart: '| C | Am | Dm | G |'\nline: {own: {1: 'C3 C4 E4 D4 E4 F4 G4 A4', 2: 'C5 D5 E5 F5 G5 A5 G5 E5', 3: 'F#4 D4 Bb4 F#4 F4 F#4 A4 Db4'}}\nguitar: {position: free}",
	} {
		s := arrangetest.Score(t, "title: Staff\n"+text+"\n")
		n := paper.Notate(s)
		for line := 0.0; line <= BottomLine; line++ {
			add(drawing.Stroke(0, line, 150, line, 0.1))
		}
		add(Treble.Prefix(s, true, 1)...)
		require.InDelta(t, PrefixWidth(s, false)+TimeWidth(s.Meter)+0.7, PrefixWidth(s, true), 1e-9)
		start := max(lead, PrefixWidth(s, true)+1)
		var before float64 // where the event before stands, which is tied to the next
		tied := -1
		var last *Measure
		for i := range n.Measures {
			m := Of(&n.Measures[i], Treble)
			xs := make([]float64, len(m.Events))
			for j, e := range m.Events {
				xs[j] = start + float64(e.Tick)/ticks
			}
			m.SetBeams(xs)
			end := start + float64(m.Length)/ticks
			for j, e := range m.Events {
				if e.Rest() {
					add(m.Rest(j, xs[j], start, end)...)
					continue
				}
				add(m.Note(j, xs[j])...)
				add(m.Ledgers(j, xs[j])...)
				if e.TiedFrom && tied >= 0 {
					add(last.TieFrom(tied, before, xs[j])...)
				} else if e.TiedFrom {
					add(m.TieFromStart(j, start-2, xs[j])...)
				}
				tied = -1
				if e.TiedTo {
					tied, before, last = j, xs[j], m
				}
				// What a figure says that it needs holds its heads, dots, flags and accidentals.
				f := m.Figures[j]
				box := drawing.BoundsOf(m.Note(j, xs[j]))
				require.GreaterOrEqual(t, xs[j]+f.Right+0.2, box.Right, text)
				require.LessOrEqual(t, xs[j]-f.Left-0.2, box.Left, text)
			}
			add(m.Beams(xs)...)
			add(m.Tuplets(xs)...)
			add(drawing.Stroke(end, 0, end, BottomLine, 0.16))
			start = end + 2
		}
		if tied >= 0 {
			add(last.TieToEnd(tied, before, start)...)
		}
		width = max(width, start)
		y += 17
	}
	for _, key := range []string{"B major", "Db major", "C major"} {
		s := arrangetest.Score(t, "title: Bass\nkey: "+key+"\nchart: '| I | V |'\n")
		for line := 0.0; line <= BottomLine; line++ {
			add(drawing.Stroke(0, line, 30, line, 0.1))
		}
		add(Bass.Prefix(s, true, BassSize)...)
		y += 10
	}
	var out bytes.Buffer
	sheet := &drawing.Sheet{Title: "Staves", Paper: drawing.Paper{Name: "wide", Width: 2 * (width + 4), Height: 2 * y}, Space: 2, Pages: []drawing.Page{{Marks: marks}}}
	require.NoError(t, drawing.WriteSVG(&out, sheet))
	goldentest.Equal(t, filepath.Join("testdata", "staves.svg"), out.String())
}
