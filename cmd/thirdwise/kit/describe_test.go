package kit

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
)

// A program that reads kit.json learns how the exercise was written.
func TestTheDescriptionHoldsWhatTheExerciseAsksFor(t *testing.T) {
	const song = "title: Asked\nkey: C major\nchart: '[pickup] N.C. / / G7 | C | F | G7 | C |'\n"
	plain := Describe(arrangetest.Score(t, song))
	assert.Equal(t, []string{"D - D U - U D U", "D - D - D U D U"}, plain.Strum)
	assert.Equal(t, "D - D U D U D U", plain.Fill)
	assert.Nil(t, plain.Rhythm)
	var file bytes.Buffer
	require.NoError(t, WriteJSON(&file, plain))
	for _, name := range []string{"rhythm", "push", "own", "variant", "ladder", "pick"} {
		assert.NotContains(t, file.String(), `"`+name, "what does not apply is left out")
	}

	asked := Describe(arrangetest.Score(t, song+`pick: "R - (21) 3 | R 3 2 1"
line:
  rhythm: "x - - . x x x x | x---x---"
  push: on
  variant: 2
  own:
    2: E4 - - - D4 - x -
    0: ". . . . . . B3 -"
`))
	assert.Equal(t, []string{"x - - . x x x x", "x - - - x - - -"}, asked.Rhythm)
	assert.True(t, asked.Push)
	assert.Equal(t, 2, asked.Variant)
	assert.Equal(t, []OwnRecord{{0, ". . . . . . B3 -"}, {2, "E4 - - - D4 - x -"}}, asked.Own)
	assert.Equal(t, []string{"R - (21) 3", "R 3 2 1"}, asked.Pick)
	assert.Empty(t, asked.Strum)

	ladder := Describe(arrangetest.Score(t, "title: Rungs\nkey: C major\nladder: 3-2\nladder-chords: triads\n"))
	assert.Equal(t, "2-3", ladder.Ladder)
	assert.Equal(t, "triads", ladder.LadderChords)
	assert.Nil(t, ladder.Own, "a ladder's thirds are in line")
}
