package strumming

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
)

// One mark at least where something is struck, none where it rings.
func TestEachStrokeOfAPatternHasItsSign(t *testing.T) {
	s := arrangetest.Score(t, "title: Hand\nkey: C major\nchart: |\n  | C | F | G | C |\nstrum: \"D U x - >D >U >x -\"\n")
	const slot = 3.0
	inSlot := make([]int, len(s.Patterns[0]))
	for _, m := range pattern(s.Meter, s.Patterns[0], slot) {
		if line, ok := m.(drawing.Line); ok {
			inSlot[int((line.X1+line.X2)/2/slot)]++
		}
	}
	require.Equal(t, []int{3, 2, 2, 0, 5, 4, 4, 0}, inSlot)
}

// Patterns that a person has looked at, below one another: each sign with its accent and
// count, bars in turn, the end of a phrase, strings plucked together, counts of two
// digits, and what has to stand closer or in several lines; on the right, where there is less room.
func TestPatternsLookAsTheyDid(t *testing.T) {
	var marks []drawing.Mark
	y := 5.0
	for _, setting := range []string{
		"strum: D U x - >D >U >x -",
		"strum: D - D U | D U D U",
		"meter: 3/4",
		"pick: R 3 (21) - | (R13) - 2 1",
		"pick: (31R) 4 3 2 1 2 3 4",
		"meter: 12/8\nstrum: D - U D - U D - U D - U",
		"meter: 9/8\nstrum: D - U D - U D - U | D U D U D U D U D | D - - U - - D - -",
		"strum: D U D U D U D U D U D U D U D U | D - x - D - x - D U x U D U x U",
		"strum: D D D D D D D D D D D D D D D D D D D D D D D D D D D D D D D D",
		"strum: D U D U D U D U | x - - - D U D U | D - D - D - D - | x U D U x U D U",
	} {
		s := arrangetest.Score(t, "title: Hand\nkey: C major\nchart: |\n  | C | F | G | C |\n"+setting+"\n")
		next := y
		for _, column := range []struct{ x, width float64 }{{5, 60}, {70, 35}} {
			drawn := drawing.Moved(Draw(s, column.width), column.x, y)
			marks = append(marks, drawn...)
			next = max(next, drawing.BoundsOf(drawn).Bottom+6)
		}
		y = next
	}
	var out bytes.Buffer
	sheet := &drawing.Sheet{Title: "Patterns", Paper: drawing.Paper{Name: "wide", Width: 220, Height: 2 * y}, Space: 2, Pages: []drawing.Page{{Marks: marks}}}
	require.NoError(t, drawing.WriteSVG(&out, sheet))
	goldentest.Equal(t, filepath.Join("testdata", "patterns.svg"), out.String())
}

// In a column of any width nothing sticks out.
func TestPatternsStayInTheirColumn(t *testing.T) {
	for _, setting := range []string{"meter: 3/4", "strum: D - D U | D U D U | x - U -", "pick: R 3 (21) - | (R13) - 2 1"} {
		s := arrangetest.Score(t, "title: Hand\nkey: C major\nchart: |\n  | C | F | G | C |\n"+setting+"\n")
		for width := 35.0; width < 110; width += 0.2 {
			box := drawing.BoundsOf(Draw(s, width))
			require.GreaterOrEqual(t, box.Left, -1e-9, "%s in %v spaces", setting, width)
			require.LessOrEqual(t, box.Right, width+1e-9, "%s in %v spaces", setting, width)
		}
	}
}

func TestAScoreWithoutPatternsHasNoneDrawn(t *testing.T) {
	require.Empty(t, Draw(&score.Score{}, 60))
}
