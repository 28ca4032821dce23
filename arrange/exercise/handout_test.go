package exercise_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What a teacher writes as a list is printed as one: a step below the other, and not one
// behind the other with dashes between them. Other lines flow.
func TestANoteKeepsItsLists(t *testing.T) {
	const head = "title: Note\nkey: C major\nchart: '| C |'\nnote: |\n"
	for text, want := range map[string][]string{
		"  Slowly\n  at first.\n":                                {"Slowly at first."},
		"  Slowly.\n\n  Then faster.\n":                          {"Slowly.", "Then faster."},
		"  Today:\n  - say the names\n  - play,\n    and sing\n": {"Today:", "- say the names", "- play, and sing"},
		"  1. Thumb.\n  2) Fingers.\n  12. Both.\n":              {"1. Thumb.", "2) Fingers.", "12. Both."},
		"  • Thumb.\n  – Fingers.\n":                             {"• Thumb.", "– Fingers."},
		"  Play at\n  60.\n  Or at\n  80 once.\n":                {"Play at 60. Or at 80 once."},
		"  Bars 1\n  -2 twice.\n":                                {"Bars 1 -2 twice."},
	} {
		e := parse(t, head+text)
		assert.Empty(t, e.Findings())
		assert.Equal(t, want, e.Handout.Note, text)
	}
}
