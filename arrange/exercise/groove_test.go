package exercise_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/exercise/source"
)

// A click that ends leaves the mix of click and guide without time, and all mixes
// without a groove hardly better.
func TestAClickThatEndsIsNoted(t *testing.T) {
	const head = "title: Rattle\nkey: C major\nchart: '| C |'\n"
	for settings, want := range map[string]string{
		"":                                  "",
		"groove: shaker\n":                  "",
		"click: always\n":                   "",
		"click: count-in\n":                 "in the mix guide nothing keeps the time then, and in the others the chords alone do",
		"click: count-in\ngroove: brush\n":  "in the others the groove does",
		"groove: shaker\nclick: count-in\n": "in the others the groove does",
	} {
		notes := parse(t, head+settings).Findings().Of(source.Note)
		if want == "" {
			assert.Empty(t, notes, settings)
			continue
		}
		require.Len(t, notes, 1, settings)
		assert.Contains(t, notes[0].Message, want)
	}
}
