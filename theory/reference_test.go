package theory_test

import (
	"bufio"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

// The tables under testdata/reference/tonal come from the npm package tonal
// 6.4.3; generate.mjs beside them says how, and what is left out.

// readTable returns the rows of a reference table and checks their number, so
// that a table cut short does not pass.
func readTable(t *testing.T, name string, rows int) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "reference", "tonal", name))
	require.NoError(t, err)
	defer f.Close()
	var table [][]string
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if !strings.HasPrefix(lines.Text(), "#") {
			table = append(table, strings.Split(lines.Text(), "\t"))
		}
	}
	require.NoError(t, lines.Err())
	require.Len(t, table, rows)
	return table
}

func spell(tones []theory.Tone) string {
	names := make([]string, len(tones))
	for i, t := range tones {
		names[i] = t.ASCII()
	}
	return strings.Join(names, " ")
}

// fifteen signatures by nine scales.
const keyCount = 15 * 9

func TestScalesAndSignaturesAgreeWithTonal(t *testing.T) {
	for _, row := range readTable(t, "scales.tsv", keyCount) {
		k := theorytest.Key(t, row[0])
		tones := k.Tones()
		assert.Equal(t, row[0], k.ASCII())
		assert.Equal(t, row[1], strconv.Itoa(k.Fifths()), row[0])
		assert.Equal(t, row[2], spell(tones[:]), row[0])
		for i, tone := range tones {
			assert.True(t, k.Scale().Contains(tone), "%s: %s", k, tone)
			assert.Equal(t, i+1, k.Degree(tone.Letter), "%s: %s", k, tone)
		}
	}
}

func TestThirdsAgreeWithTonal(t *testing.T) {
	for _, row := range readTable(t, "thirds.tsv", keyCount*7) {
		k := theorytest.Key(t, row[0])
		degree, err := strconv.Atoi(row[1])
		require.NoError(t, err)
		third := k.Thirds()[degree-1]
		assert.Equal(t, row[2], third.Lower.Tone.ASCII(), "%s, degree %d", k, degree)
		assert.Equal(t, row[3], third.Upper.Tone.ASCII(), "%s, degree %d", k, degree)
		// tonal writes 3M where we write M3.
		assert.Equal(t, row[4], "3"+third.Interval().Quality(), "%s, degree %d", k, degree)
	}
}

func TestChordFamiliesAgreeWithTonal(t *testing.T) {
	for _, row := range readTable(t, "families.tsv", keyCount) {
		k := theorytest.Key(t, row[0])
		triads, sevenths := k.Triads(), k.Sevenths()
		for i, symbol := range strings.Fields(row[1]) {
			assert.Equal(t, theorytest.Chord(t, symbol), triads[i].Chord, "%s, triad on degree %d", k, i+1)
		}
		for i, symbol := range strings.Fields(row[2]) {
			assert.Equal(t, theorytest.Chord(t, symbol), sevenths[i].Chord, "%s, seventh on degree %d", k, i+1)
		}
	}
}

// unknownToTonal are the qualities that tonal does not know, or whose tones it has in another
// order; TestChordsThatTonalLacks holds them.
var unknownToTonal = []theory.Quality{
	theory.AddedEleventh, theory.AddedSharpEleventh, theory.MinorAddedEleventh, theory.MinorFlatSixth, theory.SeventhSuspended2,
	theory.MajorSeventhSuspended2, theory.ThirteenthFlatNinthSuspended4, theory.MinorNinthFlatFifth, theory.MinorEleventhFlatFifth,
}

// Common practice: the tones that a working player finds behind each symbol.
func TestChordsThatTonalLacks(t *testing.T) {
	for symbol, tones := range map[string]string{
		"Cadd11": "C E G F", "Cadd#11": "C E G F#", "C(#11)": "C E G F#", "Am(add11)": "A C E D", "Amadd4": "A C E D",
		"Am(b6)": "A C E F", "A7sus2": "A B E G", "Fmaj7sus2": "F G C E", "G13b9sus4": "G C D F Ab E", "G13susb9": "G C D F Ab E",
		"Bm9b5": "B D F A C#", "Bø9": "B D F A C#", "Bm11b5": "B D F A E", "Bø11": "B D F A E",
	} {
		assert.Equal(t, tones, spell(theorytest.Chord(t, symbol).Tones()), symbol)
	}
	for _, q := range unknownToTonal {
		read, ok := theory.ParseQuality(q.String())
		assert.True(t, ok)
		assert.Equal(t, q, read)
	}
}

func TestChordTonesAgreeWithTonal(t *testing.T) {
	qualities := map[theory.Quality]bool{}
	for _, q := range unknownToTonal {
		qualities[q] = true
	}
	for _, row := range readTable(t, "chords.tsv", 21*(len(theory.Qualities())-len(unknownToTonal))) {
		c := theorytest.Chord(t, row[0])
		assert.Equal(t, row[0], c.ASCII())
		assert.Equal(t, row[1], spell(c.Tones()), row[0])
		qualities[c.Quality] = true
	}
	for _, q := range theory.Qualities() {
		assert.True(t, qualities[q], "no row for quality %q", q)
	}
}

func TestChordSpellingsAgreeWithTonal(t *testing.T) {
	for _, row := range readTable(t, "spellings.tsv", 143) {
		c, err := theory.ParseChord(row[0])
		if assert.NoError(t, err) {
			assert.Equal(t, row[1], c.ASCII(), "read from %s", row[0])
		}
	}
}

func TestPitchesAgreeWithTonal(t *testing.T) {
	for _, row := range readTable(t, "pitches.tsv", 9*21) {
		p, err := theory.ParsePitch(row[0])
		require.NoError(t, err)
		assert.Equal(t, row[0], p.ASCII())
		assert.Equal(t, row[1], strconv.Itoa(p.MIDI()), row[0])
		assert.Equal(t, row[2], strconv.FormatFloat(p.Frequency(), 'f', 6, 64), row[0])
	}
}
