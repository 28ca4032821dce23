package strumming

import (
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper/drawing"
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
