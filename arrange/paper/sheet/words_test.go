package sheet

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
)

// Who hears a page is told all of it but its number: every figure in words.
func TestEveryPartOfAPageIsTold(t *testing.T) {
	everyExercise(t, func(t *testing.T, s *score.Score) {
		for _, lay := range []func(*paper.Notation, Options) (*drawing.Sheet, error){Lay, LayChords, LayFillIn} {
			sheet, err := lay(paper.Notate(s), Options{Paper: drawing.A4})
			require.NoError(t, err)
			for _, page := range sheet.Pages {
				end := 0
				for _, p := range page.Parts {
					require.Greater(t, p.End, end)
					require.Equal(t, p.Role == drawing.Figure, p.Says != "")
					end = p.End
				}
				require.GreaterOrEqual(t, end, len(page.Marks)-1)
			}
			require.Equal(t, drawing.Paragraph, sheet.Pages[0].Parts[len(sheet.Pages[0].Parts)-1].Role)
		}
	})
}

func TestARowIsSaidInWords(t *testing.T) {
	s := arrangetest.Score(t, "title: Words\nkey: C major\nchart: |\n  [pickup] N.C. / / G7 |\n  [A] |: C | F G :| x3\nline:\n  density: 0%\n")
	n := paper.Notate(s)
	require.Equal(t, "Pickup, G7: "+s.Line[0].Notes.String()+". A. Bar 1, a repeat begins, C: "+s.Line[1].Notes.String()+
		". Bar 2, F G: "+s.Line[2].Notes.String()+", "+s.Line[3].Notes.String()+"; repeat, 3 times in all.", rowInWords(n.Measures))
}

func TestASheetToFillInMayBeBlank(t *testing.T) {
	n := paper.Notate(arrangetest.Named(t, "porch-light"))
	heads := func(o Options) (count int) {
		sheet, err := LayFillIn(n, o)
		require.NoError(t, err)
		for _, page := range sheet.Pages {
			for _, m := range page.Marks {
				if g, ok := m.(drawing.Group); ok && len(g.Attributes) > 0 && g.Attributes[0].Name == "third" {
					count++
				}
			}
		}
		return count
	}
	require.Positive(t, heads(Options{Paper: drawing.A4}))
	require.Zero(t, heads(Options{Paper: drawing.A4, Blank: true}))
}

// What stands on a sheet to fill in asks for no flag and no bracket, whatever the line
// has in its place.
func TestArrivalsToFillInLastWholeBeats(t *testing.T) {
	s := arrangetest.Named(t, "three-buttons")
	beat := s.Meter.Beat()
	line := arrivals(s)
	require.NotEmpty(t, line)
	for i, third := range line {
		require.Equal(t, score.Arrival, third.Role)
		require.Zero(t, third.Length%beat)
		if i > 0 {
			require.LessOrEqual(t, line[i-1].Tick+line[i-1].Length, third.Tick)
		}
	}
	short := arrivals(arrangetest.Score(t, "title: Two in a beat\nkey: C major\nchart: '| C / / / / / F G |'\nline: {density: 0%}\n"))
	require.Equal(t, []int{6 * 240, 240, 240}, []int{short[0].Length, short[1].Length, short[2].Length}, "chords shorter than a beat")
	for _, m := range paper.Notate(&score.Score{Meter: s.Meter, Grid: s.Grid, Key: s.Key, Neck: s.Neck, Bars: s.Bars, Line: line}).Measures {
		require.Empty(t, m.Tuplets)
	}
}

// A ladder has no arrivals: its sheet to fill in shows where the key's thirds lie, up
// to the octave.
func TestAMapWithoutALineShowsTheNeck(t *testing.T) {
	s := *arrangetest.Named(t, "two-rails")
	s.Line = nil
	n := paper.Notate(&s)
	m := newNeckMap(newLayout(n, Options{Paper: drawing.A4}, fillIn, usualStaff), 100)
	require.Equal(t, 0, m.low)
	require.Equal(t, 13, m.columns)
	require.NotEmpty(t, m.dots)
}

// Where the hand is free, the map shows what the line plays and a fret more on both
// sides, as far as the neck goes.
func TestTheMapShowsWhereTheLineLies(t *testing.T) {
	for _, c := range []struct {
		line      string
		low, high int // frets
	}{
		{"own: {1: G3 - B3 -}", 0, 5}, {"own: {1: C4 - A3 -}", 0, 6}, {"own: {1: G4 - G4 -}", 6, 9},
	} {
		s := arrangetest.Score(t, "title: Map\nkey: C major\nchart: '| C |'\nline: {grid: quarters, "+c.line+"}\nguitar: {position: free}\n")
		m := newNeckMap(newLayout(paper.Notate(s), Options{Paper: drawing.A4}, exercise, usualStaff), 100)
		require.Equal(t, []int{c.low, c.high}, []int{m.low, m.low + m.columns - 1}, "%v", s.Line)
	}
}

// The grips are told once each, as they come, N.C. without one.
func TestGripsAreSaidInWords(t *testing.T) {
	s := arrangetest.Score(t, "title: Words\nkey: C major\nchart: '| C | N.C. | F | C |'\n")
	l := newLayout(paper.Notate(s), Options{Paper: drawing.A4}, exercise, usualStaff)
	require.Equal(t, "Grips, the lowest string first: C "+s.Bars[0].Chords[0].Grip.String()+", F "+s.Bars[2].Chords[0].Grip.String()+".", l.gripsInWords())
}

// A bar in which the line rests is told by its chords alone.
func TestARestIsNotSaid(t *testing.T) {
	s := arrangetest.Score(t, "title: Words\nkey: C major\nchart: '| C | N.C. |'\nline: {density: 0%}\n")
	require.Equal(t, "Bar 1, C: "+s.Line[0].Notes.String()+". Bar 2, N.C.", rowInWords(paper.Notate(s).Measures))
}

// Whatever a teacher writes on a typewriter's keys is printed with apostrophes.
func TestWordsArePrintedWithApostrophes(t *testing.T) {
	s := arrangetest.Score(t, "title: Nora's first\nsubtitle: Nora's second\nby: Nora's third\nnote: Nora's fourth\nkey: C major\nchart: \"[Nora's fifth] | C | F |\"\n")
	sheet, err := Lay(paper.Notate(s), Options{Paper: drawing.A4})
	require.NoError(t, err)
	_, texts := wordsOf(sheet.Pages[0].Marks)
	for _, which := range []string{"first", "second", "third", "fourth", "fifth"} {
		require.Contains(t, texts, "Nora’s "+which)
	}
	require.Equal(t, "Nora's first", s.Title, "the score stays as it was written")
}

// The legend of a ladder, which neither skips within its chord nor chooses its way, does not
// say how a line goes.
func TestTheLegendOfALadderSaysNothingOfSkips(t *testing.T) {
	const skips = "then by step, or by a skip within the chord"
	for name, says := range map[string]bool{"porch-light": true, "two-rails": false} {
		l := newLayout(paper.Notate(arrangetest.Named(t, name)), Options{Paper: drawing.A4}, exercise, usualStaff)
		_, texts := wordsOf(l.arrivalLegend())
		require.Equal(t, says, slices.Contains(texts, skips), name)
		require.Contains(t, texts, "small numbers: fingers")
	}
}
