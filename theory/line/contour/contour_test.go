package contour_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/theory/line/contour"
)

// The curves, drawn from one end of a phrase to the other, a column a per cent and a row
// a staff step above or below the middle. A question rises to seven tenths of its length
// and stays above the middle; an answer is highest at a third of its own and ends below
// it (common practice). In a narrow compass they are flat.
func TestAQuestionStaysOpenAndAnAnswerCloses(t *testing.T) {
	var out strings.Builder
	for phrase, name := range []string{"a question", "an answer"} {
		for _, compass := range []int{3, 5, 7, 8, 9, 12, 13, 14} {
			const low = 20
			middle := low + compass/2
			fmt.Fprintf(&out, "%s, compass of %d steps\n", name, compass)
			for step := 4; step >= -2; step-- {
				var row strings.Builder
				for part := range 101 {
					if contour.At(phrase, part, low, low+compass) == middle+step {
						row.WriteByte('*')
					} else {
						row.WriteByte(' ')
					}
				}
				if strings.Contains(row.String(), "*") {
					fmt.Fprintf(&out, "%+d |%s\n", step, strings.TrimRight(row.String(), " "))
				}
			}
			out.WriteByte('\n')
		}
	}
	goldentest.Equal(t, filepath.Join("testdata", "curves.txt"), out.String())
}

func TestEverySecondPhraseAnswers(t *testing.T) {
	for part := range 101 {
		assert.Equal(t, contour.At(0, part, 20, 34), contour.At(2, part, 20, 34))
		assert.Equal(t, contour.At(1, part, 20, 34), contour.At(3, part, 20, 34))
	}
}

// A pushed arrival comes before its phrase, and an ending may last longer.
func TestACurveGoesOnBeyondItsEndsAsItIsThere(t *testing.T) {
	for phrase := range 2 {
		assert.Equal(t, contour.At(phrase, 0, 20, 34), contour.At(phrase, -20, 20, 34))
		assert.Equal(t, contour.At(phrase, 100, 20, 34), contour.At(phrase, 130, 20, 34))
	}
}

// A line has turned where its last two moves went opposite ways; one that stays is as it
// was.
func TestALineTurnsWhereItGoesBack(t *testing.T) {
	for _, c := range []struct {
		moves     string
		heading   contour.Heading
		direction contour.Heading
		turned    bool
	}{
		{"", contour.Still, contour.Still, false},
		{"=", contour.Still, contour.Still, false},
		{"+", contour.Rising, contour.Rising, false},
		{"-", contour.Falling, contour.Falling, false},
		{"++", contour.Rising, contour.Rising, false},
		{"+-", contour.TurnedDown, contour.Falling, true},
		{"+=-", contour.TurnedDown, contour.Falling, true},
		{"+-=", contour.TurnedDown, contour.Falling, true},
		{"+--", contour.Falling, contour.Falling, false},
		{"+-+", contour.TurnedUp, contour.Rising, true},
		{"-+", contour.TurnedUp, contour.Rising, true},
		{"-+-", contour.TurnedDown, contour.Falling, true},
		{"-+++", contour.Rising, contour.Rising, false},
	} {
		for size := 1; size <= 2; size++ {
			var heading contour.Heading
			for _, sign := range c.moves {
				heading = heading.Turn(map[rune]int{'+': size, '-': -size, '=': 0}[sign])
			}
			assert.Equal(t, c.heading, heading, c.moves)
			assert.Equal(t, c.direction, heading.Direction(), c.moves)
			assert.Equal(t, c.turned, heading.Turned(), c.moves)
		}
	}
}
