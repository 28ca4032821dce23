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

// A picture of staves, below one another.
type picture struct {
	testing.TB
	marks []drawing.Mark
	y     float64 // of the staff that is drawn, in spaces
	width float64 // of the widest
}

func (p *picture) add(marks ...drawing.Mark) {
	p.marks = append(p.marks, drawing.Moved(marks, 2, p.y)...)
}

// lines draws the lines of a staff, and goes on below it.
func (p *picture) lines(width, room float64) {
	for line := 0.0; line <= BottomLine; line++ {
		p.add(drawing.Stroke(0, line, width, line, 0.1))
	}
	p.width, p.y = max(p.width, width), p.y+room
}

// measures draws measures from a place on and returns where they end. What an event asks
// for, to both sides of its heads and, where it is tied, up to the next, is drawn as a
// line above and one below the staff.
func (p *picture) measures(start float64, all []*Measure) float64 {
	const ticks = 60.0
	var before float64 // where the event before stands, which is tied to the next
	tied := -1
	var last *Measure
	for _, m := range all {
		xs := make([]float64, len(m.Events))
		for j, e := range m.Events {
			xs[j] = start + float64(e.Tick)/ticks
		}
		m.SetBeams(xs)
		end := start + float64(m.Length)/ticks
		for j, e := range m.Events {
			f := m.Figures[j]
			p.add(drawing.Stroke(xs[j]-f.Left, -4.5, xs[j]+f.Right, -4.5, 0.2))
			if e.Rest() {
				p.add(m.Rest(j, xs[j], start, end)...)
				continue
			}
			p.add(m.Note(j, xs[j])...)
			p.add(m.Ledgers(j, xs[j])...)
			if e.TiedFrom && tied >= 0 {
				p.add(last.TieFrom(tied, before, xs[j])...)
			} else if e.TiedFrom {
				p.add(m.TieFromStart(j, start-2, xs[j])...)
			}
			tied = -1
			if e.TiedTo {
				tied, before, last = j, xs[j], m
				p.add(drawing.Stroke(xs[j], 10, xs[j]+TieRoom(&m.Events[j]), 10, 0.2))
			}
			// What a figure says that it needs holds its heads, dots, flags and accidentals.
			box := drawing.BoundsOf(m.Note(j, xs[j]))
			require.GreaterOrEqual(p, xs[j]+f.Right+0.2, box.Right)
			require.LessOrEqual(p, xs[j]-f.Left-0.2, box.Left)
		}
		p.add(m.Beams(xs)...)
		p.add(m.TupletMarks(xs)...)
		p.add(drawing.Stroke(end, 0, end, BottomLine, 0.16))
		start = end + 2
	}
	if tied >= 0 {
		p.add(last.TieToEnd(tied, before, start)...)
	}
	return start
}

// equal compares the picture with a golden file.
func (p *picture) equal(file string) {
	var out bytes.Buffer
	sheet := &drawing.Sheet{Title: "Staves", Paper: drawing.Paper{Name: "wide", Width: 2 * (p.width + 4), Height: 2 * p.y}, Space: 2, Pages: []drawing.Page{{Marks: p.marks}}}
	require.NoError(p, drawing.WriteSVG(&out, sheet))
	goldentest.Equal(p, filepath.Join("testdata", file), out.String())
}

// Staves that a person has looked at, with the values of notes and rests, stems and
// flags, beams and hooks, dots, ties, accidentals, ledger lines, tuplets, key and time
// signatures and both clefs. A space is 60 ticks wide; what is not drawn here are
// bar lines.
func TestStavesLookAsTheyDid(t *testing.T) {
	const lead = 16.0
	p := &picture{TB: t, y: 8}
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
		"key: C major\nchart: '| C | F | G | C |'\nline: {grid: triplets, rhythm: 'xxx x-x xxx x-- | x-x -x- xx. ..x', low: E2, high: E3}",
	} {
		s := arrangetest.Score(t, "title: Staff\n"+text+"\n")
		var all []*Measure
		for _, m := range paper.Notate(s).Measures {
			all = append(all, Of(&m, paper.GuitarClef))
		}
		p.add(drawing.Stroke(0, -4.5, PrefixWidth(s, true), -4.5, 0.2))
		p.add(Prefix(paper.GuitarClef, s, true, 1)...)
		require.InDelta(t, PrefixWidth(s, false)+TimeWidth(s.Meter)+0.7, PrefixWidth(s, true), 1e-9)
		p.lines(max(150, p.measures(max(lead, PrefixWidth(s, true)+1), all)), 17)
	}
	for _, key := range []string{"B major", "Db major", "C major"} {
		s := arrangetest.Score(t, "title: Bass\nkey: "+key+"\nchart: '| I | V |'\n")
		p.add(Prefix(paper.BassClef, s, true, BassSize)...)
		p.lines(30, 10)
	}
	p.equal("staves.svg")
}
