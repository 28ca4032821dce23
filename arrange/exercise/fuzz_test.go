package exercise_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
)

// Whatever a file holds, it is read or it is answered.
func FuzzParse(f *testing.F) {
	for _, pattern := range []string{"testdata/mistakes/*.yaml", "../../testdata/exercises/*.yaml"} {
		files, err := filepath.Glob(pattern)
		require.NoError(f, err)
		for _, file := range files {
			src, err := os.ReadFile(file)
			require.NoError(f, err)
			f.Add(src)
		}
	}
	f.Fuzz(func(t *testing.T, src []byte) { checkAnswered(t, string(src)) })
}

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

// Whatever stands in a value, it is read or it is answered.
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
		checkAnswered(t, exerciseWith(int(which)%len(valued), value))
	})
}

// signs are what teachers write in the values of which there is most to say, in each of
// the exercises that are left open there.
var signs = map[int][]string{
	0: {
		"|", "|:", ":|", ":|:", "||", "C", "Am7", "N.C.", "%", "/", "1", "V7/V", "1.", "2.", "|1.", "|2.", "1.-2.", "|3.", "x2", "x3", "[A]", "[pickup]", "\n",
	},
	3: {"60", "20", "400", "0", "-", "–", ",", "by", "to", "bpm", "[", "]", "5", "1000"},
	4: {"D", "U", "-", "x", ">", ">D", "xU", "|", "\n", "%"},
	5: {"R", "1", "2", "3", "6", "(21)", "(R3)", "(", ")", "-", "|", ">", "%"},
	6: {"x", "-", ".", "|", "%", "\n", ">", "x3"},
	7: {"C4", "E4", "F#3", "B9", "-", ".", "x", "|", "\n", "4", "r"},
}

// value writes the signs of a list that numbers stand for.
func value(list []string, numbers []byte) string {
	var words []string
	for _, n := range numbers {
		words = append(words, list[int(n)%len(list)])
	}
	return strings.Join(words, " ")
}

// Signs in any order are read or answered: most mistakes are a good sign in a bad place.
func FuzzSigns(f *testing.F) {
	for which := range signs {
		f.Add(uint8(which), []byte{0, 5, 1, 2, 3, 4, 6, 7, 8, 9, 10, 11, 12})
	}
	f.Fuzz(func(t *testing.T, which uint8, numbers []byte) {
		if list := signs[int(which)]; list != nil && len(numbers) <= 64 {
			checkAnswered(t, exerciseWith(int(which), value(list, numbers)))
		}
	})
}

// All that can be written with few signs is read or answered.
func TestAllShortValuesAreAnswered(t *testing.T) {
	for which, list := range signs {
		numbers := make([]byte, 3)
		for all := range len(list) * len(list) * len(list) {
			for i := range numbers {
				numbers[i] = byte(all % len(list))
				all /= len(list)
			}
			checkAnswered(t, exerciseWith(which, value(list, numbers)))
		}
	}
}

// rows are what exercises are made of.
var rows = [...]string{
	"title: A", "key: C major", "key: A minor", "chart: |", "  | C | Am | Dm | G |", "  |: C | F |1. G :|2. C |", "chart: C |", "meter: 6/8", "meter: 7/8 (2+2+3)",
	"passes: 3", "tempos: [60, 80]", "tempos: 60", "count-in: 0", "feel: swing", "line:", "  density: 100%", "  density: 0%", "  grid: triplets", "  grid: sixteenths",
	"  rhythm: x - . x x - . x", "  rhythm: |", "    x - - - | x x x x", "  own:", "    1: C4 - - . E4 F4 G4 A4", "    2: -", "  variant: 9", "  low: C3", "  high: C5", "guitar:",
	"  tuning: D2 A2 D3 G3 A3 D4", "  capo: 3", "  position: open", "  position: 5", "strum: D - D U - U D U", "pick: R 3 2 1 2 3 2 3", "pick: |", "  R (21) 3 -", "groove: shaker",
	"click: count-in", "bass: roots", "ladder: up", "ladder-chords: yes", "climb: 60-100 by 5", "by: A. Teacher", "note: |", "note: Play #2 slowly", "# a remark", "", "- x", "? y",
	"title: [B", "{", "density: 50%", "\ttitle: C", "---", "...", "&a", "*a", "x: &x [*x]",
}

// Rows in any order are read or answered.
func FuzzRows(f *testing.F) {
	f.Add([]byte{0, 1, 3, 4, 7, 10, 14, 15, 17, 28, 30, 32, 34, 37})
	f.Add([]byte{0, 2, 40, 41, 14, 20, 21, 22, 23, 24, 45})
	f.Fuzz(func(t *testing.T, numbers []byte) {
		var text strings.Builder
		for _, n := range numbers[:min(len(numbers), 64)] {
			fmt.Fprintln(&text, rows[int(n)%len(rows)])
		}
		checkAnswered(t, text.String())
	})
}

// exerciseWith returns one of the exercises that are left open, with a value.
func exerciseWith(open int, value string) string {
	var block strings.Builder
	for line := range strings.SplitSeq(value, "\n") {
		fmt.Fprintf(&block, "      %s\n", line)
	}
	return fmt.Sprintf(valued[open], block.String())
}

// checkAnswered checks that a text is read, or answered: with a place in the file, a
// text that is there, and words that any terminal can print.
func checkAnswered(t *testing.T, text string) {
	e, err := exercise.Parse("exercise.yaml", []byte(text))
	if err == nil {
		checkSound(t, e)
		return
	}
	var found source.Findings
	require.True(t, errors.As(err, &found), "%v", err)
	lines := 1 + strings.Count(text, "\n") + strings.Count(text, "\r")
	for _, one := range found {
		require.NotEmpty(t, one.Message)
		require.True(t, one.Line >= 1 && one.Line <= lines, "line %d of %d", one.Line, lines)
		require.GreaterOrEqual(t, one.Column, 1)
		require.True(t, utf8.ValidString(one.Message+one.Remedy), "%q %q", one.Message, one.Remedy)
		require.False(t, strings.ContainsFunc(one.Message+one.Remedy, func(r rune) bool { return r < ' ' || r == 0x7f }), "%q %q", one.Message, one.Remedy)
		require.LessOrEqual(t, one.Column, len([]rune(one.Excerpt))+1, "%s", one.Report())
		require.LessOrEqual(t, one.Column+one.Length, len([]rune(one.Excerpt))+2, "%s", one.Report())
	}
	require.NotEmpty(t, found.Report())
}
