package comping

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/theory"
	"thirdwise/theory/neck"
	"thirdwise/theory/theorytest"
)

// The golden file is a chord book: the first grip of each quality on the twelve roots, on
// a guitar in its usual tuning, and of the most common qualities in other tunings and on
// other instruments. It has been read as a player reads one; those that books print are
// held by name in grips_test.go.
func TestTheChordBookReadsAsTheGoldenFile(t *testing.T) {
	roots := strings.Fields("C C♯ D E♭ E F F♯ G A♭ A B♭ B")
	common := strings.Fields("- m 7 maj7 m7 6 sus4 add9 9 m7♭5 dim7 7♯9 13 5")
	var all []string
	for _, q := range theory.Qualities() {
		all = append(all, q.String())
	}
	var book strings.Builder
	for _, c := range []struct {
		tuning    string
		capo      int
		qualities []string
	}{
		{"standard", 0, all}, {"standard", 9, common}, {"drop D", 0, common}, {"open G", 0, common}, {"D2 A2 D3 G3 A3 D4", 0, common},
		{"ukulele", 0, common}, {"bass", 0, common}, {"mandolin", 0, common}, {"B1 E2 A2 D3 G3 B3 E4", 0, common},
	} {
		tuning, err := neck.ParseTuning(c.tuning)
		require.NoError(t, err)
		n := neck.Neck{Tuning: tuning, Capo: c.capo}
		fmt.Fprintf(&book, "%s, %s\n", c.tuning, n.CapoName())
		for _, quality := range c.qualities {
			fmt.Fprintf(&book, "%-8s", quality)
			for _, root := range roots {
				chord := theorytest.Chord(t, root+strings.TrimPrefix(quality, "-"))
				grip := "-"
				if grips := Grips(n, chord); len(grips) > 0 {
					grip = grips[0].String()
				}
				fmt.Fprintf(&book, " %-16s", grip)
			}
			book.WriteString("\n")
		}
		book.WriteString("\n")
	}
	goldentest.Equal(t, filepath.Join("testdata", "book.txt"), book.String())
}

// The golden file has the grips with which progressions are played, in all keys: a
// beginner's where there is one, and of others that are as good the ones that are easy
// to reach.
func TestChangesReadAsTheGoldenFile(t *testing.T) {
	var b strings.Builder
	memory := Memory{}
	for _, c := range []struct {
		tuning string
		capo   int
	}{{"standard", 0}, {"standard", 3}, {"drop D", 0}, {"ukulele", 0}} {
		tuning, err := neck.ParseTuning(c.tuning)
		require.NoError(t, err)
		n := neck.Neck{Tuning: tuning, Capo: c.capo}
		fmt.Fprintf(&b, "%s, %s\n", c.tuning, n.CapoName())
		for _, key := range theory.Major.Keys() {
			up := theory.Between(theory.Pitch{Tone: theory.Tone{Letter: theory.C}, Octave: 4}, theory.Pitch{Tone: key.Tonic, Octave: 4})
			for _, progression := range []string{"C Am F G", "Dm7 G7 Cmaj7 A7", "C E7 Am F Fm C", "C6 C#dim7 Dm7 G13", "Am Am7 D9 G7sus4 G7 Cmaj9", "C G/B Am7 C/G F G7b9"} {
				var chords []theory.Chord
				for symbol := range strings.FieldsSeq(progression) {
					chords = append(chords, theorytest.Chord(t, symbol).Transpose(up).Simplify())
				}
				grips, err := memory.Choose(n, chords)
				require.NoError(t, err)
				anew, err := Choose(n, chords)
				require.NoError(t, err)
				require.Equal(t, anew, grips, "a memory of other chords and necks changes nothing")
				for i, grip := range grips {
					fmt.Fprintf(&b, "  %s %s", chords[i], grip)
				}
				b.WriteString("\n")
			}
		}
	}
	goldentest.Equal(t, filepath.Join("testdata", "changes.txt"), b.String())
}

// What was found for one neck is nothing for another: another tuning, or another capo.
func TestAMemoryServesOneNeckAtATime(t *testing.T) {
	chords := []theory.Chord{theorytest.Chord(t, "C"), theorytest.Chord(t, "G7"), theorytest.Chord(t, "F")}
	var memory Memory
	for _, c := range []struct {
		tuning string
		capo   int
	}{{"standard", 0}, {"drop D", 0}, {"drop D", 2}, {"standard", 2}, {"standard", 0}} {
		tuning, err := neck.ParseTuning(c.tuning)
		require.NoError(t, err)
		n := neck.Neck{Tuning: tuning, Capo: c.capo}
		grips, err := memory.Choose(n, chords)
		require.NoError(t, err)
		anew, err := Choose(n, chords)
		require.NoError(t, err)
		require.Equal(t, anew, grips, "%s, %s", c.tuning, n.CapoName())
	}
}
