package neckmap

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// anyMap draws a key on a neck, in a position that lies on it.
func anyMap() *rapid.Generator[Map] {
	return rapid.Custom(func(t *rapid.T) Map {
		mode := rapid.SampledFrom(theory.Modes()).Draw(t, "mode")
		keys := mode.Keys()
		tuning, err := neck.ParseTuning(rapid.SampledFrom([]string{
			"E2 A2 D3 G3 B3 E4", "D2 A2 D3 G3 A3 D4", "D2 G2 D3 G3 B3 D4", "C2 G2 C3 G3 C4 E4",
			"B1 E2 A2 D3 G3 B3 E4", "Eb2 Ab2 Db3 Gb3 Bb3 Eb4", "G3 D4 A4 E5", "C3 C3 C3 C3",
		}).Draw(t, "tuning"))
		require.NoError(t, err)
		n := neck.Neck{Tuning: tuning, Capo: rapid.IntRange(0, neck.MaxCapo).Draw(t, "capo")}
		positions := append(n.Candidates(), neck.Free, neck.Lowest)
		return Map{
			Key:      keys[rapid.IntRange(0, 11).Draw(t, "tonic")],
			Neck:     n,
			Position: rapid.SampledFrom(positions).Draw(t, "position"),
		}
	})
}

// steps is the semitones of each mode's degrees above the tonic, as a harmony
// handbook's tables give them (from memory).
var steps = map[string][7]int{
	"major":          {0, 2, 4, 5, 7, 9, 11},
	"minor":          {0, 2, 3, 5, 7, 8, 10},
	"harmonic minor": {0, 2, 3, 5, 7, 8, 11},
	"melodic minor":  {0, 2, 3, 5, 7, 9, 11},
	"dorian":         {0, 2, 3, 5, 7, 9, 10},
	"phrygian":       {0, 1, 3, 5, 7, 8, 10},
	"lydian":         {0, 2, 4, 6, 7, 9, 11},
	"mixolydian":     {0, 2, 4, 5, 7, 9, 10},
	"locrian":        {0, 1, 3, 5, 6, 8, 10},
}

// A handNeck is a neck worked out by hand: the keys of the open strings, the
// highest first, and the degree that each pitch class has in the key, or 0.
type handNeck struct {
	open   []int
	degree [12]int
}

func newHandNeck(t require.TestingT, m Map) handNeck {
	var h handNeck
	tonic, mode, _ := strings.Cut(m.Key.ASCII(), " ")
	for i, semitones := range steps[mode] {
		h.degree[(midi(t, tonic+"4")+semitones)%12] = i + 1
	}
	for _, open := range m.Neck.Tuning {
		h.open = append([]int{midi(t, open.ASCII()) + m.Neck.Capo}, h.open...)
	}
	return h
}

// midi reads a pitch: C4 is 60, a sharp one more, a flat one less.
func midi(t require.TestingT, name string) int {
	letters := map[byte]int{'C': 0, 'D': 2, 'E': 4, 'F': 5, 'G': 7, 'A': 9, 'B': 11}
	name = strings.NewReplacer("♯", "#", "♭", "b").Replace(name)
	octave, err := strconv.Atoi(strings.TrimLeft(name[1:], "#b"))
	require.NoError(t, err, name)
	return 12*(octave+1) + letters[name[0]] + strings.Count(name, "#") - strings.Count(name[1:], "b")
}

// third reports whether two keys are a third of the scale.
func (h handNeck) third(low, high int) bool {
	from, to := h.degree[low%12], h.degree[high%12]
	return from > 0 && to > 0 && (from+1)%7+1 == to && high > low && high-low < 12
}

func TestNeckDiagramShowsEveryNoteOfTheKeyAtItsPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMap().Draw(t, "map")
		h := newHandNeck(t, m)
		var b bytes.Buffer
		require.NoError(t, WriteDiagram(&b, m))
		var frets []int
		for line := range strings.Lines(b.String()) {
			line = strings.TrimRight(line, "\n")
			require.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
			if rest, ok := strings.CutPrefix(line, "fret"); ok {
				frets = nil
				for _, number := range strings.Fields(rest) {
					fret, err := strconv.Atoi(number)
					require.NoError(t, err)
					frets = append(frets, fret)
				}
			}
			match := regexp.MustCompile(`^(\d) \S+ +(\(1\)| \d |)(\|\||##|\|)(.*)\|$`).FindStringSubmatch(line)
			if match == nil {
				continue
			}
			str, err := strconv.Atoi(match[1])
			require.NoError(t, err)
			if match[3] != "|" {
				require.Equal(t, m.Neck.Capo > 0, match[3] == "##", "the capo is shown")
				require.Equal(t, h.degree[h.open[str-1]%12], readDegree(t, match[2]))
			}
			cells := strings.Split(match[4], "|")
			require.Len(t, cells, len(frets))
			for i, cell := range cells {
				require.Equal(t, h.degree[(h.open[str-1]+frets[i])%12], readDegree(t, cell), "string %d, fret %d", str, frets[i])
			}
		}
		require.NotEmpty(t, frets)
	})
}

func readDegree(t require.TestingT, cell string) int {
	digits := strings.Trim(cell, "()- ")
	if digits == "" {
		return 0
	}
	degree, err := strconv.Atoi(digits)
	require.NoError(t, err)
	require.Equal(t, degree == 1, strings.Contains(cell, "("), "the tonic is ringed")
	return degree
}

// An inlay marks the neck at its own frets, wherever the capo is (common
// practice: 3, 5, 7, 9, two at 12, and the same an octave farther).
func TestNeckDiagramMarksTheInlays(t *testing.T) {
	for capo, want := range map[int]string{
		0: "3 5 7 9 12 15",
		2: "1 3 5 7 10 13 15",
		3: "2 4 6 9 12 14",
	} {
		var b bytes.Buffer
		require.NoError(t, WriteDiagram(&b, Map{Neck: neck.Neck{Tuning: neck.Standard(), Capo: capo}}))
		lines := strings.Split(b.String(), "\n")
		numbers, marks := []rune(lines[0]), []rune(lines[7])
		var marked []string
		for x, sign := range marks {
			if sign == '•' && (x+1 == len(marks) || marks[x+1] != '•') {
				marked = append(marked, strings.TrimSpace(string(numbers[x-1:x+1])))
			}
		}
		assert.Equal(t, want, strings.Join(marked, " "), "capo %d", capo)
		assert.Equal(t, 1, strings.Count(lines[7], "••"), "two at the octave")
	}
}

// Every row of a pattern is checked against the neck worked out by hand, and so
// is that none is missing.
func TestPatternHasTheThirdsOfItsStrings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMap().Draw(t, "map")
		h := newHandNeck(t, m)
		for _, p := range m.Patterns() {
			var b bytes.Buffer
			require.NoError(t, WritePattern(&b, m, p))
			lower, upper := h.open[p.Lower-1], h.open[p.Upper-1]
			got := map[[2]int]bool{}
			for _, r := range readPattern(t, b.String()) {
				require.Equal(t, lower+r.lower, midi(t, r.notes[0]))
				require.Equal(t, upper+r.upper, midi(t, r.notes[1]))
				require.True(t, h.third(lower+r.lower, upper+r.upper), r)
				require.Equal(t, h.degree[(lower+r.lower)%12], r.degree)
				require.Equal(t, map[int]string{2: "d3", 3: "minor", 4: "major", 5: "A3"}[upper+r.upper-lower-r.lower], r.quality)
				require.True(t, strings.HasPrefix(r.shape, shapeWords(r.lower-r.upper)), r.shape)
				got[[2]int{r.lower, r.upper}] = true
			}
			last := m.Neck.LastFret()
			for i := range last + 1 {
				for j := range last + 1 {
					want := h.third(lower+i, upper+j) && shown(m, min(i, j), max(i, j))
					require.Equal(t, want, got[[2]int{i, j}], "frets %d and %d", i, j)
				}
			}
		}
	})
}

// shown reports whether a third at two frets belongs to a map: the hand reaches
// it, and where no position is asked for, it lies in the first octave.
func shown(m Map, low, high int) bool {
	fret, fixed := m.Position.Fret()
	switch {
	case high-low > 4:
		return false
	case fixed:
		return low > 0 && low >= fret-1 && high <= fret+5
	case m.Position == neck.Open:
		return high <= 4
	}
	return m.Position == neck.Free || low < 12
}

func shapeWords(apart int) string {
	words := []string{"same fret", "one apart", "two apart", "three apart", "four apart"}
	if apart < 0 {
		return words[-apart] + ", upper note higher"
	}
	return words[apart]
}

// A readRow is a row of a pattern as it was read.
type readRow struct {
	degree         int
	notes          [2]string
	quality, shape string
	lower, upper   int
}

func readPattern(t require.TestingT, text string) []readRow {
	var rows []readRow
	row := regexp.MustCompile(`^  (\d) +(\S+)–(\S+) +(\S+) +(\d+)–(\d+) +(\S.*)\n$`)
	for line := range strings.Lines(text) {
		require.LessOrEqual(t, utf8.RuneCountInString(line), 81, line)
		match := row.FindStringSubmatch(line)
		if match == nil {
			continue
		}
		r := readRow{notes: [2]string{match[2], match[3]}, quality: match[4], shape: match[7]}
		for i, into := range map[int]*int{1: &r.degree, 5: &r.lower, 6: &r.upper} {
			number, err := strconv.Atoi(match[i])
			require.NoError(t, err)
			*into = number
		}
		rows = append(rows, r)
	}
	return rows
}

// Common practice: on strings a fourth apart a major third lies one fret apart
// and a minor third two; on the pair a major third apart, G and B, a major third
// lies on the same fret and a minor third one apart.
func TestShapesInStandardTuningAreThoseThatPlayersLearn(t *testing.T) {
	for _, mode := range []theory.Mode{theory.Major, theory.Minor, theory.HarmonicMinor} {
		for _, key := range mode.Keys() {
			m := Map{Key: key, Neck: neck.Neck{Tuning: neck.Standard()}}
			for _, p := range m.Patterns() {
				want := map[string]string{"major": "one apart", "minor": "two apart"}
				if p.Lower == 3 {
					want = map[string]string{"major": "same fret", "minor": "one apart"}
				}
				var b bytes.Buffer
				require.NoError(t, WritePattern(&b, m, p))
				rows := readPattern(t, b.String())
				assert.Len(t, rows, 7, "each third once, %s", key)
				for _, r := range rows {
					assert.Equal(t, want[r.quality], r.shape, "%s: %v", key, r)
				}
			}
		}
	}
}

func TestPositionsFitEightyColumnsAndSayWhatTheNeckSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMap().Draw(t, "map")
		var b bytes.Buffer
		require.NoError(t, WritePositions(&b, m))
		text := b.String()
		for line := range strings.Lines(text) {
			require.LessOrEqual(t, utf8.RuneCountInString(line), 81, line)
		}
		for _, kp := range m.Neck.Positions(m.Key) {
			reached := fmt.Sprintf("%d of %d", len(kp.Thirds), len(kp.Thirds)+len(kp.Missing))
			require.Regexp(t, fmt.Sprintf(`(?m)^  %s +%d–%d +%s `, kp.Position, kp.Low, kp.High, reached), text)
		}
	})
}

func ExampleWritePattern() {
	m := Map{Neck: neck.Neck{Tuning: neck.Standard()}, Position: neck.Open} // C major
	var b strings.Builder
	_ = WritePattern(&b, m, m.Patterns()[1])
	fmt.Print(b.String())
	// Output:
	// Strings 3–2 (tuned G3 and B3), from the nut up
	//   degree  third  quality  frets  shape
	//   5       G3–B3  major    0–0    same fret
	//   6       A3–C4  minor    2–1    one apart
	//   7       B3–D4  minor    4–3    one apart
}

// In a position of five frets each finger has one; a third that needs a fret
// before or behind them is a stretch (common practice).
func TestPatternTellsWhereTheHandStretches(t *testing.T) {
	key, err := theory.ParseKey("F# minor")
	require.NoError(t, err)
	m := Map{Key: key, Neck: neck.Neck{Tuning: neck.Standard()}, Position: neck.At(5)}
	var b bytes.Buffer
	require.NoError(t, WritePattern(&b, m, m.Patterns()[0]))
	var got []string
	for _, line := range strings.Split(strings.TrimSpace(b.String()), "\n")[2:] {
		got = append(got, strings.Join(strings.Fields(line)[3:], " "))
	}
	assert.Equal(t, []string{"5–4 one apart, a stretch", "7–5 two apart", "9–7 two apart", "10–9 one apart, a stretch"}, got)
}
