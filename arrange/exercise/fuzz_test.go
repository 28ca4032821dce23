package exercise_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
)

// valued are exercises in which one value is left open: it stands in a block of its own,
// so that nothing of it is read as YAML.
var valued = [...]string{
	"title: A\nkey: C major\nchart: |\n%s",
	"title: A\nchart: C |\nkey: |\n%s",
	"title: A\nkey: C major\nchart: C |\nmeter: |\n%s",
	"title: A\nkey: C major\nchart: C |\ntempos: |\n%s",
	"title: A\nkey: C major\nchart: C |\nstrum: |\n%s",
	"title: A\nkey: C major\nchart: C |\npick: |\n%s",
	"title: A\nkey: C major\nchart: C |\nline:\n  rhythm: |\n%s",
	"title: A\nkey: C major\nchart: C |\nline:\n  own:\n    1: |\n%s",
	"title: A\nkey: C major\nchart: C |\nline:\n  low: |\n%s",
	"title: A\nkey: C major\nchart: C |\nline:\n  density: |\n%s",
	"title: A\nkey: C major\nchart: C |\nguitar:\n  tuning: |\n%s",
	"title: A\nkey: C major\nchart: C |\nguitar:\n  position: |\n%s",
	"title: A\nkey: C major\nladder: |\n%s",
	"title: A\nkey: C major\nchart: C |\nnote: |\n%s",
}

// Whatever stands in a value, it is read or it is answered: with a place in the file, a
// text that is there, and words that any terminal can print.
func FuzzValues(f *testing.F) {
	for i, value := range []string{
		"|: C | Am |1. F :|2. G |", "F# harmonic minor", "7/8 (3+2+2)", "60, 80 bpm", ">D - x U | D U D U", "R (21) 3 -", "x - . x", "C4 - . x", "F#3", "50 %",
		"E2 A2 D3 G3 B3 E4", "V", "2-3", "Play slowly.",
	} {
		f.Add(uint8(i), value)
	}
	f.Add(uint8(0), "[: C :] x3 [pickup] 4/4 x32010 D.C. al Fine To Coda | % | // | 1. | ¦")
	f.Add(uint8(3), "60-100 by 0")
	f.Add(uint8(10), "C0 C0 C0 C0 -")
	f.Fuzz(func(t *testing.T, which uint8, value string) {
		var block strings.Builder
		for line := range strings.SplitSeq(value, "\n") {
			fmt.Fprintf(&block, "      %s\n", line)
		}
		text := fmt.Sprintf(valued[int(which)%len(valued)], block.String())
		e, err := exercise.Parse("exercise.yaml", []byte(text))
		if err == nil {
			checkSound(t, e)
			return
		}
		var found source.Findings
		require.True(t, errors.As(err, &found), "%v", err)
		for _, one := range found {
			require.NotEmpty(t, one.Message)
			require.True(t, utf8.ValidString(one.Message+one.Remedy), "%q %q", one.Message, one.Remedy)
			require.False(t, strings.ContainsFunc(one.Message+one.Remedy, func(r rune) bool { return r < ' ' || r == 0x7f }), "%q %q", one.Message, one.Remedy)
			require.LessOrEqual(t, one.Column, len([]rune(one.Excerpt))+1, "%s", one.Report())
			require.LessOrEqual(t, one.Column+one.Length, len([]rune(one.Excerpt))+2, "%s", one.Report())
		}
	})
}
