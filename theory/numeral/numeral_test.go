package numeral_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/numeral"
	"thirdwise/theory/theorytest"
)

// Numerals of each kind of key's family, as a harmony handbook's tables have
// them (major and minor: from memory; the modes: common practice, counted on the
// degrees of the major scale).
func TestFamiliesHaveTheNumeralsOfHandbooks(t *testing.T) {
	for name, want := range map[string][2]string{
		"C major": {
			"I ii iii IV V vi vii°",
			"Imaj7 ii7 iii7 IVmaj7 V7 vi7 viiø7",
		},
		"A minor": {
			"i ii° III iv v VI VII",
			"i7 iiø7 IIImaj7 iv7 v7 VImaj7 VII7",
		},
		"A harmonic minor": {
			"i ii° III+ iv V VI vii°",
			"imaj7 iiø7 III+maj7 iv7 V7 VImaj7 vii°7",
		},
		"A melodic minor": {
			"i ii III+ IV V vi° vii°",
			"imaj7 ii7 III+maj7 IV7 V7 viø7 viiø7",
		},
		"D dorian": {
			"i ii ♭III IV v vi° ♭VII",
			"i7 ii7 ♭IIImaj7 IV7 v7 viø7 ♭VIImaj7",
		},
		"E phrygian": {
			"i ♭II ♭III iv v° ♭VI ♭vii",
			"i7 ♭IImaj7 ♭III7 iv7 vø7 ♭VImaj7 ♭vii7",
		},
		"F lydian": {
			"I II iii ♯iv° V vi vii",
			"Imaj7 II7 iii7 ♯ivø7 Vmaj7 vi7 vii7",
		},
		"G mixolydian": {
			"I ii iii° IV v vi ♭VII",
			"I7 ii7 iiiø7 IVmaj7 v7 vi7 ♭VIImaj7",
		},
		"B locrian": {
			"i° ♭II ♭iii iv ♭V ♭VI ♭vii",
			"iø7 ♭IImaj7 ♭iii7 iv7 ♭Vmaj7 ♭VI7 ♭vii7",
		},
	} {
		k := theorytest.Key(t, name)
		triads, sevenths := k.Triads(), k.Sevenths()
		assert.Equal(t, want[0], numerals(k, triads), name)
		assert.Equal(t, want[1], numerals(k, sevenths), name)
	}
}

func numerals(k theory.Key, chords []theory.DegreeChord) string {
	var names []string
	for _, c := range chords {
		names = append(names, numeral.Of(c.Chord, k))
	}
	return strings.Join(names, " ")
}

// Both ways between numeral and chord (common practice).
func TestNumeralsAndChordsInTheKey(t *testing.T) {
	for key, pairs := range map[string]string{
		"C major": `I=C ii=Dm IV=F V7=G7 vi=Am vii°=Bdim viiø7=Bm7b5 Imaj7=Cmaj7 ii7=Dm7 I6=C6 I6/9=C6/9 ii9=Dm9
			IVadd9=Fadd9 V7sus4=G7sus4 V+=Gaug V7♭9=G7b9 V13=G13 I5=C5 IV+maj7=Fmaj7#5 imaj7=CmMaj7
			♭VII=Bb ♭VI=Ab ♭III=Eb ♭II=Db iv=Fm iv6=Fm6 ♭VIImaj7=Bbmaj7 ♭iii°7=Ebdim7 ♭VII7=Bb7 IV7=F7 v7=Gm7
			V/V=D V7/V=D7 V7/ii=A7 V7/vi=E7 V/vi=E I7=C7 V7/iii=B7 V9/V=D9 V7♭9/ii=A7b9 V+7/V=Daug7
			vii°7/ii=C#dim7 vii°7/V=F#dim7 vii°/V=F#dim vii°7/vi=G#dim7 viiø7/V=F#m7b5
			I/E=C/E V/B=G/B ii7/C=Dm7/C V7/V/F♯=D7/F# I6/9/E=C6/9/E`,
		"A minor": `i=Am ii°=Bdim III=C iv=Dm v=Em V=E V7=E7 VI=F VII=G VII7=G7 vii°=G#dim vii°7=G#dim7 iiø7=Bm7b5
			imaj7=AmMaj7 III+=Caug IV=D ii=Bm vi°=F#dim viø7=F#m7b5 viiø7=G#m7b5 I=A ♭II=Bb V7♭9=E7b9
			♯vi=F#m ♭vii°=Gdim ♭vi°=Fdim vii=Gm
			V7/iv=A7 V7/V=B7 V/V=B V7/VI=C7 vii°7/iv=C#dim7 vii°7/V=D#dim7 vii°7/III=Bdim7
			i/C=Am/C V7/G♯=E7/G#`,
		"A harmonic minor": "V=E VII=G vii°=G#dim VI=F III=C III+=Caug v=Em V7/iv=A7",
		"A melodic minor":  "V=E VII=G vii°=G#dim VI=F vi°=F#dim IV=D iv=Dm",
		"D dorian":         "i=Dm IV=G ♭VI=Bb ♭VII=C V7=A7 vii°7=C#dim7 V7/♭III=C7 I7=D7",
		"E phrygian":       "♭II=F i=Em ii=F#m V7=B7",
		"F lydian":         "II=G IV=Bb ♯iv°=Bdim II7=G7 II7sus4=G7sus4",
		"C mixolydian":     "♭VII=Bb I7=C7 v=Gm",
		"C# minor":         "vii°7=B#dim7 V=G# V7/V=D#7",
		"Db major":         "♭VI=Bbb V7/ii=Bb7 iv=Gbm",
	} {
		k := theorytest.Key(t, key)
		for _, pair := range strings.Fields(pairs) {
			name, symbol, _ := strings.Cut(pair, "=")
			chord := theorytest.Chord(t, symbol)
			assert.Equal(t, name, numeral.Of(chord, k), "%s in %s", symbol, k)
			read, err := numeral.Parse(name, k)
			require.NoError(t, err)
			assert.Equal(t, chord, read, "%s in %s", name, k)
		}
	}
}

// Other ways to write a numeral than the one that is printed (common practice).
func TestNumeralsAreReadInTheirUsualSpellings(t *testing.T) {
	for key, pairs := range map[string]string{
		"C major": `bVII=Bb #iv°7=F#dim7 #IVdim7=F#dim7 viio=Bdim viidim=Bdim vii°7=Bdim7 VIIm7b5=Bm7b5 viim7b5=Bm7b5
			ii-7=Dm7 iim7=Dm7 IIm7=Dm7 IIm=Dm IM7=Cmaj7 IΔ=Cmaj7 iΔ7=CmMaj7 viiø=Bm7b5 V7(b9)=G7b9 Vsus=Gsus4 vsus4=Gsus4
			V7/VI=E7 ii7/V=Am7 IV/IV=Bb ii/ii=Em V/bVII=F V7/IV=C7 iiø7/ii=Em7b5 V7/ii7=A7 V7/I=G7 VI/V=E VI/vi=F III/vi=C ♭♭VII=Bbb bVI/C=Ab/C`,
		"A minor":      "bVI=F ♭VII=G bIII=C bVI7=F7 #vi°=F#dim ♯vii°=G#dim VII°7=G#dim7 #VI=F# iv7/G=Dm7/G V7/v=B7 V7/VII=D7 iii°=Cdim",
		"A major":      "bVI=F VI=F# bVII=G",
		"E phrygian":   "bII=F II=F# #II=F##",
		"F lydian":     "#IV=B IV=Bb bIV=Bbb",
		"C mixolydian": "bVII=Bb VII=B #VII=B#",
	} {
		k := theorytest.Key(t, key)
		for _, pair := range strings.Fields(pairs) {
			name, symbol, _ := strings.Cut(pair, "=")
			read, err := numeral.Parse(name, k)
			if assert.NoError(t, err) {
				assert.Equal(t, theorytest.Chord(t, symbol), read, "%s in %s", name, k)
			}
		}
	}
}

func TestWhatIsNoNumeralIsRefused(t *testing.T) {
	for s, want := range map[string]string{
		"":         `"" is not a Roman numeral; write I to VII or i to vii, with # or b before it where need be`,
		"8":        `"8" is not a Roman numeral`,
		"b":        `"b" is not a Roman numeral`,
		"♭":        `"♭" is not a Roman numeral`,
		"C":        `"C" is not a Roman numeral`,
		"VIII":     `"VIII" is not a Roman numeral`,
		"Vi":       `"Vi" is not a Roman numeral`,
		"I7x7":     `"7x7" is not a chord quality; write what follows a root in a chord symbol, as in V7 or ii7`,
		"b7":       `"b7" is not a Roman numeral; write bVII`,
		"##4":      `"##4" is not a Roman numeral; write ##IV`,
		"Vmja7":    `"mja7" is not a chord quality; did you mean Vmaj7?`,
		"bviiadd8": `"add8" is not a chord quality; did you mean bviiadd9?`,
		"vaj7":     `"aj7" is not a chord quality`,
		"i+":       `"+" is not a chord quality`,
		"V7/vii°":  `"V7/vii°" leads to vii°, which is not a major or minor chord; write a chord symbol`,
		"V7/Vsus4": `"V7/Vsus4" leads to Vsus4, which is not a major or minor chord`,
		"V7/I5":    `"V7/I5" leads to I5, which is not a major or minor chord`,
		"/E":       `"/E" is not a Roman numeral`,
		"/V":       `"/V" is not a Roman numeral`,
		"b1":       `"b1" is not a Roman numeral; write bI`,
		"#4":       `"#4" is not a Roman numeral; write #IV`,
		"b8":       `"b8" is not a Roman numeral; write I to VII`,
		"4":        `"4" is not a Roman numeral; write I to VII`,
		"V7/ii/V":  `"V7/ii/V" leads to a chord that leads on; write a chord symbol`,
		"I64":      `"I64" is figured bass; write I/G`,
		"V65":      `"V65" is figured bass; write V7/B`,
		"V6/5":     `"V6/5" is figured bass; write V7/B`,
		"ii4/3":    `"ii4/3" is figured bass; write ii7/A`,
		"V42":      `"V42" is figured bass; write V7/F`,
		"V65/ii":   `"V65" is figured bass; write V7/ii/C#`,
		"V65/E":    `"V65" is figured bass; write a chord symbol`,
		"V7x/ii":   `"7x" is not a chord quality; did you mean V7/ii?`,
		"V7x/D":    `"7x" is not a chord quality; did you mean V7/D?`,
		"V7/ii7.":  `"7." is not a chord quality; did you mean V7/ii7?`,
		"V7x/ii/D": `"7x" is not a chord quality; did you mean V7/ii/D?`,
		"vii7sus3": `"7sus3" is not a chord quality; write what follows a root in a chord symbol`,
		"bII64":    `"64" is not a chord quality`,
		"V/":       `"/" is not a chord quality`,
		"I/E4":     `the bass of "I/E4": "E4" is not a note name; write a letter from A to G`,
		"bbbbI":    "has more than three sharps or flats; write a chord symbol",
		"bV/bbbVI": "has more than three sharps or flats; write a chord symbol",
		"I\xff":    "is not a chord quality",
	} {
		_, err := numeral.Parse(s, theorytest.Key(t, "C major"))
		assert.ErrorContains(t, err, want, s)
	}
}

func TestNumeralsReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, c := theorytest.AnyKey().Draw(t, "key"), theorytest.AnyChord().Draw(t, "chord")
		read, err := numeral.Parse(numeral.Of(c, k), k)
		require.NoError(t, err)
		assert.Equal(t, c, read, "%s in %s", numeral.Of(c, k), k)
	})
}

func TestNumeralsMoveWithTheKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, other := theorytest.AnyKey().Draw(t, "key"), theorytest.AnyKey().Draw(t, "other")
		other.Mode = k.Mode
		c := theorytest.AnyChord().Draw(t, "chord")
		c.Bass = c.Root
		up := theory.Between(k.Tonic.At(28), other.Tonic.At(28))
		assert.Equal(t, numeral.Of(c, k), numeral.Of(c.Transpose(up), other))
	})
}

// Common practice.
// A root has up to three sharps or flats, as far as a pitch is written.
func TestNumeralsReachAsFarAsAPitchIsWritten(t *testing.T) {
	for name, key := range map[string]string{"##I": "C# major", "bbI": "Cb major"} {
		c, err := numeral.Parse(name, theorytest.Key(t, key))
		require.NoError(t, err)
		assert.Equal(t, theory.C, c.Root.Letter)
		assert.Equal(t, theory.MostAltered, max(c.Root.Alter, -c.Root.Alter))
		_, err = numeral.Parse(name[:1]+name, theorytest.Key(t, key))
		assert.ErrorContains(t, err, "more than three sharps or flats")
	}
}

func TestNumeralsFollowTheProgression(t *testing.T) {
	for _, c := range []struct{ key, chords, numerals string }{
		{"C major", "Em7b5 A7 Dm7", "iiø7/ii V7/ii ii7"},
		{"C major", "Em7 A7 Dm7 G7", "iii7 V7/ii ii7 V7"},
		{"C major", "Gm7 C7 F C", "ii7/IV V7/IV IV I"},
		{"C major", "C C7 F Fm C", "I V7/IV IV iv I"},
		{"C major", "C C7 C7 F C", "I V7/IV V7/IV IV I"},
		{"C major", "C7 F7 C7 C7 F7 F7 C7 C7 G7 F7 C7 G7", "I7 IV7 I7 I7 IV7 IV7 I7 I7 V7 IV7 I7 V7"},
		{"C major", "C C7 Am", "I I7 vi"},
		{"C major", "C7 F C7 G7", "I7 IV I7 V7"},
		{"C major", "Dm7b5 G7 C", "iiø7 V7 I"},
		{"C major", "F#m7b5 B7 Em7", "iiø7/iii V7/iii iii7"},
		{"C major", "Fm7 A7 Dm7", "iv7 V7/ii ii7"},
		{"C major", "Bb A7 Dm7", "♭VII V7/ii ii7"},
		{"C major", "Am7 D7 G", "vi7 V7/V V"},
		{"A minor", "Am A7 Dm E7", "i V7/iv iv V7"},
		{"A minor", "Em7b5 A7 Dm", "iiø7/iv V7/iv iv"},
		{"G mixolydian", "G7 C G", "I7 IV I"},
	} {
		assert.Equal(t, c.numerals, strings.Join(numeral.Progression(chordsOf(t, c.chords), theorytest.Key(t, c.key)), " "), c.chords)
	}
}

// Common practice: a blues is told by its tonic, which is a dominant seventh that rests; a
// seventh that is added on the way to the subdominant makes none.
func TestABluesIsToldByItsTonic(t *testing.T) {
	for _, c := range []struct {
		chords                string
		somewhere, throughout bool
	}{
		{"A7 D7 A7 A7 D7 D7 A7 A7 E7 D7 A7 E7", true, true}, // quick change
		{"A7 A7 A7 A7 D7 D7 A7 A7 E7 E7 A7 A7", true, true}, // slow
		{"A13 D9 A13 Em7 A7 D9 D#dim7 A13 F#7 Bm7 E9 A13 F#7 Bm7 E7", true, true},
		{"A7 D A7 D", true, true},    // a vamp
		{"A7#9 G6 A7#9", true, true}, // another
		{"A D7 A A7 D7 D7 A A E7 D7 A E7", true, false},
		{"A F#7 Bm7 E7 A7 D7 A E7 A", true, false}, // as rhythm changes begin
		{"A A7 D A E7 A", false, false},            // country
		{"A A7/C# D D7 A E7 A", false, false},      // the seventh leads to the fourth
		{"A A7 Dm A", false, false},
		{"A D7 A E7", false, false},
		{"Amaj7 F#m7 Bm7 E7", false, false},
		{"A7sus4 A", false, false},
		{"Am7 D7 A", false, false},
		{"", false, false},
	} {
		somewhere, throughout := numeral.Blues(chordsOf(t, c.chords), theorytest.Key(t, "A major"))
		assert.Equal(t, [2]bool{c.somewhere, c.throughout}, [2]bool{somewhere, throughout}, c.chords)
	}
	for _, key := range []string{"A minor", "A mixolydian"} {
		somewhere, throughout := numeral.Blues(chordsOf(t, "A7 D7 A7 E7"), theorytest.Key(t, key))
		assert.Equal(t, [2]bool{}, [2]bool{somewhere, throughout}, key)
	}
}

func chordsOf(t *testing.T, symbols string) (chords []theory.Chord) {
	for _, symbol := range strings.Fields(symbols) {
		chords = append(chords, theorytest.Chord(t, symbol))
	}
	return chords
}

func TestProgressionsReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := theorytest.AnyKey().Draw(t, "key")
		chords := rapid.SliceOfN(theorytest.AnyChord(), 1, 6).Draw(t, "chords")
		for i, name := range numeral.Progression(chords, k) {
			read, err := numeral.Parse(name, k)
			require.NoError(t, err)
			assert.Equal(t, chords[i], read, "%s in %s", name, k)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"", "I", "vii°7/ii", "V7/V/F♯", "I6/9/E", "♭VII", "bbVI", "V//V", "/", "V/V/V", "vaj7", "IVIV", "#x♯I", "I\xff", "iv6/9/A♭",
	} {
		for _, mode := range theory.Modes() {
			f.Add(s, 0, int(mode))
		}
	}
	f.Fuzz(func(t *testing.T, s string, fifths, mode int) {
		k := theory.Key{Mode: theory.Mode(uint(mode) % uint(len(theory.Modes())))}
		for range uint(fifths) % 12 {
			k.Tonic = k.Tonic.Up(theory.Interval{Steps: 4, Semitones: 7})
		}
		c, err := numeral.Parse(s, k)
		if err != nil {
			return
		}
		again, err := numeral.Parse(numeral.Of(c, k), k)
		if err != nil || again != c {
			t.Fatalf("%q in %s is read as %s, printed as %s, and read as %s (%v)", s, k, c, numeral.Of(c, k), again, err)
		}
	})
}

func ExampleParse() {
	k, _ := theory.ParseKey("A minor")
	for _, name := range []string{"i", "V7", "VII", "vii°7", "bVI", "V7/iv", "V7/G#"} {
		c, err := numeral.Parse(name, k)
		fmt.Println(name, c, err)
	}
	// Output:
	// i Am <nil>
	// V7 E7 <nil>
	// VII G <nil>
	// vii°7 G♯dim7 <nil>
	// bVI F <nil>
	// V7/iv A7 <nil>
	// V7/G# E7/G♯ <nil>
}

func ExampleOf() {
	k, _ := theory.ParseKey("C major")
	for _, symbol := range []string{"Am", "G7", "D7", "C#dim7", "Bb", "Fm", "C/E"} {
		c, _ := theory.ParseChord(symbol)
		fmt.Print(numeral.Of(c, k), " ")
	}
	// Output: vi V7 V7/V vii°7/ii ♭VII iv I/E
}

func ExampleOf_sevenths() {
	k, _ := theory.ParseKey("A harmonic minor")
	for _, c := range k.Sevenths() {
		fmt.Printf("%s %s, ", c, numeral.Of(c.Chord, k))
	}
	// Output: Am(maj7) imaj7, Bm7♭5 iiø7, Cmaj7♯5 III+maj7, Dm7 iv7, E7 V7, Fmaj7 VImaj7, G♯dim7 vii°7,
}
