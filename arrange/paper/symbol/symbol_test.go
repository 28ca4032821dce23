package symbol

import (
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// A symbol is read as it is written on a lead sheet, and is as wide as it says.
func TestASymbolIsSetAsItIsRead(t *testing.T) {
	chord := func(name string) theory.Chord {
		c, err := theory.ParseChord(name)
		require.NoError(t, err)
		return c
	}
	for _, c := range []struct {
		span score.ChordSpan
		want string
		runs []run
	}{
		{score.ChordSpan{Chord: chord("C")}, "C", []run{{"C", 10}}},
		{score.ChordSpan{Chord: chord("F#m7b5")}, "F♯m7♭5", []run{{"F♯", 10}, {"m7♭5", 8}}},
		{score.ChordSpan{Chord: chord("Bb/D")}, "B♭/D", []run{{"B♭", 10}, {"/D", 10}}},
		{score.ChordSpan{Chord: chord("Dm"), Shape: chord("C#m"), Shaped: true}, "C♯m (Dm)", []run{{"C♯", 10}, {"m", 8}, {" (", 7}, {"D", 7}, {"m", 5.6}, {")", 7}}},
		{score.ChordSpan{None: true}, "N.C.", []run{{"N.C.", 10}}},
	} {
		const size, left = 10, 3
		width := 0.0
		for _, r := range c.runs {
			width += drawing.Bold.Width(r.size, r.text)
		}
		require.InDelta(t, width, Width(size, c.span), 1e-9, c.want)
		set := Set(left, 0, size, c.span)
		require.Equal(t, c.want, set.(drawing.Group).Reads)
		require.InDelta(t, left, set.Bounds().Left, 1, c.want)
		require.InDelta(t, left+width, set.Bounds().Right, 1, c.want)
	}
}
