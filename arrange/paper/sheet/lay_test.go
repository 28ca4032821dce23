package sheet

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/system"
	"thirdwise/arrange/score"
	"thirdwise/theory/neck"
)

// everyExercise calls f with the score of each exercise under testdata.
func everyExercise(t *testing.T, f func(t *testing.T, s *score.Score)) {
	for name, s := range arrangetest.Scores(t) {
		t.Run(name, func(t *testing.T) { f(t, s) })
	}
}

// The margins hold whatever is printed, and in every choice of staves and size.
func TestEverySheetKeepsItsMargins(t *testing.T) {
	wordy := arrangetest.Score(t, "title: "+strings.Repeat("A long title ", 15)+"\nsubtitle: "+strings.Repeat("and a subtitle ", 13)+
		"\nby: "+strings.Repeat("someone ", 24)+"\nstudent: yes\nkey: Bb major\nchart: |\n  | Bb | Gm7b5 Eb7#9 | F7sus4 Bbmaj7/D | F |\nnote: "+
		strings.Repeat("Words and more words. ", 80)+"\nguitar:\n  capo: 3\n")
	busy := arrangetest.Score(t, "title: Busy\nkey: E minor\nmeter: 12/8\nchart: |\n  [A] | Em | Am |\n  [B] |: B7 | Em :| x12\nbass: walking\npick: "+
		strings.Repeat("R (8765) (4321) - R 2 3 2 1 2 3 (21) R 3 2 1 2 3 R 3 2 1 2 3 | ", 4)+"\nguitar:\n  tuning: F#1 B1 E2 A2 D3 G3 B3 E4\n")
	scores := []*score.Score{wordy, busy}
	for _, s := range arrangetest.Scores(t) {
		scores = append(scores, s)
	}
	for _, lay := range []func(*paper.Notation, Options) (*drawing.Sheet, error){Lay, LayChords, LayFillIn} {
		for _, o := range []Options{
			{Paper: drawing.A4}, {Paper: drawing.Letter, Staves: system.Tab}, {Paper: drawing.A4, Staves: system.Notation, Fit: true},
			{Paper: drawing.A4, Large: true},
		} {
			for _, s := range scores {
				sheet, err := lay(paper.Notate(s), o)
				require.NoError(t, err)
				for i, page := range sheet.Pages {
					b := drawing.BoundsOf(page.Marks)
					require.GreaterOrEqual(t, b.Left*sheet.Space, 12.0, "%s, page %d of %+v", s.Title, i+1, o)
					require.GreaterOrEqual(t, b.Top*sheet.Space, 12.0, "%s, page %d of %+v", s.Title, i+1, o)
					require.LessOrEqual(t, b.Right*sheet.Space, o.Paper.Width-12, "%s, page %d of %+v", s.Title, i+1, o)
					require.LessOrEqual(t, b.Bottom*sheet.Space, o.Paper.Height-8, "%s, page %d of %+v", s.Title, i+1, o)
				}
			}
		}
	}
}

// wordsOf returns the rectangles of all words among marks, with what they say.
func wordsOf(marks []drawing.Mark) (boxes []drawing.Box, texts []string) {
	for _, m := range marks {
		switch m := m.(type) {
		case drawing.Words:
			b := m.Bounds()
			b.Left, b.Right = b.Left+0.01, b.Right-0.01 // the parts of a symbol touch
			boxes, texts = append(boxes, b), append(texts, m.Text)
		case drawing.Group:
			b, t := wordsOf(m.Marks)
			boxes, texts = append(boxes, b...), append(texts, t...)
		}
	}
	return boxes, texts
}

func TestWordsOnAPageStandClearOfOneAnother(t *testing.T) {
	check := func(t require.TestingT, s *score.Score) {
		for _, lay := range []func(*paper.Notation, Options) (*drawing.Sheet, error){Lay, LayChords, LayFillIn} {
			sheet, err := lay(paper.Notate(s), Options{Paper: drawing.A4})
			require.NoError(t, err)
			for _, page := range sheet.Pages {
				boxes, texts := wordsOf(page.Marks)
				for i, a := range boxes {
					for j, b := range boxes[:i] {
						require.False(t, a.Overlaps(b), "%s: %q at %v and %q at %v", s.Title, texts[i], a, texts[j], b)
					}
				}
			}
		}
	}
	everyExercise(t, func(t *testing.T, s *score.Score) { check(t, s) })
	check(t, arrangetest.Score(t, "title: Strum\nkey: C major\nchart: |\n  [Intro] | C |\n  [A] | F | G | C |\n  [B] |: Am :| x3\nstrum: "+
		"\">D - x U D - >D U D - D U >x U D U"+strings.Repeat("| D - D U D D D U D - D U x U D U", 4)+"\"\nbass: root-fifth\n"))
	check(t, arrangetest.Score(t, "title: Capo\nstudent: yes\nkey: Eb major\nchart: |\n  [A] |: Eb Cm7b5 Abmaj7 Bb7sus4 | Gm7b5/Db C7#9 Fm11 Bb13 :| x12\n  [Bridge] | V7/vi | % |\nguitar:\n  capo: 1\nline:\n  density: 100%\n"))
}

func TestEverythingLiesOnThePaper(t *testing.T) {
	for _, p := range []drawing.Paper{drawing.A4, drawing.Letter} {
		everyExercise(t, func(t *testing.T, s *score.Score) {
			sheet, err := Lay(paper.Notate(s), Options{Paper: p})
			require.NoError(t, err)
			for _, page := range sheet.Pages {
				b := drawing.BoundsOf(page.Marks)
				require.GreaterOrEqual(t, b.Left*sheet.Space, 12.0)
				require.GreaterOrEqual(t, b.Top*sheet.Space, 12.0)
				require.LessOrEqual(t, b.Right*sheet.Space, p.Width-12)
				require.LessOrEqual(t, b.Bottom*sheet.Space, p.Height-9)
			}
		})
	}
}

// The sizes are those of a rastrum (Gould, Behind Bars, from memory).
func TestAShortSheetHasALargerStaff(t *testing.T) {
	staff := func(bars, density int) float64 {
		s := arrangetest.Score(t, fmt.Sprintf("title: Bars\nkey: C major\nchart: |\n  |%s\nline:\n  density: %d%%\n  grid: sixteenths\n", strings.Repeat(" C | F |", bars/2), density))
		sheet, err := Lay(paper.Notate(s), Options{Paper: drawing.A4})
		require.NoError(t, err)
		return 4 * sheet.Space
	}
	require.InDelta(t, 9.2, staff(4, 0), 1e-9)
	require.InDelta(t, 7.9, staff(8, 0), 1e-9)
	require.InDelta(t, 6.8, staff(16, 0), 1e-9)
	require.InDelta(t, 6.2, staff(20, 0), 1e-9)
}

// Where the staff is larger, rows break where they did or have as many bars each: none is
// left with fewer at the end.
func TestALargerStaffKeepsRowsEven(t *testing.T) {
	larger, anew := 0, 0
	for bars := 2; bars <= 7; bars++ {
		for _, settings := range []string{"line: {density: 0%}", "line: {density: 100%}\nmeter: 12/8", "line: {density: 50%, grid: sixteenths}", "line: {density: 100%, grid: sixteenths}"} {
			s := arrangetest.Score(t, "title: Bars\nkey: C major\nchart: |\n  |"+strings.Repeat(" C F |", bars)+"\n"+settings+"\n")
			l, rows, onPages := fewestPages(paper.Notate(s), Options{Paper: drawing.A4, Staves: system.Tab}, exercise)
			require.Equal(t, usualStaff, l.staff)
			require.Len(t, onPages.starts, 1)
			enlarged, page := l.enlarged(rows, onPages)
			if enlarged == l {
				continue
			}
			larger++
			var begin, began, lengths []int
			for _, row := range rows {
				began = append(began, row.First)
			}
			for _, b := range page.blocks {
				if b.row != nil {
					begin, lengths = append(begin, b.row.First), append(lengths, b.row.Last-b.row.First)
				}
			}
			if !slices.Equal(began, begin) {
				anew++
				require.Len(t, slices.Compact(lengths), 1, "%d bars, %s", bars, settings)
			}
		}
	}
	require.Positive(t, larger)
	require.Positive(t, anew)
}

// A page that is turned for one row of music, or for the map alone, is a page too
// many, unless the row is a section that stands above the map.
func TestNoPageHasASingleRow(t *testing.T) {
	check := func(t require.TestingT, s *score.Score) {
		l, rows, divided := fewestPages(paper.Notate(s), Options{Paper: drawing.A4}, exercise)
		pages := l.pages(divided)
		if len(rows) == 1 {
			require.Len(t, pages, 1)
			return
		}
		for i, page := range pages {
			systems := 0
			for _, m := range page.Marks {
				// A clef stands at the left end of each row.
				if sign, ok := m.(drawing.Sign); ok && sign.Glyph == drawing.TrebleClef {
					systems++
				}
			}
			if blocks, _ := l.page(divided, i); systems == 1 && i == len(pages)-1 && blocks[0].section != "" && len(blocks) > 2 {
				continue
			}
			require.Greater(t, systems, 1, "page %d of %d has %d of %d rows", i+1, len(pages), systems, len(rows))
		}
	}
	everyExercise(t, func(t *testing.T, s *score.Score) { check(t, s) })
	for bars := 1; bars < 72; bars += 3 {
		check(t, arrangetest.Score(t, fmt.Sprintf("title: Bars\nkey: C major\nchart: |\n  |%s\n", strings.Repeat(" C |", bars))))
	}
	rapid.Check(t, func(t *rapid.T) { check(t, arrangetest.AnyScore(t)) })
}

func TestSheetIsTheSameEveryTime(t *testing.T) {
	s := arrangetest.Named(t, "harbour-ladder")
	var svg, pdf [2]bytes.Buffer
	for i := range 2 {
		sheet, err := Lay(paper.Notate(s), Options{Paper: drawing.A4})
		require.NoError(t, err)
		require.NoError(t, drawing.WriteSVG(&svg[i], sheet))
		require.NoError(t, drawing.WritePDF(&pdf[i], sheet))
	}
	require.Equal(t, svg[0].Bytes(), svg[1].Bytes())
	require.Equal(t, pdf[0].Bytes(), pdf[1].Bytes())
}

func TestSVGIsWellFormedAndNamesEveryThirdOnce(t *testing.T) {
	everyExercise(t, func(t *testing.T, s *score.Score) {
		sheet, err := Lay(paper.Notate(s), Options{Paper: drawing.Letter})
		require.NoError(t, err)
		var out bytes.Buffer
		require.NoError(t, drawing.WriteSVG(&out, sheet))
		ids := map[string]int{}
		ticks := map[string]int{}
		for d := xml.NewDecoder(&out); ; {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			require.NoError(t, err)
			start, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			id, tick := "", ""
			for _, a := range start.Attr {
				switch a.Name.Local {
				case "id":
					id = a.Value
					ids[id]++
				case "data-tick":
					tick = a.Value
				}
			}
			if strings.HasPrefix(id, "third-") {
				for _, one := range strings.Fields(tick) {
					ticks[one]++
				}
			}
		}
		for id, n := range ids {
			require.Equal(t, 1, n, "id %s", id)
		}
		require.Len(t, ticks, len(s.Line))
		for i, third := range s.Line {
			require.Equal(t, 1, ticks[fmt.Sprint(third.Tick)], "third %d", i)
		}
	})
}

func TestTitlesOfAnyCharactersArePrinted(t *testing.T) {
	s := arrangetest.Named(t, "first-rung")
	for _, title := range []string{"<b> & \"quotes\"", "漢字 🎸", "Żółw ♯ ♭", strings.Repeat("Long ", 60), "\u202eright to left"} {
		s.Title = title
		sheet, err := Lay(paper.Notate(s), Options{Paper: drawing.A4})
		require.NoError(t, err)
		require.NoError(t, drawing.WriteSVG(io.Discard, sheet))
		require.NoError(t, drawing.WritePDF(io.Discard, sheet))
	}
}

func TestLayRefusesWhatCannotBeSet(t *testing.T) {
	_, err := Lay(paper.Notate(&score.Score{Title: "Nothing"}), Options{Paper: drawing.A4})
	require.ErrorContains(t, err, "no bars")
	_, err = Lay(paper.Notate(arrangetest.Named(t, "top-rung")), Options{Paper: drawing.Paper{Name: "slip", Width: 60, Height: 200}})
	require.ErrorContains(t, err, "slip")
	require.Equal(t, err, Check(paper.Notate(arrangetest.Named(t, "top-rung")), Options{Paper: drawing.Paper{Name: "slip", Width: 60, Height: 200}}))
	require.NoError(t, Check(paper.Notate(arrangetest.Named(t, "top-rung")), Options{Paper: drawing.Letter}))
}

// What Check finds no fault with is printed, all of it: a chord may be as short as a
// twelfth of its bar, and its symbol as long as symbols are.
func TestWhatCheckPassesIsPrinted(t *testing.T) {
	for _, chart := range []string{
		"| 1 / / / / / / / / / / vii° |",
		"| vii° 1 2 3 4 5 6 1 2 3 4 5 |",
		"| N.C. / / / / / Bdim7/D C#m7b5/E Bdim7/D C#m7b5/E Bdim7/D C#m7b5/E |",
	} {
		n := paper.Notate(arrangetest.Score(t, "title: Any\nkey: F# minor\nmeter: 12/8\nchart: '"+chart+"'\n"))
		for _, o := range []Options{{Paper: drawing.A4}, {Paper: drawing.A4, Large: true}, {Paper: drawing.Letter, Blank: true}} {
			checked := Check(n, o)
			var refused error
			for _, lay := range []func(*paper.Notation, Options) (*drawing.Sheet, error){Lay, LayChords, LayFillIn} {
				if _, err := lay(n, o); err != nil {
					refused = err
				}
			}
			require.Equal(t, refused, checked, chart)
		}
	}
	_, err := LayChords(paper.Notate(arrangetest.Score(t, "title: Any\nkey: F# minor\nmeter: 12/8\nchart: '| 1 / / / / / / / / / / vii° |'\n")), Options{Paper: drawing.A4, Large: true})
	require.NoError(t, err)
}

// pictures is for people who review the sheets: go test ./arrange/paper/sheet
// -pictures DIR writes those of all exercises, as SVG.
var pictures = flag.String("pictures", "", "folder to write the sheet of every exercise to")

func TestPicturesAreWrittenOnDemand(t *testing.T) {
	folder := *pictures
	if folder == "" {
		folder = filepath.Join(t.TempDir(), "sheets")
	}
	require.NoError(t, os.MkdirAll(folder, 0o777))
	for name, s := range arrangetest.Scores(t) {
		for kind, lay := range map[string]func(*paper.Notation, Options) (*drawing.Sheet, error){"": Lay, "-chords": LayChords, "-fill-in": LayFillIn} {
			sheet, err := lay(paper.Notate(s), Options{Paper: drawing.A4})
			require.NoError(t, err)
			var out bytes.Buffer
			require.NoError(t, drawing.WriteSVG(&out, sheet))
			require.NoError(t, os.WriteFile(filepath.Join(folder, name+kind+".svg"), out.Bytes(), 0o644))
		}
	}
}

func TestSheetsLookAsTheyDid(t *testing.T) {
	for _, name := range []string{"porch-light", "harbour-ladder", "three-buttons"} {
		sheet, err := Lay(paper.Notate(arrangetest.Named(t, name)), Options{Paper: drawing.A4})
		require.NoError(t, err)
		var out bytes.Buffer
		require.NoError(t, drawing.WriteSVG(&out, sheet))
		goldentest.Equal(t, filepath.Join("testdata", name+".svg"), out.String())
	}
}

func TestGripsStandInRowsAboutEquallyLong(t *testing.T) {
	s := arrangetest.Score(t, "title: Eleven\nkey: C major\nchart: |\n  | C Dm Em F | G Am D7 E7 | A7 Cmaj7 Fmaj7 C |\nline:\n  density: 0%\n")
	var got []int
	for _, row := range newLayout(paper.Notate(s), Options{Paper: drawing.A4}, exercise, usualStaff).grips(95) {
		got = append(got, len(row))
	}
	require.Equal(t, []int{6, 5}, got)
}

// Where one name has two grips, each tells in which bar it first comes; others do not.
func TestTwoGripsOfOneNameTellTheirBars(t *testing.T) {
	s := arrangetest.Score(t, "title: Two\nkey: C major\nchart: '| C | F | C | F |'\n")
	s.Bars[2].Chords[0].Grip = neck.Grip{neck.NotPlayed, 3, 5, 5, 5, 3}
	l := newLayout(paper.Notate(s), Options{Paper: drawing.A4}, exercise, usualStaff)
	var bars []string
	for _, row := range l.grips(95) {
		for _, m := range row {
			diagram := m.(drawing.Group)
			boxes, texts := wordsOf(diagram.Marks)
			last := len(texts) - 1
			if !strings.HasPrefix(texts[last], "bar") {
				continue
			}
			bars = append(bars, texts[last])
			strs := drawing.Nothing()
			for _, m := range diagram.Marks {
				if line, ok := m.(drawing.Line); ok && line.X1 == line.X2 {
					strs = strs.With(line.Bounds())
				}
			}
			require.InDelta(t, (strs.Left+strs.Right)/2, (boxes[last].Left+boxes[last].Right)/2, 1e-9, "in the middle of six strings")
			for i, box := range boxes[:last] { // close below the numbers of fingers
				require.Less(t, box.Bottom, boxes[last].Top, texts[i])
			}
			require.Less(t, boxes[last].Top-boxes[last-1].Bottom, 0.8)
		}
	}
	require.Equal(t, []string{"bar 1", "bar 3"}, bars)
}

// A diagram shows four frets at least, and all between the lowest and the highest finger
// (common practice).
func TestAGripIsShownWhole(t *testing.T) {
	s := arrangetest.Score(t, "title: Wide\nkey: C major\nchart: '| C |'\n")
	l := newLayout(paper.Notate(s), Options{Paper: drawing.A4}, exercise, usualStaff)
	for frets, grip := range map[int]neck.Grip{
		4: {neck.NotPlayed, 3, 2, 0, 1, 0}, 5: {5, 6, 7, 8, 9, 9}, 6: {5, 5, 7, 8, 9, 10},
	} {
		lines := 0
		for _, m := range l.gripDiagram(score.ChordSpan{Chord: s.Bars[0].Chords[0].Chord, Grip: grip}, "")[0].(drawing.Group).Marks {
			if line, ok := m.(drawing.Line); ok && line.Y1 == line.Y2 && line.Thickness == gridLine {
				lines++
			}
		}
		require.Equal(t, frets+1, lines, "%v", grip)
	}
}
