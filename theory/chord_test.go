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

// Chords as handbooks spell them (common practice).
func TestChordsKnowTheirTones(t *testing.T) {
	for symbol, want := range map[string]string{
		"C":      "C E G",
		"Cm":     "C Eb G",
		"Bdim":   "B D F",
		"Caug":   "C E G#",
		"Dsus2":  "D E A",
		"Dsus4":  "D G A",
		"E5":     "E B",
		"C6":     "C E G A",
		"Am6":    "A C E F#",
		"G7":     "G B D F",
		"Fmaj7":  "F A C E",
		"Dm7":    "D F A C",
		"F#m7b5": "F# A C E",
		"G#dim7": "G# B D F",
		"Cdim7":  "C Eb Gb Bbb",
		"AmMaj7": "A C E G#",
		"G9":     "G B D F A",
		"Cmaj9":  "C E G B D",
		"Am9":    "A C E G B",
		"Cadd9":  "C E G D",
		"A7sus4": "A D E G",
		"E7b9":   "E G# B D F",
		"E7#9":   "E G# B D F##",
		"B+7":    "B D# F## A",
		"C#":     "C# E# G#",
		"D#":     "D# F## A#",
		"Gbm":    "Gb Bbb Db",
		"Bb/D":   "Bb D F",
		"C/Bb":   "C E G",
	} {
		assert.Equal(t, want, spell(theorytest.Chord(t, symbol).Tones()), symbol)
	}
}

// Spellings that lead sheets use (common practice); those that tonal knows are
// in the reference table.
func TestChordSpellings(t *testing.T) {
	for symbol, spellings := range map[string]string{
		"C":        "CM Cmaj CMaj Cmajor",
		"Cm":       "Cmin CMin Cmi CMI Cminor C- C−",
		"Cdim":     "C° Cº Co Cm(b5) Cm(♭5) C-b5 C-(b5)",
		"Caug":     "C+ C(#5) C(♯5) C+5",
		"C(b5)":    "C(♭5) CM(b5)",
		"Csus2":    "C2 C(sus2)",
		"Csus4":    "Csus C4 C(sus4)",
		"C5":       "C(no3) Cno3",
		"C6":       "Cmaj6 CM6 Cadd6 C(6) C(add6)",
		"Cm6":      "Cmin6 Cmi6 C-6 Cm(add6)",
		"C7":       "Cdom7",
		"Cmaj7":    "CMaj7 CM7 Cma7 CMa7 CMA7 CΔ CΔ7 C△ C△7 C∆7 Cj7 C(maj7) Cmajor7",
		"Cm7":      "Cmin7 Cmi7 CMI7 C-7 Cminor7",
		"Cm7b5":    "Cø Cø7 CØ Cm7(b5) Cm7(♭5) C-7b5 Cmin7b5 Cmi7(♭5) Cm7-5 C-7-5",
		"Cdim7":    "C°7 Cº7 Co7",
		"Cm(maj7)": "CmMaj7 Cmmaj7 CmM7 Cm(M7) CminMaj7 Cmimaj7 C-maj7 C-M7 C-Δ7 C-Δ CmΔ7 Cm(Δ) Cm#7 Cm(#7)",
		"C7#5":     "C+7 Caug7 C7(#5) C7+5 C7+",
		"Cmaj7#5":  "C+maj7 C+M7 CM7#5 Cmaj7(#5) CΔ#5 Cmaj7+5",
		"C7b5":     "C7(b5) C7-5",
		"C9":       "C7(9) C7(add9) Cdom9",
		"Cmaj9":    "CMaj9 CM9 Cma9 CΔ9 Cmaj7(9) C△9",
		"Cm9":      "Cmin9 Cmi9 C-9 Cm7(9)",
		"Cadd9":    "C(add9) C(9) Cadd2 C(add2)",
		"Cmadd9":   "Cm(add9) Cm(9) Cminadd9 C-add9 C-(add9)",
		"C6/9":     "C69 C6(9) C6add9 C6(add9) CM6/9",
		"C7sus4":   "C7sus C7(sus4) Csus7",
		"C9sus4":   "C9sus C9(sus4)",
		"C7b9":     "C7(b9) C7(♭9) C7-9",
		"C7#9":     "C7(#9) C7(♯9) C7+9",
		"C7#5b9":   "C7(#5,b9) C7(b9,#5) C7(#5b9) C+7b9",
		"C7#5#9":   "C7(#9,#5) C7alt Calt",
		"C11":      "Cdom11",
		"Cm11":     "C-11 Cmin11",
		"C13":      "C9(13)",
		"C13b9":    "C13(b9)",
		"Cmaj7#11": "CM7#11 Cmaj7(#11) CΔ#11 Cmaj7+11",
		"C7#11":    "C7(#11) C7+11",
		"C7b9#11":  "C7(b9,#11) C7(b9)(#11) C7(♭9♯11) C7#11b9",
		"C7b9b13":  "C7(b9,b13) C7(b9)(b13) C7(♭9♭13) C7b13b9",
	} {
		for _, spelling := range append(strings.Fields(spellings), symbol) {
			c, err := theory.ParseChord(spelling)
			if assert.NoError(t, err) {
				assert.Equal(t, symbol, c.ASCII(), "read from %s", spelling)
			}
		}
	}
}

func TestAnAccidentalBelongsToTheLetterBeforeIt(t *testing.T) {
	for symbol, want := range map[string]string{
		"Cb5":    "Cb Gb",
		"C(b5)":  "C E Gb",
		"Bb":     "Bb D F",
		"Gb9":    "Gb Bb Db Fb Ab",
		"Ab5":    "Ab Eb",
		"C#b5":   "C# E# G",
		"C#(b5)": "C# E# G",
	} {
		assert.Equal(t, want, spell(theorytest.Chord(t, symbol).Tones()), symbol)
	}
}

func TestTheBassStandsBehindTheLastSlash(t *testing.T) {
	for symbol, bass := range map[string]string{
		"C": "C", "C/G": "G", "Bb/D": "D", "B♭/D": "D", "C6/9": "C", "C6/9/E": "E",
		"F#m7b5/A": "A", "D/F#": "F#", "D/F♯": "F#", "Am7/G": "G", "Cm/maj7": "C", "Cm/maj7/G": "G",
		"C/C": "C",
	} {
		assert.Equal(t, bass, theorytest.Chord(t, symbol).Bass.ASCII(), symbol)
	}
}

func TestWhatIsNoChordIsRefusedWithTheNearest(t *testing.T) {
	for symbol, want := range map[string]string{
		"":                   `"" is not a chord`,
		"N.C.":               `"N.C." is not a chord`,
		"%":                  `"%" is not a chord`,
		"C####":              `"C####" is not a chord`,
		"am7":                `"am7" is not a chord; did you mean Am7?`,
		"H7":                 `H is called B here; write B7`,
		"Sol7":               `Sol is called G here; write G7`,
		"Re":                 `Re is called D here; write D`,
		"Lam":                `La is called A here; write Am`,
		"Fa#m":               `Fa# is called F♯ here; write F#m`,
		"Am7x":               `"m7x" is not a chord quality; did you mean Am7?`,
		"Cmja7":              `"mja7" is not a chord quality; did you mean Cmaj7?`,
		"C7sus3":             `"7sus3" is not a chord quality; did you mean C7sus4 or C7sus2?`,
		"F#m7b55":            `"m7b55" is not a chord quality; did you mean F#m7b5?`,
		"Bbmja7/D":           `"mja7" is not a chord quality; did you mean Bbmaj7/D?`,
		"G7-":                `"7-" is not a chord quality; did you mean G7?`,
		"Cfoobar":            `"foobar" is not a chord quality`,
		"C/":                 `the bass: "" is not a note name; write a letter from A to G, with # or b behind it where need be`,
		"C/Gm":               `the bass "Gm" is more than a note; write C/G`,
		"C/G/E":              `a chord has one bass; write C/E or C`,
		"C15":                `"15" is not a chord quality; did you mean C11 or C13?`,
		"Asus3":              `"sus3" is not a chord quality; did you mean Asus2 or Asus4?`,
		"Gsuss4":             `"suss4" is not a chord quality; did you mean Gsus4?`,
		"Cmaj8":              `"maj8" is not a chord quality; did you mean Cmaj7 or Cmaj9?`,
		"Cm.":                `"m." is not a chord quality; did you mean Cm?`,
		"Cm8":                `"m8" is not a chord quality; did you mean Cm, Cm6, Cm7 or Cm9?`,
		"Cminr":              `"minr" is not a chord quality; did you mean Cm?`,
		"Csus5":              `"sus5" is not a chord quality; did you mean Csus2 or Csus4?`,
		"C=1":                `"=1" is not a chord quality`,
		"Cmajorminormajormi": `"majorminormajormi" is not a chord quality`,
		"C/h":                `h is called B here; write C/B`,
		"C7(b9":              `"7(b9" is not a chord quality; did you mean C7b9?`,
		"C)":                 `")" is not a chord quality`,
		"C maj7":             `" maj7" is not a chord quality; did you mean Cmaj7?`,
		"C\xff\xfe":          `"\xff\xfe" is not a chord quality`,
	} {
		_, err := theory.ParseChord(symbol)
		assert.EqualError(t, err, want, symbol)
	}
}

// Written so in some countries (common practice).
func TestChordsAreReadAsTheirNeighboursWriteThem(t *testing.T) {
	for written, want := range map[string]string{
		"Fism7":  "F#m7",
		"Es7":    "Eb7",
		"Esus4":  "Esus4",
		"Asmaj7": "Abmaj7",
		"Asus2":  "Asus2",
		"Cis":    "C#",
		"Bflat7": "Bb7",
		"C7M":    "Cmaj7",
		"C^7":    "Cmaj7",
		"C^":     "Cmaj7",
		"C/g":    "C/G",
	} {
		assert.Equal(t, want, theorytest.Chord(t, written).ASCII(), written)
	}
}

// Common practice: suspended chords and power chords have no third, and of those with
// added tones some have one that is not above the root.
func TestChordsKnowWhetherTheyHaveAThird(t *testing.T) {
	for symbol, want := range map[string]bool{"C": true, "Am": true, "Bdim": true, "G5": false, "Gsus4": false, "Gsus2": false, "G9sus4": true} {
		c := theorytest.Chord(t, symbol)
		assert.Equal(t, want, c.HasThird(), symbol)
		if want != (c.Quality.Third() != 0) {
			assert.Equal(t, "G9sus4", symbol, "its third lies above its fifth")
		}
	}
	assert.Equal(t, 4, theorytest.Chord(t, "C7").Quality.Third())
	assert.Equal(t, 3, theorytest.Chord(t, "Cm7b5").Quality.Third())
}

func TestChordsReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := theorytest.AnyChord().Draw(t, "chord")
		assert.Equal(t, c, theorytest.Chord(t, c.String()))
		assert.Equal(t, c, theorytest.Chord(t, c.ASCII()))
	})
}

func TestChordsContainTheirTonesAndMoveWithThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := theorytest.AnyChord().Draw(t, "chord")
		up := theory.Between(anyPitch().Draw(t, "from"), anyPitch().Draw(t, "to"))
		moved := c.Transpose(up)
		assert.Equal(t, c.Bass.Up(up), moved.Bass)
		for i, tone := range c.Tones() {
			assert.True(t, c.Contains(tone))
			assert.Equal(t, tone.Up(up), moved.Tones()[i])
		}
	})
}

// Common practice.
func TestFifthIsTheChordsOwn(t *testing.T) {
	for symbol, fifth := range map[string]string{
		"C": "G", "Am7": "E", "Bdim": "F", "Bm7b5": "F", "Caug": "G#", "G7b5": "Db", "Asus4": "E",
		"G7b13": "D", // played without it
	} {
		assert.Equal(t, fifth, theorytest.Chord(t, symbol).Fifth().ASCII(), symbol)
	}
}

func TestSimplifyKeepsTheSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := theorytest.AnyChord().Draw(t, "chord")
		assert.Equal(t, c, c.Simplify(), "altered twice at most already")
		high := c.Transpose(theory.Interval{Steps: -1}) // the same sound, spelled a letter lower
		plain := high.Simplify()
		assert.LessOrEqual(t, plain.Root.Alter, 2)
		for i, tone := range plain.Tones() {
			assert.Equal(t, c.Tones()[i].Class(), tone.Class())
		}
		assert.Equal(t, c.Bass.Class(), plain.Bass.Class())
	})
}

func FuzzParseChord(f *testing.F) {
	for _, s := range []string{
		"", "C", "F♯m7b5", "Bb/D", "C6/9/E", "C7(b9,#5)", "N.C.", "C((", "C)(", "Cb#b", "C𝄫", "CΔ#11", "m", "C+-+5", "C\xff", "C/C/C",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := theory.ParseChord(s)
		if err != nil {
			return
		}
		again, err := theory.ParseChord(c.String())
		if err != nil || again != c {
			t.Fatalf("%q is read as %s, which is read as %s (%v)", s, c, again, err)
		}
	})
}

func BenchmarkParseChord(b *testing.B) {
	symbols := []string{"C", "Am7", "F♯m7b5", "Bb/D", "C-Δ7", "G7(♭9)", "C6/9/E"}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := theory.ParseChord(symbols[i%len(symbols)]); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleParseChord() {
	for _, symbol := range []string{"F#m7b5", "Bb/D", "C-Δ7", "E7(#9)"} {
		c, err := theory.ParseChord(symbol)
		fmt.Println(c, c.Tones(), c.Bass, err)
	}
	_, err := theory.ParseChord("Cmja7")
	fmt.Println(err)
	// Output:
	// F♯m7♭5 [F♯ A C E] F♯ <nil>
	// B♭/D [B♭ D F] D <nil>
	// Cm(maj7) [C E♭ G B] C <nil>
	// E7♯9 [E G♯ B D F♯♯] E <nil>
	// "mja7" is not a chord quality; did you mean Cmaj7?
}

// A chord that is proposed is read as what is printed.
func TestChordsThatAreProposedAreChords(t *testing.T) {
	for _, suffix := range strings.Fields("sus3 7sus3 suss4 dimm m7? 15 (add9 +9# m7x maj8 m8 dom8 minr add8 7b8 7# 7b m7b 77 aug6 /H /Gm /G/E 7x/E") {
		_, err := theory.ParseChord("F#" + suffix)
		require.Error(t, err, suffix)
		found, why := remedy.Of(err)
		require.NotEmpty(t, why.Texts(), suffix)
		for _, text := range why.Texts() {
			c, err := theory.ParseChord(text)
			assert.NoError(t, err, found)
			assert.Equal(t, text, c.ASCII())
		}
	}
}
