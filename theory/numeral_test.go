package theory_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
)

// Numerals of each kind of key's family, as a harmony handbook's tables have
// them (major and minor: from memory; the modes: common practice, counted on
// the mode's own degrees).
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
			"i ii III IV v vi° VII",
			"i7 ii7 IIImaj7 IV7 v7 viø7 VIImaj7",
		},
		"E phrygian": {
			"i II III iv v° VI vii",
			"i7 IImaj7 III7 iv7 vø7 VImaj7 vii7",
		},
		"F lydian": {
			"I II iii iv° V vi vii",
			"Imaj7 II7 iii7 ivø7 Vmaj7 vi7 vii7",
		},
		"G mixolydian": {
			"I ii iii° IV v vi VII",
			"I7 ii7 iiiø7 IVmaj7 v7 vi7 VIImaj7",
		},
		"B locrian": {
			"i° II iii iv V VI vii",
			"iø7 IImaj7 iii7 iv7 Vmaj7 VI7 vii7",
		},
	} {
		k := mustKey(t, name)
		triads, sevenths := k.Triads(), k.Sevenths()
		assert.Equal(t, want[0], numerals(k, triads[:]), name)
		assert.Equal(t, want[1], numerals(k, sevenths[:]), name)
	}
}

func numerals(k theory.Key, chords []theory.Chord) string {
	var names []string
	for _, c := range chords {
		names = append(names, k.Numeral(c))
	}
	return strings.Join(names, " ")
}

// Both ways between numeral and chord (common practice).
func TestNumeralsAndChordsInTheKey(t *testing.T) {
	for key, pairs := range map[string]string{
		"C major": `I=C ii=Dm IV=F V7=G7 vi=Am vii°=Bdim viiø7=Bm7b5 Imaj7=Cmaj7 ii7=Dm7 I6=C6 I6/9=C6/9 ii9=Dm9
			IVadd9=Fadd9 V7sus4=G7sus4 V+=Gaug V7♭9=G7b9 V13=G13 I5=C5 IV+maj7=Fmaj7#5 imaj7=CmMaj7
			♭VII=Bb ♭VI=Ab ♭III=Eb ♭II=Db iv=Fm iv6=Fm6 ♭VIImaj7=Bbmaj7 ♭iii°7=Ebdim7 ♭VII7=Bb7 IV7=F7 v7=Gm7
			V/V=D V7/V=D7 V7/ii=A7 V7/vi=E7 V/vi=E V7/IV=C7 V7/iii=B7 V9/V=D9 V7♭9/ii=A7b9 V+7/V=Daug7
			vii°7/ii=C#dim7 vii°7/V=F#dim7 vii°/V=F#dim vii°7/vi=G#dim7 viiø7/V=F#m7b5
			I/E=C/E V/B=G/B ii7/C=Dm7/C V7/V/F♯=D7/F# I6/9/E=C6/9/E`,
		"A minor": `i=Am ii°=Bdim III=C iv=Dm v=Em V=E V7=E7 VI=F VII=G VII7=G7 vii°=G#dim vii°7=G#dim7 iiø7=Bm7b5
			imaj7=AmMaj7 III+=Caug IV=D ii=Bm vi°=F#dim viø7=F#m7b5 viiø7=G#m7b5 I=A ♭II=Bb V7♭9=E7b9
			♯vi=F#m ♭vii°=Gdim ♭vi°=Fdim vii=Gm
			V7/iv=A7 V7/V=B7 V/V=B V7/VI=C7 vii°7/iv=C#dim7 vii°7/V=D#dim7 vii°7/III=Bdim7
			i/C=Am/C V7/G♯=E7/G#`,
		"A harmonic minor": "V=E VII=G vii°=G#dim VI=F III=C III+=Caug v=Em V7/iv=A7",
		"A melodic minor":  "V=E VII=G vii°=G#dim VI=F vi°=F#dim IV=D iv=Dm",
		"D dorian":         "i=Dm IV=G ♭VI=Bb VII=C V7=A7 ♯vii°7=C#dim7 V7/III=C7 V7/IV=D7",
		"E phrygian":       "II=F i=Em ♯ii=F#m V7=B7",
		"F lydian":         "II=G ♭IV=Bb iv°=Bdim II7=G7 II7sus4=G7sus4",
		"C# minor":         "vii°7=B#dim7 V=G# V7/V=D#7",
		"Db major":         "♭VI=Bbb V7/ii=Bb7 iv=Gbm",
	} {
		k := mustKey(t, key)
		for _, pair := range strings.Fields(pairs) {
			numeral, symbol, _ := strings.Cut(pair, "=")
			chord := mustChord(t, symbol)
			assert.Equal(t, numeral, k.Numeral(chord), "%s in %s", symbol, k)
			read, err := theory.ParseNumeral(numeral, k)
			require.NoError(t, err)
			assert.Equal(t, chord, read, "%s in %s", numeral, k)
		}
	}
}

// Other ways to write a numeral than the one that is printed (common practice).
func TestNumeralsAreReadInTheirUsualSpellings(t *testing.T) {
	for key, pairs := range map[string]string{
		"C major": `bVII=Bb #iv°7=F#dim7 #IVdim7=F#dim7 viio=Bdim viidim=Bdim vii°7=Bdim7 VIIm7b5=Bm7b5 viim7b5=Bm7b5
			ii-7=Dm7 iim7=Dm7 IIm7=Dm7 IIm=Dm IM7=Cmaj7 IΔ=Cmaj7 iΔ7=CmMaj7 viiø=Bm7b5 V7(b9)=G7b9 Vsus=Gsus4 vsus4=Gsus4
			V7/VI=E7 ii7/V=Am7 IV/IV=Bb ii/ii=Em V/bVII=F V7/ii7=A7 V7/I=G7 ♭♭VII=Bbb bVI/C=Ab/C`,
		"A minor":      "bVI=F ♭VII=G bIII=C bVI7=F7 #vi°=F#dim ♯vii°=G#dim VII°7=G#dim7 #VI=F# iv7/G=Dm7/G V7/v=B7 V7/VII=D7",
		"A major":      "bVI=F VI=F# bVII=G",
		"E phrygian":   "bII=F #II=F# II=F",
		"F lydian":     "#IV=B IV=B bIV=Bb",
		"C mixolydian": "bVII=Bb VII=Bb #VII=B",
	} {
		k := mustKey(t, key)
		for _, pair := range strings.Fields(pairs) {
			numeral, symbol, _ := strings.Cut(pair, "=")
			read, err := theory.ParseNumeral(numeral, k)
			if assert.NoError(t, err) {
				assert.Equal(t, mustChord(t, symbol), read, "%s in %s", numeral, k)
			}
		}
	}
}

func TestWhatIsNoNumeralIsRefused(t *testing.T) {
	for s, want := range map[string]string{
		"":         `"" is not a Roman numeral`,
		"8":        "is not a Roman numeral",
		"b":        "is not a Roman numeral",
		"♭":        "is not a Roman numeral",
		"C":        "is not a Roman numeral",
		"VIII":     `nothing is known as "I" behind VII`,
		"Vi":       `nothing is known as "i" behind V`,
		"Vmja7":    "the nearest that is known is Vmaj7",
		"bviiadd8": "the nearest that is known is ♭viiadd9",
		"vaj7":     `nothing is known as "aj7" behind v`,
		"i+":       `nothing is known as "+" behind i`,
		"V7/vii°":  "vii° is not a major or minor chord",
		"V7/ii/V":  `nothing is known as "7/ii" behind V`,
		"V/":       `nothing is known as "/" behind V`,
		"I/E4":     `the bass: "E4" is not a note name`,
		"bbbbI":    "altered more than three times",
		"bV/bbbVI": "altered more than three times",
		"I\xff":    "nothing is known as",
	} {
		_, err := theory.ParseNumeral(s, mustKey(t, "C major"))
		assert.ErrorContains(t, err, want, s)
	}
}

func TestNumeralsReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, c := anyKey().Draw(t, "key"), anyChord().Draw(t, "chord")
		read, err := theory.ParseNumeral(k.Numeral(c), k)
		require.NoError(t, err)
		assert.Equal(t, c, read, "%s in %s", k.Numeral(c), k)
	})
}

func TestNumeralsMoveWithTheKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, other := anyKey().Draw(t, "key"), anyKey().Draw(t, "other")
		other.Mode = k.Mode
		c := anyChord().Draw(t, "chord")
		c.Bass = c.Root
		up := theory.Between(k.Tonic.At(28), other.Tonic.At(28))
		assert.Equal(t, k.Numeral(c), other.Numeral(c.Transpose(up)))
	})
}

func TestFamiliesAreOfTheScaleAndPlain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyKey().Draw(t, "key")
		triads, sevenths := k.Triads(), k.Sevenths()
		for degree, root := range k.Tones() {
			assert.Len(t, triads[degree].Tones(), 3)
			assert.Len(t, sevenths[degree].Tones(), 4)
			assert.Equal(t, triads[degree].Tones(), sevenths[degree].Tones()[:3])
			for _, tone := range sevenths[degree].Tones() {
				assert.True(t, k.Scale().Contains(tone))
			}
			for _, c := range []theory.Chord{triads[degree], sevenths[degree]} {
				assert.Equal(t, root, c.Root)
				assert.NotContains(t, k.Numeral(c), "/")
				assert.NotContains(t, k.Numeral(c), "♯")
				assert.NotContains(t, k.Numeral(c), "♭")
			}
		}
	})
}

func TestDegreesAreTheKeysOwnTriads(t *testing.T) {
	for key, want := range map[string]string{
		"C major":          "C Dm Em F G Am Bdim", // common practice
		"A minor":          "Am Bdim C Dm Em F G",
		"A harmonic minor": "Am Bdim Caug Dm E F G#dim",
		"Eb mixolydian":    "Eb Fm Gdim Ab Bbm Cm Db",
	} {
		for i, symbol := range strings.Fields(want) {
			c, err := theory.ParseDegree(fmt.Sprint(i+1), mustKey(t, key))
			require.NoError(t, err)
			assert.Equal(t, mustChord(t, symbol), c, "%d in %s", i+1, key)
		}
	}
	for _, s := range []string{"", "0", "8", "-1", "11", "5m", "V", "٣"} {
		_, err := theory.ParseDegree(s, theory.Key{})
		assert.ErrorContains(t, err, "a number from 1 to 7", s)
	}
}

func FuzzParseNumeral(f *testing.F) {
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
		c, err := theory.ParseNumeral(s, k)
		if err != nil {
			return
		}
		again, err := theory.ParseNumeral(k.Numeral(c), k)
		if err != nil || again != c {
			t.Fatalf("%q in %s is read as %s, printed as %s, and read as %s (%v)", s, k, c, k.Numeral(c), again, err)
		}
	})
}

func ExampleParseNumeral() {
	k, _ := theory.ParseKey("A minor")
	for _, numeral := range []string{"i", "V7", "VII", "vii°7", "bVI", "V7/iv", "V7/G#"} {
		c, err := theory.ParseNumeral(numeral, k)
		fmt.Println(numeral, c, err)
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

func ExampleParseDegree() {
	k, _ := theory.ParseKey("C major")
	for _, degree := range []string{"1", "6", "2", "5"} {
		c, _ := theory.ParseDegree(degree, k)
		fmt.Print(c, " ")
	}
	// Output: C Am Dm G
}

func ExampleKey_Numeral() {
	k, _ := theory.ParseKey("C major")
	for _, symbol := range []string{"Am", "G7", "D7", "C#dim7", "Bb", "Fm", "C/E"} {
		c, _ := theory.ParseChord(symbol)
		fmt.Print(k.Numeral(c), " ")
	}
	// Output: vi V7 V7/V vii°7/ii ♭VII iv I/E
}

func ExampleKey_Sevenths() {
	k, _ := theory.ParseKey("A harmonic minor")
	for _, c := range k.Sevenths() {
		fmt.Printf("%s %s, ", c, k.Numeral(c))
	}
	// Output: AmMaj7 imaj7, Bm7♭5 iiø7, Cmaj7♯5 III+maj7, Dm7 iv7, E7 V7, Fmaj7 VImaj7, G♯dim7 vii°7,
}
