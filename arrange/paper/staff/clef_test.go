package staff

import (
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/paper"
	"thirdwise/theory"
)

// The accidentals of a key signature on the treble staff, as every handbook
// prints them, on the written notes F5 C5 G5 D5 A4 E5 B4 and B4 E5 A4 D5 G4 C5 F4
// (common practice).
func TestKeySignaturesStandOnTheirNotes(t *testing.T) {
	for i, written := range [][2]string{
		{"F5", "B4"}, {"C5", "E5"}, {"G5", "A4"}, {"D5", "D5"}, {"A4", "G4"}, {"E5", "C5"}, {"B4", "F4"},
	} {
		for j, heights := range [][7]float64{sharpHeights, flatHeights} {
			p, err := theory.ParsePitch(written[j])
			require.NoError(t, err)
			p.Octave-- // a guitar sounds an octave lower
			require.InDelta(t, HeightOf(p, paper.GuitarClef), heights[i], 1e-9, written[j])
		}
	}
}

// On the bottom line of the treble clef stands E4, on that of the bass clef G2, and the 8
// below says that each sounds an octave lower; without it, E4 sounds (common practice).
func TestTheBottomLineIsEOrG(t *testing.T) {
	for clef, sounding := range map[paper.Clef]string{paper.GuitarClef: "E3", paper.BassClef: "G1", paper.TrebleClef: "E4"} {
		p, err := theory.ParsePitch(sounding)
		require.NoError(t, err)
		require.InDelta(t, BottomLine, HeightOf(p, clef), 1e-9)
	}
}
