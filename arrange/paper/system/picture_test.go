package system

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Systems that a person has looked at, each kind of staves with what can stand on and
// above them. Below each, where its bars lie and its events begin is drawn as a page is
// told it.
func TestSystemsLookAsTheyDid(t *testing.T) {
	const (
		repeats = "key: C major\nchart: |\n  [pickup] N.C. / / G7 |\n  [Verse] |: C | Am7b5 Dm |1. G / / C7 :|2. G |\n  [Chorus, as loud as it may be] |: F#m7b5/E | Bb :| x3\n  [C] |: C :| |: F | G | C :|\n"
		values  = "key: F# minor\nchart: |\n  | F#m | C#7 | D | E | F#m |\nline: {grid: sixteenths, rhythm: 'x--- ---- ---- ---- | x--- ---- x--x ---- | x-x- x-.x xxx- xx-x | .... x.xx x-.. x--- | x--- --x- x--x x--x'}\n"
		letters = "key: C major\nchart: |\n  [A] | C |\n  [B] | F | G | Am | F |\n  [C] | G | C |\n"
		pushed  = "key: C major\nchart: |\n  | C | F | G |\n  | C | Am | F |\n  | C | G |\nline: {rhythm: 'x - - - x - - x | - - - - x - x x'}\n"
		triplet = "key: Eb minor\nchart: '| Ebm | Abm | Bb7 | Ebm |'\nline: {grid: triplets, rhythm: 'xxx x-x -x- x-- | x.x .x. xx. ..x | x-- -x- x-- --x'}\n"
	)
	for name, rows := range map[string][]struct {
		staves Staves
		text   string
	}{
		"both": {
			{Both, repeats + "passes: 3\n"},
			{Both, "numerals: no\n" + values + "guitar: {capo: 2}\n"},
			{Both, pushed},
			{Both, triplet + "bass: walking\n"},
			{Both, letters + "line: {density: 100%, low: G4}\nguitar: {position: free}\n"},
			{Both, "key: C major\nchart: '| C | F | G | C F G C |'\nline: {density: 0%}\n"},
			{Both, "key: C major\nchart: '|: C | F | G :| x3'\nline: {density: 0%}\n"},
			{Both, "key: C major\nchart: '|: G | F | E7 :| x12'\nline: {rhythm: 'x . . . . . . . | x . . . . . . . | x . . . . . . x', low: E4}\nguitar: {position: free}\n"},
		},
		"tab": {
			{Tab, repeats + "guitar: {capo: 3, tuning: B1 E2 A2 D3 G3 B3 E4}\n"},
			{Tab, values + "guitar: {tuning: B1 E2 A2 D3 G3 B3 E4, position: 9}\n"},
			{Tab, pushed},
			{Tab, triplet + "numerals: no\n"},
			{Tab, "key: F major\nmeter: 6/8\nchart: '| F | N.C. | C | F |'\nline: {rhythm: 'x . . x . x | . . . x - - | x . . x x x'}\n"},
		},
		"notation": {
			{Notation, repeats + "bass: root-fifth\n"},
			{Notation, "key: D minor\nmeter: 7/8\nchart: '| Dm | N.C. / / A7 / / / | Dm | N.C. |'\nbass: root-fifth\n"},
			{Notation, "key: D minor\nmeter: 5/4\nchart: '| Dm | N.C. | A7 | Dm / / / A |'\nbass: root-fifth\n"},
			{Notation, triplet + "numerals: no\n"},
			{Notation, "key: G major\nmeter: 12/8\nchart: '| G | E7/G# | C D | Cm/Eb |'\nbass: walking\nline: {density: 0%}\n"},
		},
		"chords": {
			{Chords, repeats},
			{Chords, letters},
			{Chords, "key: C major\nchart: |\n  [A long way home, WITH EVERY STOP NAMED] | C |\n"},
			{Chords, "numerals: no\n" + repeats + "guitar: {capo: 3}\n"},
			{Chords, "key: F# minor\nmeter: 12/8\nchart: |\n  | F#m | 1 / / / / / / / / / / vii° | N.C. / / / / / Bdim7/D C#m7b5/E Bdim7/D C#m7b5/E Bdim7/D C#m7b5/E | F#m |\n"},
		},
		"fill-in": {
			{FillIn, repeats},
			{FillIn, values},
		},
	} {
		var marks []drawing.Mark
		y := 8.0
		for _, row := range rows {
			s := arrangetest.Score(t, "title: Systems\n"+row.text)
			if row.staves == Chords {
				s.Line = nil
			}
			m := Of(paper.Notate(s), row.staves, UsualFinger)
			divided, _, ok := m.Break(pageWidth, 0)
			require.True(t, ok)
			for _, r := range divided {
				drawn := m.Set(r)
				box := drawing.BoundsOf(drawn)
				marks = append(marks, drawing.Moved(drawn, 3, y-box.Top)...)
				marks = append(marks, drawing.Moved(outline(m.SetAlone(r)), 3, y-box.Top+box.Bottom+3)...)
				y += box.Bottom - box.Top + 7
			}
		}
		var out bytes.Buffer
		sheet := &drawing.Sheet{Title: name, Paper: drawing.Paper{Name: "wide", Width: 2 * (pageWidth + 6), Height: 2 * y}, Space: 2, Pages: []drawing.Page{{Marks: marks}}}
		require.NoError(t, drawing.WriteSVG(&out, sheet))
		goldentest.Equal(t, filepath.Join("testdata", name+".svg"), out.String())
	}
}

// A row on its own numbers its thirds from 1, and says how many go before.
func TestARowAloneNumbersItsThirds(t *testing.T) {
	s := arrangetest.Score(t, "title: Alone\nkey: C major\nchart: '| C | F | G | C | Am | F | G | C |'\n")
	m := Of(paper.Notate(s), Both, UsualFinger)
	rows, _, ok := m.Break(pageWidth, 0)
	require.True(t, ok)
	numbered := 0
	for _, r := range rows {
		alone := m.SetAlone(r)
		require.Equal(t, numbered, alone.Third)
		here := 0
		for _, mark := range alone.Marks {
			if g, ok := mark.(drawing.Group); ok && strings.HasPrefix(g.ID, "third-") {
				here++
				require.Equal(t, fmt.Sprint("third-", here), g.ID)
				require.Contains(t, g.Attributes, drawing.Attribute{Name: "tick", Value: fmt.Sprint(s.Line[numbered].Tick)})
				numbered++
			}
		}
	}
	require.Equal(t, len(s.Line), numbered)
	require.Greater(t, len(rows), 1)
}

// outline draws where the bars of a row lie and its events begin, much lower than they are.
func outline(a Alone) (marks []drawing.Mark) {
	const low = 0.1
	for i, b := range a.Bars {
		marks = append(marks, drawing.Shape{Thickness: 0.05, Path: drawing.Polygon(
			drawing.Pt(b.Left, low*b.Top), drawing.Pt(b.Right, low*b.Top), drawing.Pt(b.Right, low*b.Bottom), drawing.Pt(b.Left, low*b.Bottom))})
		for _, o := range a.Onsets[i] {
			marks = append(marks, drawing.Stroke(o.X, 0, o.X, 0.3+float64(o.Tick)/2000, 0.1))
		}
	}
	for _, y := range a.Strings {
		marks = append(marks, drawing.Stroke(-2, low*y, -1, low*y, 0.05))
	}
	return append(marks, drawing.Text(-2, -0.5, 1, drawing.Regular, drawing.FromLeft, fmt.Sprint(a.Third)))
}

// Divisions into rows that a person has looked at: behind each chart, how many bars stand
// in each row and how far they are stretched, at the widths of a page and of a telephone.
func TestRowsAreDividedAsTheyWere(t *testing.T) {
	var out strings.Builder
	for _, text := range []string{
		"| C | F | G |", "| C | F | G | C | F |", "| C | F | G | C | F | G |", "| C | F | G | C | F | G | C |",
		"| C | F | G | C | F | G | C | F | G | C |", "| C | F | G | C | F | G | C | F | G | C | F |",
		"[pickup] G7 |\n  | C | F | G | C |\n  | C | F | G | C |", "[pickup] G7 |\n  [A] | C | F | G | C | F |\n  [B] | C | G |",
		"[A] | C | F | G | C | F | G |\n  [B] | C | F |", "[A] | C |\n  [B] | F | G |\n  [C] | C |", "[A] | C | F |\n  [B] | G | C | F | G | C | F | G |",
		"|: C | F | G |1. C :|2. Am |", "|: C | F |1. G | C :|2. Am | C |", "|: C | F | G |1. C | F | G | C :|2. Am | C |",
		"| C | F |\n  | G | C | F | G |\n  | C |", "| C |\n  | F |\n  | G |", "| C F | G C | F G | C F | Am Dm | G C |", "|: C :|\n  |: F | G :| x3\n  | C |",
		"| C | F | G | C | F | G | C | F | G | C | F | G | C | F | G | C | F | G |", "| C |",
	} {
		fmt.Fprintf(&out, "%s\n", text)
		for _, line := range []string{"density: 0%", "density: 50%", "density: 100%", "density: 100%, grid: sixteenths"} {
			s := arrangetest.Score(t, "title: Rows\nkey: C major\nchart: |\n  "+text+"\nline: {"+line+"}\n")
			n := paper.Notate(s)
			for _, v := range []Staves{Both, Chords} {
				m := Of(n, v, UsualFinger)
				for _, width := range []float64{pageWidth, 60} {
					for _, thrift := range []float64{0, 3} {
						fmt.Fprintf(&out, "  %-36s %d %5.1f %.0f:", line, v, width, thrift)
						rows, _, ok := m.Break(width, thrift)
						if !ok {
							out.WriteString(" too wide")
						}
						for _, r := range rows {
							fmt.Fprintf(&out, " %d (%.2f)", r.Last-r.First+1, r.Stretch)
						}
						out.WriteByte('\n')
					}
				}
			}
		}
	}
	goldentest.Equal(t, filepath.Join("testdata", "rows.txt"), out.String())
}
