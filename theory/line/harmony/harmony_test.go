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

// What handbooks of chord scales have one avoid over the chords of C major: the tone a
// semitone above one of the chord's, over a dominant seventh the fourth alone (common
// practice).
func TestThirdsRubAgainstChords(t *testing.T) {
	scale := theorytest.Key(t, "C major").Scale()
	for chord, want := range map[string]string{
		"C":     "DF",   // F
		"Cmaj7": "DF",   // F
		"Dm7":   "",     // E, G and B lie a whole tone above
		"Em":    "CDFA", // F and C
		"F":     "",     // its fourth, B, lies a whole tone above A
		"G7":    "CA",   // C
		"Am":    "DF",   // F
		"Bm7b5": "CA",   // C
		"E7":    "FA",   // A, and neither F nor C, its flat ninth and thirteenth
	} {
		got := ""
		for l := theory.C; l <= theory.B; l++ {
			if third := scale.Third(28 + int(l)); harmony.Avoided(theorytest.Chord(t, chord), third) {
				got += l.String()
			}
		}
		assert.Equal(t, want, got, chord)
	}
}
