package paper

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory/neck"
)

// Guitars, also those of seven strings and baritones, are read in a treble clef with an 8
// below, as are banjos, ukuleles and mandolins without it, basses in theirs (common practice).
func TestAnInstrumentIsReadInItsClef(t *testing.T) {
	for tuning, want := range map[string]Clef{
		"E2 A2 D3 G3 B3 E4": GuitarClef, "D2 A2 D3 G3 A3 D4": GuitarClef, "B1 E2 A2 D3 G3 B3 E4": GuitarClef,
		"B1 E2 A2 D3 F#3 B3": GuitarClef, "D3 G3 B3 E4": GuitarClef, "G4 D3 G3 B3 D4": GuitarClef,
		"G4 C4 E4 A4": TrebleClef, "G3 C4 E4 A4": TrebleClef, "G3 D4 A4 E5": TrebleClef,
		"E1 A1 D2 G2": BassClef, "B0 E1 A1 D2 G2": BassClef, "B0 E1 A1 D2 G2 C3": BassClef,
	} {
		of, err := neck.ParseTuning(tuning)
		require.NoError(t, err)
		assert.Equal(t, want, ClefOf(neck.Neck{Tuning: of}), tuning)
	}
}
