package neckmap

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/theory"
	"thirdwise/theory/neck"
	"thirdwise/theory/theorytest"
)

// The golden files have been looked at beside a neck: frets, degrees, inlays, and where
// the hand is.
func TestMapsReadAsTheGoldenFiles(t *testing.T) {
	for name, c := range map[string]struct {
		key, tuning string
		capo        int
		position    neck.Position
	}{
		"open":         {"C major", "standard", 0, neck.Open},
		"fifth":        {"A harmonic minor", "standard", 0, neck.At(5)},
		"second":       {"G major", "standard", 2, neck.At(2)},
		"last":         {"D major", "standard", 0, neck.At(20)},
		"free":         {"E dorian", "drop D", 0, neck.Free},
		"capo":         {"F major", "open G", 3, neck.Free},
		"behind-seven": {"C major", "standard", 7, neck.Free},
		"behind-nine":  {"C major", "standard", 9, neck.Free},
		"behind-eight": {"C major", "standard", 8, neck.Free},
		"fourth":       {"C major", "standard", 1, neck.At(4)},
		"unisons":      {"C major", "C3 C3 C3 C3", 0, neck.Free},
		"behind-ten":   {"C major", "standard", 10, neck.Lowest},
		"lowest":       {"B♭ major", "standard", 0, neck.Lowest},
		"ukulele":      {"C major", "ukulele", 0, neck.Lowest},
		"mandolin":     {"D mixolydian", "mandolin", 0, neck.Open},
		"fifths":       {"C major", "C2 G2 D3 A3 E4 B4", 0, neck.At(1)},
	} {
		tuning, err := neck.ParseTuning(c.tuning)
		require.NoError(t, err)
		m := Map{theorytest.Key(t, c.key), neck.Neck{Tuning: tuning, Capo: c.capo}, c.position}
		var got bytes.Buffer
		require.NoError(t, WriteDiagram(&got, m))
		for _, p := range m.Patterns() {
			got.WriteString("\n")
			require.NoError(t, WritePattern(&got, m, p))
		}
		got.WriteString("\n")
		require.NoError(t, WritePositions(&got, m))
		goldentest.Equal(t, filepath.Join("testdata", name+".txt"), got.String())
	}
}

// A list of thirds that are missing has eighteen characters: two thirds, or one and how
// many more; where not even that fits, their number.
func TestMissingThirdsAreListedAsFarAsThereIsRoom(t *testing.T) {
	thirds := theory.Key{}.Thirds()
	flats := theorytest.Key(t, "G♭ major").Thirds()
	for want, given := range map[string][]theory.Third{
		"none":               nil,
		"C4–E4":              thirds[:1],
		"C4–E4 D4–F4":        thirds[:2],
		"C4–E4 D4–F4 E4–G4":  thirds[:3],
		"C4–E4 and 3 more":   thirds[:4],
		"G♭4–B♭4 A♭4–C♭5":    flats[:2],
		"G♭4–B♭4 and 2 more": flats[:3],
		"14":                 append(flats[:], flats[:]...),
	} {
		assert.Equal(t, want, missing(given))
	}
}

// Players name a shape by how many frets lie between its notes (common practice).
func TestShapesAreNamedByTheirFrets(t *testing.T) {
	for shape, want := range map[int]string{
		0: "same fret", 1: "one apart", 2: "two apart", 3: "three apart", 4: "four apart", 5: "5 apart",
		-1: "one apart, upper note higher", -4: "four apart, upper note higher", -5: "-5 apart",
	} {
		assert.Equal(t, want, shapeName(shape))
	}
}
