package exercise_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

func parse(t require.TestingT, text string) *exercise.Exercise {
	e, err := exercise.Parse("exercise.yaml", []byte(text))
	require.NoError(t, err)
	return e
}

// mistakes returns what is wrong with a text.
func mistakes(t require.TestingT, text string) source.Findings {
	_, err := exercise.Parse("exercise.yaml", []byte(text))
	if err == nil {
		return nil
	}
	var list source.Findings
	require.ErrorAs(t, err, &list)
	require.NotEmpty(t, list)
	return list
}

// Every NAME.yaml has something wrong with it; NAME.golden is the report, read
// and found right by a person.
func TestMistakesAreReportedWithPlaceAndRemedy(t *testing.T) {
	files, err := filepath.Glob("testdata/mistakes/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		t.Run(name, func(t *testing.T) {
			src, err := os.ReadFile(file)
			require.NoError(t, err)
			e, err := exercise.Parse(name+".yaml", src)
			var list source.Findings
			require.ErrorAs(t, err, &list)
			assert.Nil(t, e)
			golden := strings.TrimSuffix(file, ".yaml") + ".golden"
			goldentest.Equal(t, golden, list.Report())
		})
	}
}

func TestAnExerciseOfDefaultsIsTheExampleWrittenOut(t *testing.T) {
	e := parse(t, "title: Porch Light\nkey: C major\nchart: C |\n")
	assert.Equal(t, meter.Meter{Beats: 4, Unit: 4}, e.Meter)
	assert.Equal(t, 2, e.Passes)
	assert.Equal(t, []int{60, 80, 100}, e.Tempos)
	assert.Equal(t, 1, e.CountIn)
	assert.Equal(t, meter.Straight, e.Feel)
	assert.Equal(t, exercise.LineSettings{Density: 50, Grid: meter.Eighths, Variant: 1}, e.Line)
	assert.Equal(t, neck.Neck{Tuning: neck.Standard()}, e.Neck)
	assert.Equal(t, neck.Lowest, e.Position)
	assert.Nil(t, e.Strum)
}

func TestEveryFieldIsRead(t *testing.T) {
	e := parse(t, `
title: "Bent  Nail: part 2"
key: f# harmonic minor
meter: 12/8
chart: '| i | iv |'
passes: 3
tempos: [72, 96]
climb: 4
count-in: 2
feel: straight
line:
  density: 75 %
  grid: sixteenths
  low: A3
  high: F#5
  rhythm: x-xx | X - . x
  push: on
  own:
    2: F#4 - . x
  variant: 3
guitar:
  tuning:
    - D2
    - A2
    - D3
    - F#3
    - A3
    - D4
  capo: 2
  position: 5
strum: D--U-U D--U-U
bass: walking
groove: brush
click: count-in
`)
	pitch := func(s string) *theory.Pitch {
		p, err := theory.ParsePitch(s)
		require.NoError(t, err)
		return &p
	}
	assert.Equal(t, "Bent  Nail: part 2", e.Title)
	assert.Equal(t, "F♯ harmonic minor", e.Key.String())
	assert.Equal(t, "12/8", e.Meter.String())
	assert.Len(t, e.Chart, 2)
	assert.Equal(t, 3, e.Passes)
	assert.Equal(t, []int{72, 96}, e.Tempos)
	assert.Equal(t, 4, e.Climb)
	assert.Equal(t, exercise.Walking, e.Bass)
	assert.Equal(t, exercise.Brush, e.Groove)
	assert.True(t, e.ClickEnds)
	assert.Equal(t, 2, e.CountIn)
	assert.Equal(t, 75, e.Line.Density)
	assert.Equal(t, meter.Sixteenths, e.Line.Grid)
	assert.Equal(t, pitch("A3"), e.Line.Low)
	assert.Equal(t, pitch("F#5"), e.Line.High)
	assert.Equal(t, [][]rhythm.Sign{[]rhythm.Sign("x-xx"), []rhythm.Sign("x-.x")}, e.Line.Rhythm)
	assert.True(t, e.Line.Push)
	assert.Equal(t, 3, e.Line.Variant)
	require.Len(t, e.Line.Own[1], 4, "of bar 2")
	assert.Equal(t, pitch("F#4"), e.Line.Own[1][0].Lower)
	assert.Equal(t, rhythm.Begin, e.Line.Own[1][3].Sign)
	assert.Nil(t, e.Line.Own[1][3].Lower)
	assert.Equal(t, "D2 A2 D3 F♯3 A3 D4", e.Neck.Tuning.String())
	assert.Equal(t, 2, e.Neck.Capo)
	assert.Equal(t, neck.At(5), e.Position)
	assert.Equal(t, "D--U-UD--U-U", e.Strum[0].String())
}

func TestOneTempoNeedsNoList(t *testing.T) {
	assert.Equal(t, []int{72}, parse(t, "title: t\nkey: C major\nchart: C |\ntempos: 72\n").Tempos)
}

func TestSwingNeedsQuarterBeats(t *testing.T) {
	for _, m := range meter.Meters() {
		list := mistakes(t, fmt.Sprintf("title: t\nkey: C major\nchart: C |\nmeter: %s\nfeel: swing\n", m))
		assert.Equal(t, m.Unit == 4, len(list) == 0, "%s: %v", m, list)
	}
}

func TestLineEndsAndByteOrderMarkChangeNothing(t *testing.T) {
	text := "title: Bent Nail\nkey: C major\nchart: |\n  | C | Am |\n\n  | F | G |\ntempos: [60, 90]\n"
	want := parse(t, text)
	for name, variant := range map[string]string{
		"CRLF": strings.ReplaceAll(text, "\n", "\r\n"),
		"CR":   strings.ReplaceAll(text, "\n", "\r"),
		"BOM":  "\uFEFF" + text,
		"---":  "---\n" + text + "...\n",
	} {
		got := parse(t, variant)
		assert.Equal(t, want.Title, got.Title, name)
		assert.Equal(t, want.Tempos, got.Tempos, name)
		assert.Equal(t, symbols(want), symbols(got), name)
	}
}

func TestOverOneMebibyteIsRefused(t *testing.T) {
	text := "title: Bent Nail\nkey: C major\nchart: C |\n"
	filled := text + strings.Repeat("# filler\n", exercise.MaxBytes/9)
	parse(t, filled[:exercise.MaxBytes])
	list := mistakes(t, filled[:exercise.MaxBytes]+"\n")
	assert.Contains(t, list.Error(), "more than 1048576 bytes")
}

func TestMistakesComeInTheOrderOfTheFile(t *testing.T) {
	list := mistakes(t, "strum: Q\nchart: Q | Z |\nkey: Q\ntitle: ''\npasses: 0\n")
	require.Len(t, list, 6)
	for i := range list[1:] {
		assert.LessOrEqual(t, list[i].Line, list[i+1].Line)
	}
	assert.True(t, strings.HasSuffix(list.Error(), "(and 5 more mistakes)"), list.Error())
	assert.Equal(t, 6, strings.Count(list.Report(), "exercise.yaml:"))
}

// What a file made to hurt could do is bounded before the YAML parser sees it.
func TestHostileFilesAreRefused(t *testing.T) {
	var bomb strings.Builder
	bomb.WriteString("a0: &a0 [C, C, C, C, C, C, C, C]\n")
	for i := 1; i < 20; i++ {
		fmt.Fprintf(&bomb, "a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 8), ", "))
	}
	const lines = 100_000
	for name, text := range map[string]string{
		"aliases of aliases":  bomb.String(),
		"open brackets":       strings.Repeat("[\n", lines),
		"open braces":         strings.Repeat("{a:\n", lines),
		"dashes in a line":    strings.Repeat("- ", 4000),
		"dashes below dashes": strings.Repeat("-\n", lines),
		"keys in a line":      strings.Repeat("a: ", 3000),
		"many keys":           strings.Repeat("a: 1\n", lines),
		"one long line":       "title: " + strings.Repeat("a", lines),
		"many mistakes":       "chart: |\n" + strings.Repeat("  Q\n", lines),
		"many documents":      strings.Repeat("---\n", lines),
	} {
		list := mistakes(t, text)
		assert.NotEmpty(t, list, name)
		assert.LessOrEqual(t, len(list), 1000, name)
	}
}

func TestTheStarterParses(t *testing.T) {
	e := parse(t, exercise.Starter)
	assert.NotEmpty(t, e.Title)
	for _, setting := range exercise.SettingNames {
		assert.Regexp(t, "(?m)^ *(?:# +)?"+setting+":", exercise.Starter, "the starter explains every setting")
	}
}

// Each exercise teaches something and tells the student so.
func TestExercisesParseAndSayWhatTheyTeach(t *testing.T) {
	files, err := filepath.Glob("../../testdata/exercises/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		e := parse(t, string(text))
		assert.NotEmpty(t, e.Handout.Note, file)
		slug := strings.ReplaceAll(strings.ToLower(e.Title), " ", "-")
		assert.Equal(t, slug+".yaml", filepath.Base(file))
	}
}

func ExampleParse() {
	text := `title: Bent Nail
key: C major
chart: |
  | C | H7 | Dm |
tempo: [60, 80]
`
	_, err := exercise.Parse("bent-nail.yaml", []byte(text))
	var list source.Findings
	if errors.As(err, &list) {
		fmt.Print(list.Report())
	}
	// Output:
	// bent-nail.yaml:4:9: "H7" is not a chord
	//       | C | H7 | Dm |
	//             ^^
	//     what some countries call H is B here, and what they call B is Bb: write B7
	// bent-nail.yaml:5:1: unknown setting "tempo"
	//     tempo: [60, 80]
	//     ^^^^^
	//     did you mean tempos?
}

// checkSound holds what must be true of every exercise that parses.
func checkSound(t *testing.T, e *exercise.Exercise) {
	require.NotEmpty(t, e.Title)
	require.NoError(t, e.Key.Check())
	require.NoError(t, e.Neck.Check())
	require.Contains(t, meter.Meters(), meter.Meter{Beats: e.Meter.Beats, Unit: e.Meter.Unit})
	require.Equal(t, e.Ladder.Along == exercise.NoLadder, len(e.Chart) > 0, "a chart or a ladder")
	require.NotEmpty(t, e.Tempos)
	require.LessOrEqual(t, len(chart.Unfold(e.Chart)), chart.MaxBars)
	for _, bar := range e.Chart {
		end := 0
		for _, c := range bar.Chords {
			require.Equal(t, end, c.Tick)
			require.Positive(t, c.Length)
			end += c.Length
		}
		require.Equal(t, e.Meter.Bar(), end)
	}
}

func BenchmarkParse(b *testing.B) {
	text := []byte("title: Bent Nail\nkey: C major\nchart: |\n" + strings.Repeat("  | C | Am7 | ii V7/V | Bb/D / / F#m7b5 |\n", chart.MaxBars/4))
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := exercise.Parse("exercise.yaml", text); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(chart.MaxBars)*float64(b.N)/b.Elapsed().Seconds(), "bars/s")
}

// A chord far from its key, moved to a key with many sharps, is spelled with two
// accidentals at most, as musicians can read it (common practice).
func TestAMovedChordIsSpelledToBeRead(t *testing.T) {
	key, err := theory.ParseKey("G# minor")
	require.NoError(t, err)
	e := parse(t, "title: Far\nkey: C minor\nchart: '| Cm | F# | B# |'\n")
	assert.Equal(t, []string{"G#m+1920", "C##+1920", "G#+1920"}, symbols(exercise.Transpose(e, key)), "G#, not F####")
}

// With a capo at the third fret the shapes of G sound in B flat; numerals and
// degrees are the key's own either way.
func TestAChartCanBeWrittenInShapes(t *testing.T) {
	const chart = "title: Shapes\nkey: Bb major\nchart: '| %s |'\nguitar:\n  capo: 3\n"
	shapes := parse(t, fmt.Sprintf(chart, "G Em | Am7 D7/F# | V | 4")+"chart-as: shapes\n")
	sounding := parse(t, fmt.Sprintf(chart, "Bb Gm | Cm7 F7/A | V | 4"))
	for i := range sounding.Chart {
		for j, c := range sounding.Chart[i].Chords {
			assert.Equal(t, c.Chord, shapes.Chart[i].Chords[j].Chord)
		}
	}
	assert.Equal(t, "G", shapes.ShapeOf(shapes.Chart[0].Chords[0].Chord).String())
}

// Nor has a chord more than two accidentals on either side of a capo.
func TestAShapeIsSpelledToBeRead(t *testing.T) {
	sounding := parse(t, "title: High\nkey: G# minor\nchart-as: shapes\nchart: '| Fm | B## | B# |'\nguitar:\n  capo: 3\n")
	assert.Equal(t, []string{"G#m+1920", "D##+1920", "D#+1920"}, symbols(sounding), "D##, not C####")

	shapes := parse(t, "title: Low\nkey: C# major\nchart: '| C# | Bbb | Ebb |'\nguitar:\n  capo: 1\n")
	var names []string
	for _, bar := range shapes.Chart {
		names = append(names, shapes.ShapeOf(bar.Chords[0].Chord).ASCII())
	}
	assert.Equal(t, []string{"C", "Ab", "Db"}, names, "Ab, not Bbbb")
}
