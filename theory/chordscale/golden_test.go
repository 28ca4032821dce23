package chordscale_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/theory"
	"thirdwise/theory/chordscale"
	"thirdwise/theory/theorytest"
)

// The golden file tells for chords in some keys which tones the line plays otherwise than
// the key has them, as a musician says it: over A7 in C major C♯. Its triads
// and sevenths have been read so; the scales that handbooks name are held by name in
// TestChordsHaveTheScalesOfHandbooks.
func TestTonesThatChordsAlterReadAsTheGoldenFile(t *testing.T) {
	roots := strings.Fields("C Db D Eb E F F# G Ab A Bb B")
	var b strings.Builder
	for _, name := range []string{"C major", "A minor", "A harmonic minor", "D dorian", "E phrygian"} {
		key := theorytest.Key(t, name)
		fmt.Fprintf(&b, "%s\n", key)
		for _, q := range theory.Qualities() {
			for _, root := range roots {
				tell(&b, key, theorytest.Chord(t, root+q.String()))
			}
			b.WriteString("\n")
		}
		b.WriteString("\n")
	}
	key := theorytest.Key(t, "C major")
	b.WriteString("C major, over other basses\n")
	for _, q := range theory.Qualities() {
		for _, root := range []string{"C", "Eb", "F#"} {
			for _, bass := range roots {
				tell(&b, key, theorytest.Chord(t, root+q.String()+"/"+bass))
			}
			b.WriteString("\n")
		}
	}
	goldentest.Equal(t, filepath.Join("testdata", "altered.txt"), b.String())
}

// tell writes a chord and the tones of its scale that are not the key's.
func tell(b *strings.Builder, k theory.Key, c theory.Chord) {
	own, over := k.Scale(), chordscale.Over(k, c)
	var altered []string
	for step := range 7 {
		if letter := k.Tonic.Letter.Up(step); own.Tone(letter) != over.Tone(letter) {
			altered = append(altered, over.Tone(letter).String())
		}
	}
	if altered == nil {
		altered = []string{"-"}
	}
	fmt.Fprintf(b, "  %s: %s;", c, strings.Join(altered, " "))
}
