package theory_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/remedy"
	"thirdwise/theory/theorytest"
)

// The circle of fifths (common practice).
func TestSignaturesAreThoseOfTheCircleOfFifths(t *testing.T) {
	circle := []struct {
		fifths       int
		major, minor string
	}{
		{-7, "Cb", "Ab"},
		{-6, "Gb", "Eb"},
		{-5, "Db", "Bb"},
		{-4, "Ab", "F"},
		{-3, "Eb", "C"},
		{-2, "Bb", "G"},
		{-1, "F", "D"},
		{0, "C", "A"},
		{1, "G", "E"},
		{2, "D", "B"},
		{3, "A", "F#"},
		{4, "E", "C#"},
		{5, "B", "G#"},
		{6, "F#", "D#"},
		{7, "C#", "A#"},
	}
	for _, c := range circle {
		assert.Equal(t, c.fifths, theorytest.Key(t, c.major+" major").Fifths(), c.major)
		for _, kind := range []string{"minor", "harmonic minor", "melodic minor"} {
			assert.Equal(t, c.fifths, theorytest.Key(t, c.minor+" "+kind).Fifths(), c.minor)
		}
	}
}

// The white keys from each letter have no signature (common practice).
func TestModesOfTheWhiteKeysHaveNoSignature(t *testing.T) {
	for _, name := range []string{
		"C major", "D dorian", "E phrygian", "F lydian", "G mixolydian", "A minor", "B locrian",
	} {
		k := theorytest.Key(t, name)
		assert.Zero(t, k.Fifths(), name)
		assert.Equal(t, theory.Scale{}, k.Scale(), name)
	}
}

// Scales as a harmony handbook's tables spell them (from memory).
func TestScalesAreSpelledWithEachLetterOnce(t *testing.T) {
	for name, want := range map[string]string{
		"A harmonic minor":  "A B C D E F G#",
		"A melodic minor":   "A B C D E F# G#",
		"G# harmonic minor": "G# A# B C# D# E F##",
		"D# harmonic minor": "D# E# F# G# A# B C##",
		"A# melodic minor":  "A# B# C# D# E# F## G##",
		"C# major":          "C# D# E# F# G# A# B#",
		"Cb major":          "Cb Db Eb Fb Gb Ab Bb",
		"Gb major":          "Gb Ab Bb Cb Db Eb F",
		"Eb dorian":         "Eb F Gb Ab Bb C Db",
		"Db lydian":         "Db Eb F G Ab Bb C",
	} {
		tones := theorytest.Key(t, name).Tones()
		assert.Equal(t, want, spell(tones[:]), name)
	}
}

// Every tonic with one accidental or none whose key would need more than seven,
// with the key that is written instead (common practice).
func TestRefusedKeysNameTheEnharmonicKey(t *testing.T) {
	for refused, instead := range map[string]string{
		"G# major": "A♭ major",
		"D# major": "E♭ major",
		"A# major": "B♭ major",
		"E# major": "F major",
		"B# major": "C major",
		"Fb major": "E major",

		"Db minor": "C♯ minor",
		"Gb minor": "F♯ minor",
		"Cb minor": "B minor",
		"Fb minor": "E minor",
		"E# minor": "F minor",
		"B# minor": "C minor",

		"Db harmonic minor": "C♯ harmonic minor",
		"E# melodic minor":  "F melodic minor",

		"E# dorian":     "F dorian",
		"B# dorian":     "C dorian",
		"Gb dorian":     "F♯ dorian",
		"Cb dorian":     "B dorian",
		"Fb dorian":     "E dorian",
		"Ab phrygian":   "G♯ phrygian",
		"Db phrygian":   "C♯ phrygian",
		"B# phrygian":   "C phrygian",
		"C# lydian":     "D♭ lydian",
		"G# lydian":     "A♭ lydian",
		"D# mixolydian": "E♭ mixolydian",
		"Fb mixolydian": "E mixolydian",
		"Eb locrian":    "D♯ locrian",
		"Cb locrian":    "B locrian",
	} {
		_, err := theory.ParseKey(refused)
		assert.ErrorContains(t, err, "; write "+theory.ASCII(instead), refused)
	}
}

func TestARefusedKeysRemedyIsGoodAndSoundsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := theory.Key{Tonic: theorytest.AnyTone().Draw(t, "tonic"), Mode: rapid.SampledFrom(theory.Modes()).Draw(t, "mode")}
		sharps := k.Fifths()
		err := k.Check()
		if -7 <= sharps && sharps <= 7 {
			assert.NoError(t, err)
			return
		}
		remedy := k.Enharmonic()
		assert.ErrorContains(t, err, remedy.ASCII())
		assert.NoError(t, remedy.Check())
		assert.Equal(t, k.Mode, remedy.Mode)
		assert.Equal(t, k.Tonic.Class(), remedy.Tonic.Class())
	})
}

// The twelve keys as the circle of fifths names them, with the signature of each;
// at the bottom of the circle, where six sharps meet six flats, F♯ major and E♭
// minor (common practice).
func TestTheTwelveKeysOfAModeAreTheUsualOnes(t *testing.T) {
	for mode, want := range map[theory.Mode]string{
		theory.Major:         "C 0, Db -5, D 2, Eb -3, E 4, F -1, F# 6, G 1, Ab -4, A 3, Bb -2, B 5",
		theory.Minor:         "C -3, C# 4, D -1, Eb -6, E 1, F -4, F# 3, G -2, G# 5, A 0, Bb -5, B 2",
		theory.HarmonicMinor: "C -3, C# 4, D -1, Eb -6, E 1, F -4, F# 3, G -2, G# 5, A 0, Bb -5, B 2",
		theory.Dorian:        "C -2, C# 5, D 0, Eb -5, E 2, F -3, F# 4, G -1, G# 6, A 1, Bb -4, B 3",
		theory.Mixolydian:    "C -1, C# 6, D 1, Eb -4, E 3, F -2, F# 5, G 0, Ab -5, A 2, Bb -3, B 4",
	} {
		var got []string
		for _, k := range mode.Keys() {
			got = append(got, fmt.Sprint(k.Tonic.ASCII(), " ", k.Fifths()))
		}
		assert.Equal(t, want, strings.Join(got, ", "), mode)
	}
}

func TestTheTwelveKeysOfAModeHaveFewestAccidentals(t *testing.T) {
	for _, mode := range theory.Modes() {
		for class, k := range mode.Keys() {
			assert.Equal(t, class, k.Tonic.Class(), k)
			assert.Equal(t, mode, k.Mode)
			assert.NoError(t, k.Check())
			accidentals, others := k.Fifths(), k.Enharmonic().Fifths()
			assert.LessOrEqual(t, max(accidentals, -accidentals), max(others, -others), k)
		}
	}
}

func TestKeysReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := theorytest.AnyKey().Draw(t, "key")
		assert.Equal(t, k, theorytest.Key(t, k.String()))
		assert.Equal(t, k, theorytest.Key(t, k.ASCII()))
	})
}

func TestKeysAreReadInTheirUsualSpellings(t *testing.T) {
	for written, want := range map[string]string{
		"C":               "C major",
		"f# minor":        "F# minor",
		"  bb   Major ":   "Bb major",
		"A natural minor": "A minor",
		"B♭ MIXOLYDIAN":   "Bb mixolydian",
		"Am":              "A minor",
		"a minor":         "A minor",
		"A aeolian":       "A minor",
		"F#m":             "F# minor",
		"Amin":            "A minor",
		"CM":              "C major",
		"Cmaj":            "C major",
		"C ionian":        "C major",
		"A flat":          "Ab major",
		"Bflat":           "Bb major",
		"B flat major":    "Bb major",
		"B-flat minor":    "Bb minor",
		"F sharp minor":   "F# minor",
		"Fis":             "F# major",
		"fis moll":        "F# minor",
		"Es":              "Eb major",
		"As dur":          "Ab major",
		"D dor":           "D dorian",
		"C jazz minor":    "C melodic minor",
	} {
		assert.Equal(t, want, theorytest.Key(t, written).ASCII(), written)
	}
}

func TestKeyErrorsSayWhatWouldBeRight(t *testing.T) {
	for text, want := range map[string]string{
		"":             "the key is missing; write a tonic and a mode, as in C major",
		"H minor":      "H is called B here; write B minor",
		"Do mayor":     `"mayor" is not a mode; did you mean C major?`,
		"Do major":     "Do is called C here; write C major",
		"Sol":          "Sol is called G here; write G major",
		"La minor":     "La is called A here; write A minor",
		"Sib major":    "Sib is called B♭ here; write Bb major",
		"C mayor":      `"mayor" is not a mode; did you mean C major?`,
		"D mixolidian": `"mixolidian" is not a mode; did you mean D mixolydian?`,
		"♯":            `"♯" is not a key; write a tonic and a mode, as in Bb major`,
		"major":        `"major" is not a key; write a tonic and a mode, as in Bb major`,
		"G# major":     "G♯ major would need 8 sharps; write Ab major",

		"B Dur":              `"B Dur" is B♭ in German and B in English; write Bb major or B major`,
		"b-moll":             `"b-moll" is B♭ in German and B in English; write Bb minor or B minor`,
		"C/Am":               `"C/Am" is more than a key; write C major or A minor`,
		"A minor (capo 2)":   `"A minor (capo 2)" is more than a key; write A minor`,
		"(capo 2)":           `"(capo 2)" is not a key; write a tonic and a mode, as in Bb major`,
		"minor A":            `"minor A" is not a key; did you mean A minor?`,
		"A minor pentatonic": `"minor pentatonic" is not a mode; did you mean A minor?`,
		"A blues":            `"blues" is not a mode; did you mean A major?`,
		"A minor blues":      `"minor blues" is not a mode; did you mean A minor?`,
		"Am7":                `"m7" is not a mode; did you mean A minor?`,
		"E7":                 `"7" is not a mode; did you mean E major?`,
		"E5":                 `"5" is not a mode; the modes are major, minor, harmonic minor, melodic minor, dorian, phrygian, lydian, mixolydian, locrian`,
		"Si bémol major":     "Si bémol is called B♭ here; write Bb major",
		"Fa dièse minor":     "Fa dièse is called F♯ here; write F# minor",
		"La bemolle":         "La bemolle is called A♭ here; write Ab major",
		`"C" major`:          `""C" major" is not a key; write a tonic and a mode, as in Bb major`,
	} {
		_, err := theory.ParseKey(text)
		assert.EqualError(t, err, want, "%q", text)
	}
}

func TestKeysGoThroughText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := theorytest.AnyKey().Draw(t, "key")
		text, err := k.MarshalText()
		assert.NoError(t, err)
		var got theory.Key
		assert.NoError(t, got.UnmarshalText(text))
		assert.Equal(t, k, got)
	})
}

// Minor and the modes with a minor third (common practice).
func TestMinorThirdTellsMinorModes(t *testing.T) {
	for mode, minor := range map[theory.Mode]bool{
		theory.Major: false, theory.Lydian: false, theory.Mixolydian: false,
		theory.Minor: true, theory.HarmonicMinor: true, theory.MelodicMinor: true,
		theory.Dorian: true, theory.Phrygian: true, theory.Locrian: true,
	} {
		assert.Equal(t, minor, theory.Key{Mode: mode}.MinorThird(), mode)
	}
}

// The qualities of the thirds on each degree (common practice).
func TestThirdsOnEachDegreeHaveTheirQuality(t *testing.T) {
	for name, want := range map[string]string{
		"C major":          "M3 m3 m3 M3 M3 m3 m3",
		"A minor":          "m3 m3 M3 m3 m3 M3 M3",
		"A harmonic minor": "m3 m3 M3 m3 M3 M3 m3",
		"A melodic minor":  "m3 m3 M3 M3 M3 m3 m3",
	} {
		got := ""
		for _, third := range theorytest.Key(t, name).Thirds() {
			got += " " + third.Interval().String()
		}
		assert.Equal(t, want, got[1:], name)
	}
}

func TestThirdsAreStepsApartAndTwoLettersWide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := theorytest.AnyKey().Draw(t, "key")
		thirds := k.Thirds()
		require.Equal(t, k.Tonic, thirds[0].Lower.Tone)
		require.Equal(t, 4, thirds[0].Lower.Octave)
		for degree, third := range thirds {
			assert.Equal(t, thirds[0].Staff()+degree, third.Staff())
			assert.Equal(t, 2, third.Upper.Staff()-third.Lower.Staff())
			assert.Equal(t, third, k.Scale().Third(third.Staff()))
		}
	})
}

func ExampleKey_Thirds() {
	k, _ := theory.ParseKey("A harmonic minor")
	for _, third := range k.Thirds() {
		fmt.Println(third, third.Interval())
	}
	// Output:
	// A4–C5 m3
	// B4–D5 m3
	// C5–E5 M3
	// D5–F5 m3
	// E5–G♯5 M3
	// F5–A5 M3
	// G♯5–B5 m3
}

func ExampleParseKey() {
	k, _ := theory.ParseKey("F# minor")
	fmt.Println(k, k.Fifths(), k.Tones())

	_, err := theory.ParseKey("G# major")
	fmt.Println(err)
	// Output:
	// F♯ minor 3 [F♯ G♯ A B C♯ D E]
	// G♯ major would need 8 sharps; write Ab major
}

// What a key owns (common practice): a minor key the chords of its three forms, a
// major key none with a borrowed tone or bass.
func TestKeysOwnTheChordsOfTheirForms(t *testing.T) {
	for _, c := range []struct {
		key, chords string
		owned       bool
	}{
		{"A minor", "Am E E7 G#dim7 D D7 F#m7b5 Am/F# G", true},
		{"A minor", "B7 A F#m Am/C# Bb C7", false},
		{"C major", "C G7 Bm7b5 Dm/C", true},
		{"C major", "D7 Fm Bb C/Bb", false},
		{"D dorian", "Dm G7 Bm7b5", true},
		{"D dorian", "A7 Bb", false},
	} {
		for _, chord := range strings.Fields(c.chords) {
			assert.Equal(t, c.owned, theorytest.Key(t, c.key).Owns(theorytest.Chord(t, chord)), "%s in %s", chord, c.key)
		}
	}
}

// A key that is proposed can be written, whatever slip it answers.
func TestKeysThatAreProposedAreKeys(t *testing.T) {
	for _, tonic := range []string{"C", "D#", "Fb", "B#", "La♯", "G##", "Cb"} {
		for _, rest := range []string{" majr", " miner", " major minor", "m7", " dorien", "", " minor", "/Am", " major, F", " minor blues", " moll"} {
			_, err := theory.ParseKey(tonic + rest)
			if err == nil {
				continue
			}
			found, why := remedy.Of(err)
			for _, text := range why.Texts() {
				_, err := theory.ParseKey(text)
				assert.NoError(t, err, found)
			}
		}
	}
	_, err := theory.ParseKey("C major minor")
	assert.EqualError(t, err, `"major minor" is not a mode; did you mean C major or C minor?`)
	_, err = theory.ParseKey("C manor")
	assert.EqualError(t, err, `"manor" is not a mode; did you mean C major or C minor?`)
	_, err = theory.ParseKey("C foobar")
	assert.ErrorContains(t, err, `"foobar" is not a mode; the modes are major, `)
	_, err = theory.ParseKey("C/C major")
	assert.EqualError(t, err, `"C/C major" is more than a key; write C major`)
	_, err = theory.ParseKey("D# majr")
	assert.EqualError(t, err, `"majr" is not a mode; did you mean Eb major?`)
}
