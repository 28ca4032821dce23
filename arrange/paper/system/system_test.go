package system

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/staff"
	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// everyExercise calls f with the score of each exercise under testdata.
func everyExercise(t *testing.T, f func(t *testing.T, s *score.Score)) {
	for name, s := range arrangetest.Scores(t) {
		t.Run(name, func(t *testing.T) { f(t, s) })
	}
}

// pageWidth is the width of a row in staff spaces: that of A4 with margins, and a
// staff of the size of printed parts.
const pageWidth = 105.5

// systemsOf returns the systems of a score on a page.
func systemsOf(t require.TestingT, s *score.Score) []*system {
	m := Of(paper.Notate(s), Both, UsualFinger)
	rows, _, ok := m.Break(pageWidth, 0)
	require.True(t, ok)
	var systems []*system
	for _, row := range rows {
		systems = append(systems, newSystem(m, row))
	}
	return systems
}

// The lines of the treble clef are E4, G4, B4, D5 and F5, and a guitar sounds an
// octave lower than it is written; tablature has the highest string at the top
// (common practice).
func TestEveryNoteStandsOnceOnStaffAndTab(t *testing.T) {
	check := func(t require.TestingT, s *score.Score) {
		onTab := make([]int, len(s.Line))
		played := make([]int, len(s.Line))
		bottom := theory.Pitch{Tone: theory.Tone{Letter: theory.E}, Octave: 4}
		for _, system := range systemsOf(t, s) {
			for _, third := range system.thirds {
				var heads []float64
				frets := map[string]string{} // by height
				for _, m := range third.group.Marks {
					switch m := m.(type) {
					case drawing.Sign:
						if m.Glyph == drawing.BlackHead || m.Glyph == drawing.HalfHead || m.Glyph == drawing.WholeHead {
							heads = append(heads, m.Y)
						}
					case drawing.Words:
						if m.Font == drawing.Italic { // a finger
							continue
						}
						box := m.Bounds()
						frets[fmt.Sprintf("%.2f", (box.Top+box.Bottom)/2)] = m.Text
					}
				}
				first := s.Line[third.event.Thirds[0]]
				var want []float64
				for _, sounding := range []theory.Pitch{first.Notes.Lower, first.Notes.Upper} {
					written := sounding
					written.Octave++
					steps := theory.Between(bottom, theory.Pitch{Tone: theory.Tone{Letter: written.Letter}, Octave: written.Octave}).Steps
					want = append(want, 4-float64(steps)/2)
				}
				require.Equal(t, want, heads)
				for _, index := range third.event.Thirds {
					played[index] += third.event.Length
				}
				if third.event.TiedFrom {
					require.Empty(t, frets)
					continue
				}
				for _, index := range third.event.Thirds {
					onTab[index]++
				}
				height := func(str int) string { return fmt.Sprintf("%.2f", system.tabTop+1.5*float64(str-1)) }
				require.Equal(t, map[string]string{
					height(first.Places.Lower.String): fmt.Sprint(first.Places.Lower.Fret),
					height(first.Places.Upper.String): fmt.Sprint(first.Places.Upper.Fret),
				}, frets)
			}
		}
		for i := range s.Line {
			require.Equal(t, 1, onTab[i], "third %d on the tab", i)
			require.Equal(t, s.Line[i].Length, played[i], "ticks of third %d on the staff", i)
		}
	}
	everyExercise(t, func(t *testing.T, s *score.Score) { check(t, s) })
	rapid.Check(t, func(t *rapid.T) { check(t, arrangetest.AnyScore(t)) })
}

// glyphs returns the boxes of what must not overlap with the like of another
// event: heads, accidentals, dots of length and fret numbers.
func inkOf(g drawing.Group) []drawing.Box {
	var boxes []drawing.Box
	for _, m := range g.Marks {
		switch m := m.(type) {
		case drawing.Sign:
			if m.Glyph != drawing.UpFlag && m.Glyph != drawing.UpFlagMore && m.Glyph != drawing.DownFlag && m.Glyph != drawing.DownFlagMore {
				boxes = append(boxes, m.Bounds())
			}
		case drawing.Words:
			boxes = append(boxes, m.Bounds())
		}
	}
	return boxes
}

func TestSignsOfDifferentNotesDoNotOverlap(t *testing.T) {
	check := func(t require.TestingT, s *score.Score) {
		for _, system := range systemsOf(t, s) {
			for i, a := range system.thirds {
				for _, b := range system.thirds[i+1:] {
					for _, p := range inkOf(a.group) {
						for _, q := range inkOf(b.group) {
							require.False(t, p.Overlaps(q), "%v at %v and %v at %v", a.event.Third.Notes, p, b.event.Third.Notes, q)
						}
					}
				}
			}
		}
	}
	everyExercise(t, func(t *testing.T, s *score.Score) { check(t, s) })
	rapid.Check(t, func(t *rapid.T) { check(t, arrangetest.AnyScore(t)) })
}

// Accidentals stand beside the heads of their third and beside one another.
func TestAccidentalsOfAThirdStandClear(t *testing.T) {
	check := func(t require.TestingT, s *score.Score) {
		for _, system := range systemsOf(t, s) {
			for _, third := range system.thirds {
				var heads, upper, lower drawing.Box = drawing.Nothing(), drawing.Nothing(), drawing.Nothing()
				for _, m := range third.group.Marks {
					sign, ok := m.(drawing.Sign)
					switch {
					case !ok:
					case sign.Glyph == drawing.BlackHead || sign.Glyph == drawing.HalfHead || sign.Glyph == drawing.WholeHead:
						heads = heads.With(sign.Bounds())
					case sign.X >= third.x: // flags
					case sign.Y == staff.HeightOf(third.event.Third.Notes.Upper, paper.GuitarClef):
						upper = upper.With(sign.Bounds())
					default:
						lower = lower.With(sign.Bounds())
					}
				}
				for _, pair := range [][2]drawing.Box{{heads, upper}, {heads, lower}, {upper, lower}} {
					require.False(t, pair[0].Overlaps(pair[1]), "%v: %v and %v", third.event.Third.Notes, pair[0], pair[1])
				}
			}
		}
	}
	check(t, arrangetest.Score(t, "title: Sharps\nkey: A minor\nchart: |\n  | E7 | G#dim7 | F#m7b5 | B7 | Bb | Ebm | A#m | D#m |\nline:\n  density: 100%\n"))
	rapid.Check(t, func(t *rapid.T) { check(t, arrangetest.AnyScore(t)) })
}

// barLinesOf returns a system's bar lines through the staff, from left to right.
func barLinesOf(s *system) []drawing.Line {
	var lines []drawing.Line
	for _, m := range s.marks {
		if l, ok := m.(drawing.Line); ok && l.X1 == l.X2 && l.Y1 == 0 && l.Y2 == staff.BottomLine {
			lines = append(lines, l)
		}
	}
	slices.SortFunc(lines, func(a, b drawing.Line) int { return cmp.Compare(a.X1, b.X1) })
	return lines
}

// The lines are as dense as can be, which paper never asks for.
func TestBarLinesStandClearOfNotes(t *testing.T) {
	check := func(t require.TestingT, s *score.Score) {
		m := Of(paper.Notate(s), Both, UsualFinger)
		dense := newSystem(m, Row{First: 0, Last: len(m.bars) - 1})
		for _, line := range barLinesOf(dense) {
			across := line.Bounds()
			across.Bottom = dense.tabBottom()
			for _, third := range dense.thirds {
				for _, sign := range inkOf(third.group) {
					require.False(t, across.Overlaps(sign), "a bar line at %v and %v at %v", across, third.event.Third.Notes, sign)
				}
			}
		}
	}
	everyExercise(t, func(t *testing.T, s *score.Score) { check(t, s) })
	rapid.Check(t, func(t *rapid.T) { check(t, arrangetest.AnyScore(t)) })
}

// Where a repeat closes and another opens, one thick line stands between two
// thin ones (Gould, Behind Bars, from memory); a section begins behind two thin
// lines, and a piece ends with a thin and a thick one (common practice).
func TestRepeatsThatMeetShareTheirThickLine(t *testing.T) {
	s := arrangetest.Score(t, "title: Repeats\nkey: C major\nchart: |\n  |: C :| |: F :|\n  [B] | G |\n  [C] | C |\nline:\n  density: 0%\n")
	var got []float64
	for _, system := range systemsOf(t, s) {
		for _, l := range barLinesOf(system) {
			got = append(got, l.Thickness)
		}
	}
	require.Equal(t, []float64{
		thickBar, thinBar, // the first repeat opens
		thinBar, thickBar, thinBar, // it closes, and the second opens
		thinBar, thickBar, // which closes where B begins
		thinBar, thinBar, // C begins
		thinBar, thickBar,
	}, got)
}

// Ties begin and end beside the heads that they join.
func TestTiesStandClearOfHeads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, system := range systemsOf(t, arrangetest.AnyScore(t)) {
			for _, m := range system.marks {
				tie, ok := m.(drawing.Shape)
				if !ok || !slices.ContainsFunc(tie.Path, func(s drawing.Step) bool { return s.Verb == drawing.CurveTo }) {
					continue
				}
				for _, third := range system.thirds {
					for _, ink := range inkOf(third.group) {
						if third.event.TiedFrom || third.event.TiedTo {
							require.False(t, tie.Bounds().Overlaps(ink), "a tie at %v and %v at %v", tie.Bounds(), third.event.Third.Notes, ink)
						}
					}
				}
			}
		}
	})
}

// Words stand clear of each other and of all signs: chord symbols, sections,
// endings, remarks, bar numbers.
func TestWordsStandClear(t *testing.T) {
	check := func(t require.TestingT, s *score.Score) {
		for _, system := range systemsOf(t, s) {
			var words, signs []drawing.Box
			for _, m := range system.marks {
				switch m := m.(type) {
				case drawing.Words, drawing.Group:
					words = append(words, m.Bounds())
				case drawing.Sign:
					signs = append(signs, m.Bounds())
				}
			}
			for _, third := range system.thirds {
				signs = append(signs, inkOf(third.group)...)
			}
			for i, a := range words {
				for _, b := range words[i+1:] {
					require.False(t, a.Overlaps(b), "words at %v and %v", a, b)
				}
				for _, b := range signs {
					require.False(t, a.Overlaps(b), "words at %v and a sign at %v", a, b)
				}
			}
		}
	}
	everyExercise(t, func(t *testing.T, s *score.Score) { check(t, s) })
	rapid.Check(t, func(t *rapid.T) { check(t, arrangetest.AnyScore(t)) })
}

// A tie that goes on in another row ends there with its second half, above the rhythm of a
// tab as on a staff (common practice).
func TestATieGoesOnInTheNextRow(t *testing.T) {
	s := arrangetest.Score(t, "title: Pushed\nkey: C major\nchart: |\n  | C | F | G |\n  | C | Am | F |\nline: {rhythm: 'x - - - x - - x | - - - - x - x x'}\n")
	for _, v := range []Staves{Both, Tab, Notation} {
		m := Of(paper.Notate(s), v, UsualFinger)
		row := newSystem(m, Row{First: 3, Last: 5, Stretch: 1})
		require.True(t, row.bars[0].Events[0].TiedFrom)
		halves := 0
		for _, mark := range row.marks {
			box := mark.Bounds()
			if tie, ok := mark.(drawing.Shape); ok && tie.Path[1].Verb == drawing.CurveTo && box.Left < row.left[0] && box.Right < row.xs[0][0]+drawing.HeadWidth/2 {
				halves++
			}
		}
		require.Equal(t, map[Staves]int{Both: 2, Tab: 1, Notation: 2}[v], halves)
		row = newSystem(m, Row{First: 0, Last: 2, Stretch: 1}) // and the first half ends with its row
		require.True(t, row.bars[2].Events[len(row.bars[2].Events)-1].TiedTo)
		halves = 0
		for _, mark := range row.marks {
			box := mark.Bounds()
			if tie, ok := mark.(drawing.Shape); ok && tie.Path[1].Verb == drawing.CurveTo && box.Right > row.width-1 && box.Right < row.width {
				halves++
			}
		}
		require.Equal(t, map[Staves]int{Both: 2, Tab: 1, Notation: 2}[v], halves)
	}
}

// Where chords stand alone, their symbols are as high as the dots of repeat signs.
func TestSymbolsOfAChordChartStandClearOfRepeats(t *testing.T) {
	s := arrangetest.Score(t, "title: Close\nkey: C major\nchart: |\n  |: C | G / / C7 :|: F | G / / Am7b5 :|\nguitar:\n  capo: 3\n")
	s.Line = nil
	m := Of(paper.Notate(s), Chords, UsualFinger)
	drawn := newSystem(m, Row{First: 0, Last: len(m.bars) - 1}).all() // as dense as can be
	dots := 0
	for _, dot := range drawn {
		if _, ok := dot.(drawing.Shape); !ok {
			continue
		}
		dots++
		for _, m := range drawn {
			switch m.(type) {
			case drawing.Words, drawing.Group:
				require.False(t, m.Bounds().Overlaps(dot.Bounds()), "%v and a dot at %v", m, dot.Bounds())
			}
		}
	}
	require.Equal(t, 8, dots)
}

// One bracket lies over all bars of an ending (common practice).
func TestAnEndingHasOneBracket(t *testing.T) {
	s := arrangetest.Score(t, "title: Gate\nkey: G major\nmeter: 7/8\nchart: |\n  [pickup] | D7 |\n  [A] |: G | C | [1.] Am | D7 :| [2.] D7 | G |\nline:\n  density: 60%\n")
	systems := systemsOf(t, s)
	require.Greater(t, len(systems[0].bars), 1, "a pickup stands before bar one, in its row")
	brackets := 0
	for _, system := range systems {
		heights := map[float64]bool{}
		for _, m := range system.marks {
			if l, ok := m.(drawing.Line); ok && l.Thickness == endingLine && l.Y1 == l.Y2 {
				brackets++
				heights[l.Y1] = true
			}
		}
		require.LessOrEqual(t, len(heights), 1, "all at one height")
	}
	require.Equal(t, 2, brackets)
}

func TestASectionBeginsARowUnlessOneOfASingleBarShares(t *testing.T) {
	check := func(t require.TestingT, s *score.Score) {
		for _, system := range systemsOf(t, s) {
			for i, b := range system.bars[1:] {
				if b.Section != "" && system.bars[i].Number != 0 {
					single := system.bars[i].Section != "" || b.SectionEnds || i+2 == len(system.bars)
					require.True(t, single, "%q stands inside a row", b.Section)
				}
			}
		}
	}
	everyExercise(t, func(t *testing.T, s *score.Score) { check(t, s) })
	rapid.Check(t, func(t *rapid.T) { check(t, arrangetest.AnyScore(t)) })
	for _, c := range []struct{ chart, want string }{
		{"[A] | C |\n  [B] | F | G | C | F |\n  [C] | C | F | G | C |", "5 4"},
		{"[A] | C |\n  [B] | F |\n  [C] | G |\n  [D] | C |\n  [E] | F |\n  [F] | C |\n  [G] | G |\n  [H] | C |", "4 4"},
	} {
		s := arrangetest.Score(t, fmt.Sprintf("title: Short\nkey: C major\nchart: |\n  %s\n", c.chart))
		rows, _, ok := Of(paper.Notate(s), Both, UsualFinger).Break(pageWidth, 0)
		require.True(t, ok)
		require.Equal(t, c.want, barsOf(rows), c.chart)
	}
}

// The last row of a section may stay open.
func TestRowsFillTheirWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, s := range systemsOf(t, arrangetest.AnyScore(t)) {
			if !endsSection(s.bars, len(s.bars)-1) {
				require.InDelta(t, pageWidth, s.width, 0.01)
			}
			require.LessOrEqual(t, s.width, pageWidth+0.01)
		}
	})
}
