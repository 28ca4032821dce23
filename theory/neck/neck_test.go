package neck

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

func tuningOf(t testing.TB, s string) Tuning {
	t.Helper()
	parsed, err := ParseTuning(s)
	require.NoError(t, err)
	return parsed
}

// anyNeck draws a neck in one of the tunings that players use, or in none of
// them.
func anyNeck() *rapid.Generator[Neck] {
	return rapid.Custom(func(t *rapid.T) Neck {
		used := []string{
			"E2 A2 D3 G3 B3 E4", "D2 A2 D3 G3 B3 E4", "D2 A2 D3 G3 A3 D4", "D2 G2 D3 G3 B3 D4",
			"B1 E2 A2 D3 G3 B3 E4", "F#1 B1 E2 A2 D3 G3 B3 E4", "E1 A1 D2 G2", "G4 C4 E4 A4", "G3 D4 A4 E5",
		}
		n := Neck{Capo: rapid.IntRange(0, MaxCapo).Draw(t, "capo")}
		s := rapid.SampledFrom(used).Draw(t, "tuning")
		if rapid.IntRange(0, 3).Draw(t, "own tuning") == 0 {
			open := rapid.SliceOfN(rapid.IntRange(14, 33), MinStrings, MaxStrings).Draw(t, "staff")
			slices.Sort(open)
			var names []string
			for _, staff := range open {
				names = append(names, theory.Scale{}.At(staff).String())
			}
			s = strings.Join(names, " ")
		}
		var err error
		n.Tuning, err = ParseTuning(s)
		require.NoError(t, err)
		return n
	})
}

func anyPosition(n Neck) *rapid.Generator[Position] {
	return rapid.SampledFrom(append(n.Candidates(), Free))
}

func TestTuningsAreReadAndPrinted(t *testing.T) {
	for _, s := range []string{"E2 A2 D3 G3 B3 E4", "D2 A2 D3 G3 A3 D4", "E1 A1 D2 G2", "G4 C4 E4 A4", "F♯1 B1 E2 A2 D3 G3 B3 E4"} {
		assert.Equal(t, s, tuningOf(t, s).String())
	}
	assert.Equal(t, Standard(), tuningOf(t, "  E2 A2 D3\tG3 B3 E4 "))
}

// Common practice.
func TestTuningsAreReadByNameAndWithoutOctaves(t *testing.T) {
	for written, want := range map[string]string{
		"standard":          "E2 A2 D3 G3 B3 E4",
		"drop D":            "D2 A2 D3 G3 B3 E4",
		"Open G":            "D2 G2 D3 G3 B3 D4",
		"EADGBE":            "E2 A2 D3 G3 B3 E4",
		"eadgbe":            "E2 A2 D3 G3 B3 E4",
		"DADGAD":            "D2 A2 D3 G3 A3 D4",
		"DADF#AD":           "D2 A2 D3 F♯3 A3 D4",
		"EbAbDbGbBbEb":      "E♭2 A♭2 D♭3 G♭3 B♭3 E♭4",
		"E A D G B E":       "E2 A2 D3 G3 B3 E4",
		"D, A, D, G, B, E":  "D2 A2 D3 G3 B3 E4",
		"E2,A2,D3,G3,B3,E4": "E2 A2 D3 G3 B3 E4",
		"e2 a2 d3 g3 b3 e4": "E2 A2 D3 G3 B3 E4",
		"CGCGCE":            "C2 G2 C3 G3 C4 E4",
		"CGDAEB":            "C2 G2 D3 A3 E4 B3",
	} {
		assert.Equal(t, want, tuningOf(t, written).String(), written)
	}
	for _, named := range namedTunings {
		assert.Equal(t, named.pitches, tuningOf(t, named.name).ASCII())
	}
}

func TestNamesGoThroughText(t *testing.T) {
	for _, p := range []Position{Lowest, Open, Free, At(5)} {
		text, err := p.MarshalText()
		require.NoError(t, err)
		var got Position
		require.NoError(t, got.UnmarshalText(text))
		assert.Equal(t, p, got)
	}
}

func TestTuningsThatAreNoneAreRefused(t *testing.T) {
	for s, want := range map[string]string{
		"":                           "the tuning has 0 pitches; list 4 to 8 open strings, the lowest first, as in E2 A2 D3 G3 B3 E4",
		"E2":                         "has 1 pitch;",
		"E2 A2 D3":                   "has 3 pitches",
		"E2 A2 D3 G3 B3 E4 A4 D5 G5": "has 9 pitches",
		"E2 A2 D3 H3 B3 E4":          `string 3: H is called B here; write B3`,
		"E2 A2 D3 G B3 E4":           `string 3: "G" is not a pitch`,
		"E2 A2 D3 G3 B3 E9":          "string 1: E9 is out of range",
		"E-1 A2 D3 G3":               "string 4: E-1 is out of range",
		"Ab0 A2 D3 G3":               "string 4: A♭0 is out of range; tune an open string to a pitch from A0 to C6",
		"E1 A2 D3 C#6":               "string 1: C♯6 is out of range",
	} {
		_, err := ParseTuning(s)
		assert.ErrorContains(t, err, want, s)
	}
	assert.Equal(t, "A0 A2 D3 C6", tuningOf(t, "A0 A2 D3 C6").String())
}

func TestNeckIsChecked(t *testing.T) {
	assert.NoError(t, Neck{Tuning: Standard(), Capo: 12}.Check())
	assert.ErrorContains(t, Neck{Tuning: Standard(), Capo: 13}.Check(), "a capo at fret 13 is off the neck; use 0 (none) to 12")
	assert.ErrorContains(t, Neck{Tuning: Standard(), Capo: -1}.Check(), "a capo at fret -1")
	assert.ErrorContains(t, Neck{}.Check(), "0 strings")
	assert.NoError(t, Neck{Tuning: tuningOf(t, "F#1 B1 E2 A2 D3 G3 B3 E4")}.Check())
	assert.NoError(t, Neck{Tuning: tuningOf(t, "E1 A1 D2 G2")}.Check())
}

func TestPositionsAreReadAndPrinted(t *testing.T) {
	for _, s := range []string{"open", "free", "1", "5", "20"} {
		p, err := ParsePosition(s)
		require.NoError(t, err)
		assert.Equal(t, s, p.String())
	}
	for written, want := range map[string]Position{
		"Open": Open, "5th": At(5), "1st position": At(1), "position 7": At(7), "open position": Open, "FREE": Free, " 3 ": At(3),
		"I": At(1), "II": At(2), "V": At(5), "xii": At(12), "fret 5": At(5), "whole neck": Free,
	} {
		p, err := ParsePosition(written)
		assert.NoError(t, err)
		assert.Equal(t, want, p, written)
	}
	for s, want := range map[string]string{
		"":       `"" is not a position; use open, free or the fret at which the first finger stands, as in 5`,
		"five":   `"five" is not a position; use open, free or the fret`,
		"0":      "position 0 is off the neck; use open, free or a fret from 1 to 20",
		"-3":     "off the neck",
		"21":     "off the neck",
		"1e9":    "is not a position",
		"lowest": "is not a position",
	} {
		_, err := ParsePosition(s)
		assert.ErrorContains(t, err, want, s)
	}
	assert.EqualError(t, Neck{Tuning: Standard()}.CheckPosition(At(21)), "position 21 is off the neck; use open, free or a fret from 1 to 20")
	assert.ErrorContains(t, Neck{Tuning: Standard(), Capo: 1}.CheckPosition(At(20)), "from 1 to 19, counted from the capo")
	assert.ErrorContains(t, Neck{Tuning: Standard(), Capo: 5}.CheckPosition(At(16)), "from 1 to 15, counted from the capo")
	assert.NoError(t, Neck{Tuning: Standard(), Capo: 5}.CheckPosition(At(15)))
}

func TestPositionsAreNamedInWords(t *testing.T) {
	for p, want := range map[Position][2]string{
		Open: {"open position", "open"}, Free: {"the whole neck", "free"}, At(5): {"position 5", "5"}, Lowest: {"the lowest position", "lowest"},
	} {
		assert.Equal(t, want, [2]string{p.Name(), p.String()})
	}
	assert.Equal(t, "no capo", Neck{}.CapoName())
	assert.Equal(t, "capo at fret 2", Neck{Capo: 2}.CapoName())
}

// Common practice: dots at 3, 5, 7, 9, two at 12, and the same an octave higher.
func TestInlaysAreThoseOfUsualNecks(t *testing.T) {
	marked := map[int]int{3: 1, 5: 1, 7: 1, 9: 1, 12: 2, 15: 1, 17: 1, 19: 1, 21: 1, 24: 2}
	for fret := range 25 {
		assert.Equal(t, marked[fret], Inlays(fret), "fret %d", fret)
	}
}

// A tuning that is written from the highest string down falls; those of instruments
// whose strings do not rise in order do not.
func TestTuningsWrittenUpsideDownAreSeen(t *testing.T) {
	for list, falls := range map[string]bool{
		"E4 B3 G3 D3 A2 E2": true, "E2 A2 D3 G3 B3 E4": false, "ukulele": false, "E4 B3 B3 G3": true, "G3 G3 G3 G3": false,
		"G4 D3 G3 B3 D4": false, "E4 G3 G3 G3": true, "E4 E4 E4 G3": true,
	} {
		tuning, err := ParseTuning(list)
		require.NoError(t, err)
		assert.Equal(t, falls, tuning.Falls(), list)
	}
	assert.Contains(t, TuningNames(), "drop D")
	for _, name := range TuningNames() {
		_, err := ParseTuning(strings.ToUpper(name))
		assert.NoError(t, err, name)
	}
}

func TestGripsArePrintedAsInChordBooks(t *testing.T) {
	c := Grip{NotPlayed, 3, 2, 0, 1, 0}
	assert.Equal(t, "x32010", c.String())
	assert.Equal(t, "x-10-12-12-11-10", Grip{NotPlayed, 10, 12, 12, 11, 10}.String())
	assert.Equal(t, "x79997", Grip{NotPlayed, 7, 9, 9, 9, 7}.String())
	assert.Equal(t, "x-8-10-10-9-8", Grip{NotPlayed, 8, 10, 10, 9, 8}.String())
	assert.Equal(t, 3, c.On(5))
	assert.Equal(t, 0, c.On(1))
	var strung []string
	for str, fret := range c.Strings() {
		strung = append(strung, fmt.Sprint(str, ":", fret))
		if str == 4 {
			break
		}
	}
	assert.Equal(t, []string{"6:-1", "5:3", "4:2"}, strung, "from the lowest string up, as far as is asked")
	stops, ok := c.Stops()
	assert.True(t, ok)
	assert.Equal(t, []Stop{{1, 4, 4, 1}, {2, 2, 2, 2}, {3, 1, 1, 3}}, stops, "index on B, middle on D, ring on A")
	assert.Equal(t, 5, lastPlayed(c))
	assert.Equal(t, 4, lastPlayed(Grip{NotPlayed, 3, 2, 0, 1, NotPlayed}))
}

func TestCandidatesRiseAndFitOnTheNeck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := anyNeck().Draw(t, "neck")
		all := n.Candidates()
		assert.Equal(t, Open, all[0])
		for i, p := range all[1:] {
			assert.Equal(t, At(i+1), p)
			assert.NoError(t, n.CheckPosition(p))
		}
		assert.Error(t, n.CheckPosition(At(len(all))))
	})
}

// The open strings' keys and the places of middle C and of the high E: common
// practice, as fretboard charts print them.
func TestPlacesAreThoseOfFretboardCharts(t *testing.T) {
	n := Neck{Tuning: Standard()}
	assert.Equal(t, []Place{{2, 1}, {3, 5}, {4, 10}, {5, 15}, {6, 20}}, n.Places(theorytest.Pitch(t, "C4")))
	assert.Equal(t, []Place{{1, 0}, {2, 5}, {3, 9}, {4, 14}, {5, 19}, {6, 24}}, n.Places(theorytest.Pitch(t, "E4")))
	assert.Equal(t, []Place{{1, 0}, {2, 5}, {3, 9}, {4, 14}, {5, 19}}, Neck{Standard(), 2}.Places(theorytest.Pitch(t, "F#4")))
}

// On strings a fourth apart a major third lies one fret apart and a minor third
// two; on the pair a major third apart (G and B) a major third lies on the same
// fret and a minor third one apart: common practice.
func TestShapesAreThoseOfCommonPractice(t *testing.T) {
	n := Neck{Tuning: Standard()}
	shapes := map[string][5]int{ // by upper string, from the highest
		"M3": {1, 0, 1, 1, 1},
		"m3": {2, 1, 2, 2, 2},
	}
	seen := 0
	for _, third := range (theory.Key{Tonic: theory.Tone{Letter: theory.C}}).Thirds() {
		for _, pair := range n.Pairs(third) {
			assert.Equal(t, shapes[third.Interval().String()][pair.Upper.String-1], pair.Shape(), third.String())
			seen++
		}
	}
	assert.Greater(t, seen, 20)
}

func TestPairsSoundTheThirdOnNeighbouringStrings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := anyNeck().Draw(t, "neck")
		third := theorytest.AnyKey().Draw(t, "key").Scale().Third(rapid.IntRange(10, 45).Draw(t, "staff"))
		for _, pair := range n.Pairs(third) {
			assertSounds(t, n, third, pair)
		}
	})
}

func assertSounds(t require.TestingT, n Neck, third theory.Third, pair Pair) {
	require.Equal(t, third.Lower.MIDI(), n.Key(pair.Lower))
	require.Equal(t, third.Upper.MIDI(), n.Key(pair.Upper))
	require.Equal(t, pair.Upper.String+1, pair.Lower.String)
	for _, place := range []Place{pair.Lower, pair.Upper} {
		require.True(t, place.Fret >= 0 && place.Fret <= n.LastFret() && place.String >= 1 && place.String <= n.Strings())
	}
}

func ExampleParseTuning() {
	_, err := ParseTuning("E2 A2 D3 G3 X3 E4")
	fmt.Println(err)
	// Output: string 2: "X3" is not a pitch; write a note name and an octave, as in C4
}

func ExampleNeck_Pairs() {
	n := Neck{Tuning: Standard()}
	third := theory.Key{}.Thirds()[2] // E4 and G4 in C major
	for _, p := range n.Pairs(third) {
		fmt.Printf("strings %d and %d, frets %d and %d\n", p.Lower.String, p.Upper.String, p.Lower.Fret, p.Upper.Fret)
	}
	// Output:
	// strings 2 and 1, frets 5 and 3
	// strings 3 and 2, frets 9 and 8
	// strings 4 and 3, frets 14 and 12
	// strings 5 and 4, frets 19 and 17
	// strings 6 and 5, frets 24 and 22
}
