package harmony_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/theory"
	"thirdwise/theory/line/harmony"
	"thirdwise/theory/theorytest"
)

// What each third of C major is over a chord (common practice): how many notes it shares
// with it, whether the chord can begin with it, and whether it has the third that a
// sustained fourth puts off.
func TestThirdsGoWithChords(t *testing.T) {
	scale := theorytest.Key(t, "C major").Scale()
	for _, c := range []struct {
		chord    string
		shared   [7]int // by the letter of the lower note, from C
		arrives  string // letters of the lower notes
		putsOffs string
	}{
		{"C", [7]int{2, 0, 2, 0, 1, 1, 0}, "CE", ""},
		{"Am", [7]int{2, 0, 1, 1, 0, 2, 0}, "CA", ""},
		{"G7", [7]int{0, 2, 1, 1, 2, 0, 2}, "DGB", ""},
		{"Gsus4", [7]int{1, 1, 1, 0, 1, 1, 1}, "CDEA", "GB"},
		{"Csus4", [7]int{1, 1, 1, 1, 1, 1, 0}, "DFA", "CE"},
		{"Asus4", [7]int{1, 1, 1, 1, 0, 1, 1}, "EB", "CA"},
		{"C5", [7]int{1, 0, 1, 0, 1, 1, 0}, "CEA", ""}, // over C a B rubs, a semitone below
		{"E5", [7]int{1, 0, 1, 0, 1, 0, 1}, "EGB", ""}, // over B a C, a semitone above
		{"G5", [7]int{0, 1, 1, 0, 1, 0, 1}, "DEGB", ""},
	} {
		chord := theorytest.Chord(t, c.chord)
		arrives, putsOffs := "", ""
		for l := theory.C; l <= theory.B; l++ {
			third := scale.Third(28 + int(l))
			assert.Equal(t, c.shared[l], harmony.Shared(chord, third), "%s over %s", third, c.chord)
			if harmony.Arrives(chord, third) {
				arrives += l.String()
			}
			if harmony.PutsOff(chord, third) {
				putsOffs += l.String()
			}
		}
		assert.Equal(t, c.arrives, arrives, c.chord)
		assert.Equal(t, c.putsOffs, putsOffs, c.chord)
	}
}
