package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
)

// everyExercise calls f with the score of each exercise under testdata.
func everyExercise(t *testing.T, f func(t *testing.T, s *score.Score)) {
	for name, s := range arrangetest.Scores(t) {
		t.Run(name, func(t *testing.T) { f(t, s) })
	}
}

func TestEverythingLiesOnThePaper(t *testing.T) {
	for _, p := range []drawing.Paper{drawing.A4, drawing.Letter} {
		everyExercise(t, func(t *testing.T, s *score.Score) {
			sheet, err := Lay(paper.Notate(s), p)
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
		sheet, err := Lay(paper.Notate(s), drawing.A4)
		require.NoError(t, err)
		return 4 * sheet.Space
	}
	require.InDelta(t, 9.2, staff(8, 0), 1e-9)
	require.InDelta(t, 7.9, staff(12, 0), 1e-9)
	require.InDelta(t, 7.9, staff(8, 100), 1e-9)
	require.InDelta(t, 6.8, staff(64, 0), 1e-9)
}

func TestSheetIsTheSameEveryTime(t *testing.T) {
	s := arrangetest.Named(t, "harbour-ladder")
	var svg, pdf [2]bytes.Buffer
	for i := range 2 {
		sheet, err := Lay(paper.Notate(s), drawing.A4)
		require.NoError(t, err)
		require.NoError(t, drawing.WriteSVG(&svg[i], sheet))
		require.NoError(t, drawing.WritePDF(&pdf[i], sheet))
	}
	require.Equal(t, svg[0].Bytes(), svg[1].Bytes())
	require.Equal(t, pdf[0].Bytes(), pdf[1].Bytes())
}

func TestSVGIsWellFormedAndNamesEveryThirdOnce(t *testing.T) {
	everyExercise(t, func(t *testing.T, s *score.Score) {
		sheet, err := Lay(paper.Notate(s), drawing.Letter)
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
		sheet, err := Lay(paper.Notate(s), drawing.A4)
		require.NoError(t, err)
		require.NoError(t, drawing.WriteSVG(io.Discard, sheet))
		require.NoError(t, drawing.WritePDF(io.Discard, sheet))
	}
}

func TestLayRefusesWhatCannotBeSet(t *testing.T) {
	_, err := Lay(paper.Notate(&score.Score{Title: "Nothing"}), drawing.A4)
	require.ErrorContains(t, err, "no bars")
	_, err = Lay(paper.Notate(arrangetest.Named(t, "top-rung")), drawing.Paper{Name: "slip", Width: 60, Height: 200})
	require.ErrorContains(t, err, "slip")
}

// fontBytes matches the fonts within an SVG, which a person cannot look at.
var fontBytes = regexp.MustCompile(`base64,[A-Za-z0-9+/=]+`)

func TestSheetsLookAsTheyDid(t *testing.T) {
	for _, name := range []string{"porch-light", "harbour-ladder", "three-buttons", "odd-socks", "two-strides", "goat-meadow"} {
		sheet, err := Lay(paper.Notate(arrangetest.Named(t, name)), drawing.A4)
		require.NoError(t, err)
		var out bytes.Buffer
		require.NoError(t, drawing.WriteSVG(&out, sheet))
		got := fontBytes.ReplaceAll(out.Bytes(), []byte("base64,"))
		goldentest.Equal(t, filepath.Join("testdata", name+".svg"), string(got))
	}
}

func TestGripsStandInRowsAboutEquallyLong(t *testing.T) {
	s := arrangetest.Score(t, "title: Eleven\nkey: C major\nchart: |\n  | C Dm Em F | G Am D7 E7 | A7 Cmaj7 Fmaj7 C |\nline:\n  density: 0%\n")
	var got []int
	for _, row := range newLayout(paper.Notate(s), drawing.A4, usualStaff).grips() {
		got = append(got, len(row))
	}
	require.Equal(t, []int{6, 5}, got)
}
