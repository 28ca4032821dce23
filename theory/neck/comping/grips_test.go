package comping

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/neck"
	"thirdwise/theory/theorytest"
)

func tuningOf(t testing.TB, s string) neck.Tuning {
	t.Helper()
	parsed, err := neck.ParseTuning(s)
	require.NoError(t, err)
	return parsed
}

// anyNeck draws a neck in one of the tunings that players use.
func anyNeck() *rapid.Generator[neck.Neck] {
	return rapid.Custom(func(t *rapid.T) neck.Neck {
		tunings := []string{"standard", "drop D", "D A D G A D", "open G", "B1 E2 A2 D3 G3 B3 E4", "F#1 B1 E2 A2 D3 G3 B3 E4", "bass", "ukulele", "mandolin"}
		own, err := neck.ParseTuning(rapid.SampledFrom(tunings).Draw(t, "tuning"))
		require.NoError(t, err)
		return neck.Neck{Tuning: own, Capo: rapid.IntRange(0, neck.MaxCapo).Draw(t, "capo")}
	})
}

// The grips that every beginner's book prints: common practice. Where books
// differ, any of those printed will do.
var beginners = map[string]string{
	"C": "x32010", "D": "xx0232", "E": "022100", "F": "133211", "G": "320003", "A": "x02220", "B": "x24442", "Bb": "x13331",
	"Am": "x02210", "Dm": "xx0231", "Em": "022000", "Bm": "x24432", "Fm": "133111", "Cm": "x35543", "Gm": "355333", "F#m": "244222", "C#m": "x46654",
	"C7": "x32310", "D7": "xx0212", "E7": "020100", "G7": "320001", "A7": "x02020", "B7": "x21202", "F7": "131211",
	"Am7": "x02010", "Dm7": "xx0211", "Em7": "022030 020000", "Bm7": "x24232 x20202", "F#m7": "242222",
	"Cmaj7": "x32000", "Dmaj7": "xx0222", "Fmaj7": "xx3210 133210 x33210", "Gmaj7": "320002", "Amaj7": "x02120", "Emaj7": "021100",
	"Asus2": "x02200", "Dsus2": "xx0230", "Asus4": "x02230", "Dsus4": "xx0233", "Esus4": "022200",
	"Cadd9": "x32030 x32033", "Am/G": "3x2210 302210", "C/G": "332010 3x2010", "D/F#": "2x0232 200232 2x023x", "G/B": "x20003 x20033 x2003x", "C/E": "032010", "D/A": "x00232",
	"Bdim": "x2343x", "A7sus4": "x02030", "E7sus4": "020200", "D7sus4": "xx0213",
	"E5": "022xxx", "A5": "x022xx",
	"Bbm": "x13321", "Bb7": "x13131", "Ab": "466544", "C#": "x46664", "Db": "x46664", "F#": "244322", "F#7": "242322", "Gm7": "353333", "Cm7": "x35343", "Fm7": "131111", "G#m": "466444",
	"C6": "x32210", "A6": "x02222", "D6": "xx0202", "Em6": "022020", "Am6": "x02212", "G6": "320000", "Dm6": "xx0201", "E6": "022120",
	"Caug": "x32110 x3211x", "Eaug": "032110 xx2110", "E9": "020102", "C9": "x32330 x3233x x32333", "B9": "x21222", "G9": "320201 3x0201", "Emadd9": "022002", "E7b9": "020101",
	"Csus4": "x33011 x33010 x33013", "Fsus4": "133311 xx3311", "Bsus4": "x24452", "AmMaj7": "x02110", "EmMaj7": "021000", "DmMaj7": "xx0221",
	"Gsus4": "330013 330033", "G5": "355xxx", "C5": "x355xx", "F5": "133xxx", "B5": "x244xx", "Am/C": "x32210",
	"Abm7b5": "4x443x", "Gm7b5": "3x332x", "F#m7b5": "2x221x 202210", "Cm7b5": "x3434x", "Bm7b5": "x2323x x20201", "Dm7b5": "xx0111",
	"F/A": "x03211", "F/C": "x33211", "A/E": "002220", "Am/E": "002210", "D/C": "x30232", "C/D": "xx0010", "C/B": "x22010 x2x010", "G/D": "xx0003 xx0433", "Dm/F": "1x0231 xx3231 10023x", "E/G#": "4x2400 422100",
}

func TestBeginnersGripsComeFirst(t *testing.T) {
	n := neck.Neck{Tuning: neck.Standard()}
	for symbol, printed := range beginners {
		grips := Grips(n, theorytest.Chord(t, symbol))
		require.NotEmpty(t, grips, symbol)
		assert.Contains(t, strings.Fields(printed), grips[0].String(), "%s: %v", symbol, grips[:min(6, len(grips))])
	}
}

func TestBeginnersGripsComeFirstBehindACapo(t *testing.T) {
	n := neck.Neck{Tuning: neck.Standard(), Capo: 2}
	assert.Equal(t, "x32010", Grips(n, theorytest.Chord(t, "D"))[0].String())
	assert.Equal(t, "022000", Grips(n, theorytest.Chord(t, "F#m"))[0].String())
}

// Common practice: the ukulele's first chords, and those of a guitar in drop D.
func TestOtherTuningsHaveTheirOwnGrips(t *testing.T) {
	for _, c := range []struct{ tuning, chord, grip string }{
		{"G4 C4 E4 A4", "C", "0003"}, {"G4 C4 E4 A4", "F", "2010"}, {"G4 C4 E4 A4", "Am", "2000"},
		{"G4 C4 E4 A4", "C7", "0001"}, {"G4 C4 E4 A4", "G7", "0212"}, {"G4 C4 E4 A4", "G", "0232"}, {"G3 D4 A4 E5", "G", "0023"}, {"G3 D4 A4 E5", "D", "2002"}, {"D2 A2 D3 G3 B3 E4", "D", "000232"}, {"D2 A2 D3 G3 B3 E4", "Em", "222000"},
		{"drop D", "G", "5x0003"}, {"drop D", "A", "x02220"}, {"drop D", "C", "x32010"}, {"drop D", "Bm", "x24432"},
		{"D A D G A D", "D", "004200"},
		{"open G", "G", "000000 x00000"}, {"open G", "C", "555555 x55555"}, {"open G", "D", "777777 x77777"},
		{"open D", "D", "000000"}, {"open D", "G", "555555"}, {"open D", "A", "777777"},
	} {
		grips := Grips(neck.Neck{Tuning: tuningOf(t, c.tuning)}, theorytest.Chord(t, c.chord))
		require.NotEmpty(t, grips)
		assert.Contains(t, strings.Fields(c.grip), grips[0].String(), "%s in %s: %v", c.chord, c.tuning, grips[:min(5, len(grips))])
	}
}

// anyChord draws a chord, with a bass of its own now and then.
func anyChord() *rapid.Generator[theory.Chord] {
	return rapid.Custom(func(t *rapid.T) theory.Chord {
		tone := func(label string) theory.Tone {
			return theory.Tone{Letter: theory.Letter(rapid.IntRange(0, 6).Draw(t, label)), Alter: rapid.IntRange(-1, 1).Draw(t, label+" altered")}
		}
		c := theory.Chord{Root: tone("root"), Quality: rapid.SampledFrom(theory.Qualities()).Draw(t, "quality")}
		c.Bass = c.Root
		switch rapid.IntRange(0, 3).Draw(t, "bass") {
		case 0:
			c.Bass = tone("own bass")
		case 1:
			c.Bass = rapid.SampledFrom(c.Tones()).Draw(t, "tone as bass")
		}
		return c
	})
}

func TestEveryChordHasAGrip(t *testing.T) {
	n := neck.Neck{Tuning: neck.Standard()}
	unusual := 0
	for _, q := range theory.Qualities() {
		for _, root := range chromatic() {
			for _, bass := range chromatic() {
				c := theory.Chord{Root: root, Quality: q, Bass: bass}
				grips := Grips(n, c)
				require.NotEmpty(t, grips, c.String())
				require.Equal(t, bass.Class(), lowestKey(n, grips[0])%12, "the bass of %s in %s", c, grips[0])
				if classes(n, grips[0])[root.Class()] == 0 {
					unusual++
					require.NotEqual(t, root, bass)
				}
			}
		}
	}
	assert.Less(t, unusual, 12*12*len(theory.Qualities())/50, "few slash chords leave out their root")
}

func chromatic() []theory.Tone {
	tones := make([]theory.Tone, 12)
	for i, s := range strings.Fields("C C# D Eb E F F# G Ab A Bb B") {
		tones[i], _ = theory.ParseTone(s)
	}
	return tones
}

func lowestKey(n neck.Neck, g neck.Grip) int {
	lowest := 1 << 10
	for i, fret := range g {
		if fret != neck.NotPlayed {
			lowest = min(lowest, n.Key(neck.Place{String: len(g) - i, Fret: fret}))
		}
	}
	return lowest
}

// classes counts how often each pitch class sounds in a grip.
func classes(n neck.Neck, g neck.Grip) (sounding [12]int) {
	for i, fret := range g {
		if fret != neck.NotPlayed {
			sounding[(n.Key(neck.Place{String: len(g) - i, Fret: fret}))%12]++
		}
	}
	return sounding
}

func TestGripsSoundTheChord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, c := anyNeck().Draw(t, "neck"), anyChord().Draw(t, "chord")
		own := map[int]bool{c.Bass.Class(): true}
		for _, tone := range c.Tones() {
			own[tone.Class()] = true
		}
		for _, g := range Grips(n, c) {
			sounding := classes(n, g)
			played := 0
			for class, count := range sounding {
				played += count
				require.True(t, count == 0 || own[class], "%s has a tone that %s has not", g, c)
			}
			require.GreaterOrEqual(t, played, 3)
			for _, step := range c.Quality.Intervals() {
				if step.Steps == 2 || step.Steps == 6 {
					require.NotZero(t, sounding[(c.Root.Class()+step.Semitones)%12], "%s lacks the %s of %s", g, step, c)
				}
			}
		}
	})
}

// TestGripsCanBeHeld checks the fingers that a grip names against what a hand
// can do, said a second time and of each finger by itself.
func TestGripsCanBeHeld(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, c := anyNeck().Draw(t, "neck"), anyChord().Draw(t, "chord")
		for _, g := range Grips(n, c) {
			f, ok := g.Fingers()
			require.True(t, ok, g.String())
			requireHeld(t, n, g, f)
		}
	})
}

func requireHeld(t require.TestingT, n neck.Neck, g neck.Grip, f neck.Fingers) {
	require.Len(t, f.Of, n.Strings())
	fretOf, stringsOf := map[int]int{}, map[int][]int{}
	for i, fret := range g {
		require.LessOrEqual(t, fret, n.LastFret())
		finger := f.Of[i]
		require.Equal(t, fret > 0, finger > 0, "%s: a finger on each stopped string and on no other", g)
		if finger == 0 {
			continue
		}
		require.LessOrEqual(t, finger, 4)
		if other, used := fretOf[finger]; used {
			require.Equal(t, other, fret, "%s: finger %d at two frets", g, finger)
		}
		fretOf[finger] = fret
		stringsOf[finger] = append(stringsOf[finger], i)
	}
	for a, fretA := range fretOf {
		for b, fretB := range fretOf {
			require.True(t, a <= b || fretA >= fretB, "%s: fingers cross", g)
			span := 3
			if min(fretA, fretB) >= 7 {
				span = 4
			}
			require.LessOrEqual(t, fretA-fretB, span, "%s: too wide for a hand", g)
		}
	}

	barres := map[int]neck.Barre{}
	for _, b := range f.Barres {
		barres[b.Finger] = b
	}
	for finger, on := range stringsOf {
		b, flat := barres[finger]
		require.Equal(t, len(on) > 1, flat, "%s: a finger on several strings is a barre", g)
		if !flat {
			continue
		}
		require.Equal(t, neck.Barre{Finger: finger, Fret: fretOf[finger], From: len(g) - on[0], To: len(g) - on[len(on)-1]}, b)
		for i, fret := range g[on[0]:] {
			require.True(t, fret == neck.NotPlayed || fret >= b.Fret, "%s: string %d sounds below a finger that lies across it", g, b.From-i)
		}
	}
}

func ExampleGrips() {
	n := neck.Neck{Tuning: neck.Standard()}
	c, _ := theory.ParseChord("Am7")
	for _, g := range Grips(n, c)[:3] {
		fmt.Println(g)
	}
	// Output:
	// x02010
	// x0201x
	// x02213
}

func BenchmarkGrips(b *testing.B) {
	n := neck.Neck{Tuning: neck.Standard()}
	for _, symbol := range []string{"C", "Bm7b5", "F#m9", "Eb13"} {
		c := theorytest.Chord(b, symbol)
		b.Run(symbol, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Grips(n, c)
			}
		})
	}
	eight := neck.Neck{Tuning: tuningOf(b, "F#1 B1 E2 A2 D3 G3 B3 E4")}
	b.Run("C on eight strings", func(b *testing.B) {
		c := theorytest.Chord(b, "C")
		b.ReportAllocs()
		for b.Loop() {
			Grips(eight, c)
		}
	})
}
