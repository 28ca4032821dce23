package bench_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit/kittest"
	"thirdwise/cmd/thirdwise/web/bench"
	"thirdwise/cmd/thirdwise/web/page"
)

const written = `# for Tuesday
title: Two Doors
key: C major   # as sung
chart: |
  | C | Am7 | Dm/F | 5 |
  | Bb | % | vi | N.C. |
tempos: [80, 60]
`

func arranged(t *testing.T, text string) (*bench.Bench, bench.Arranged) {
	b := new(bench.Bench)
	made, err := b.Arrange("two-doors.yaml", text, 60, "both", 0)
	require.NoError(t, err)
	return b, made
}

// piece returns what is on a bench, as a page plays it.
func piece(t *testing.T, b *bench.Bench) page.Piece {
	played, err := b.Played(-12)
	require.NoError(t, err)
	return played.Piece
}

// Moved to another key, an exercise keeps its comments, its degrees and its
// numerals where they are.
func TestMovingRewritesKeyAndSymbolsAlone(t *testing.T) {
	b, _ := arranged(t, written)
	moved, err := b.Move(written, "Eb")
	require.NoError(t, err)
	assert.Equal(t, `# for Tuesday
title: Two Doors
key: Eb major   # as sung
chart: |
  | Eb | Cm7 | Fm/Ab | 5 |
  | Db | % | vi | N.C. |
tempos: [80, 60]
`, moved)
	_, err = b.Move(written, "A minor")
	assert.Error(t, err)
}

// What is found is told with its stretch of text, and mistakes leave the bench
// as it was.
func TestFindingsTellTheirPlace(t *testing.T) {
	b, made := arranged(t, written)
	require.NotNil(t, made.Strip)
	assert.Len(t, made.Strip.Bars, 8)
	assert.Equal(t, "two-doors", piece(t, b).Name)

	made, err := b.Arrange("two-doors.yaml", strings.Replace(written, "Am7", "Am7x", 1), 60, "both", 0)
	require.NoError(t, err)
	assert.Nil(t, made.Strip)
	require.Len(t, made.Findings, 1)
	found := made.Findings[0]
	assert.Equal(t, source.Mistake, found.Severity)
	assert.Equal(t, source.Pos{Line: 5, Column: 9}, found.Pos)
	assert.Equal(t, 4, found.Length)
	assert.Equal(t, []source.Mend{{Pos: found.Pos, Length: 4, Text: "Am7"}}, found.Mends)
	for _, show := range []func() (string, error){b.Board, b.Tab, b.Neck, b.Printed} {
		text, err := show()
		require.NoError(t, err)
		assert.NotEmpty(t, text)
	}
}

func TestKitHoldsItsPracticePage(t *testing.T) {
	b, _ := arranged(t, "title: Short\nkey: C\nchart: '| C |'\ntempos: [300]\npasses: 1\n")
	made := new(kittest.Memory)
	shell := page.NewShell([]byte("<title>{title}</title>{piece}{engine}"), []byte("engine"))
	require.NoError(t, b.Kit("short.yaml", shell, []score.Mix{score.Full}, made, func(done, all int) {}))
	assert.Contains(t, string(made.Bytes("short.html")), "<title>Short</title>")
	assert.Contains(t, string(made.Bytes("kit.json")), `"name": "short.html"`)
	assert.NotEmpty(t, made.Bytes("short-300-full.wav"))
}

// A mix in which nothing sounds is left out of a kit, and a kit without a mix has
// everything but tracks, as on the command line.
func TestKitsHoldTheMixesThatSound(t *testing.T) {
	b, _ := arranged(t, "title: Short\nkey: C\nchart: '| C |'\ntempos: [300]\npasses: 1\nbass: walking\n")
	shell := page.NewShell([]byte("{title}{piece}{engine}"), []byte("engine"))
	tracks := func(mixes ...score.Mix) (names []string) {
		made := new(kittest.Memory)
		require.NoError(t, b.Kit("short.yaml", shell, mixes, made, func(done, all int) {}))
		assert.NotEmpty(t, made.Bytes("kit.json"))
		for _, mix := range score.Mixes() {
			if made.Bytes("short-300-"+mix.String()+".wav") != nil {
				names = append(names, mix.String())
			}
		}
		return names
	}
	assert.Equal(t, []string{"full", "bass"}, tracks(score.Full, score.BassAlone, score.GrooveAlone))
	assert.Empty(t, tracks(score.NoMix))
}

// A piece tells of every exercise which bar on the sheet each bar is, and when
// each third is played, in order.
func TestPiecesTellWhenThirdsArePlayed(t *testing.T) {
	files, err := filepath.Glob("../../../../testdata/exercises/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		b, made := arranged(t, string(text))
		require.NotNil(t, made.Strip, file)
		p := piece(t, b)
		require.Len(t, p.Played, len(p.Line), file)
		for i, tick := range p.Played {
			assert.InDelta(t, p.Line[i].Tick, tick, 120, file) // swing moves an eighth by 80
		}
		for _, bar := range p.Written {
			assert.Less(t, bar, len(made.Strip.Bars), file)
		}
	}
}

// Every bar of every exercise can be locked as it is: written into the exercise, it
// leaves the line as it was.
func TestALockedBarStaysAsItIs(t *testing.T) {
	b, _ := arranged(t, written)
	before := piece(t, b)
	var own strings.Builder
	own.WriteString("line:\n  own:\n")
	for i, bar := range before.Bars {
		if bar.Chords[0].Symbol == "N.C." {
			continue
		}
		locked, err := b.Bar(i)
		require.NoError(t, err)
		assert.False(t, locked.Own)
		assert.NotEmpty(t, locked.Thirds)
		fmt.Fprintf(&own, "    %d: %s\n", locked.Number, strings.Join(locked.Signs, " "))
	}
	b, again := arranged(t, written+own.String())
	require.NotNil(t, again.Strip, own.String())
	assert.Equal(t, before.Line, piece(t, b).Line)
	locked, err := b.Bar(0)
	require.NoError(t, err)
	assert.True(t, locked.Own)
}

// A bar goes by its number in the chart, also behind a repeat whose last bar stands
// twice on the sheet, since the line ends otherwise the second time.
func TestABarBehindARepeatIsLockedUnderItsNumber(t *testing.T) {
	const text = "title: Gate\nkey: E major\nchart: '|: E | A | C#m | B :| A | Am | E/G# | C#m7 | F#m | B7 | E | E |'\nline:\n  density: 35%\n"
	b, made := arranged(t, text)
	require.Len(t, made.Strip.Bars, 13)
	for i := 8; i < 16; i++ {
		locked, err := b.Bar(i)
		require.NoError(t, err)
		assert.Equal(t, i-3, locked.Number)
		other, _ := arranged(t, fmt.Sprintf("%s  own:\n    %d: %s\n", text, locked.Number, strings.Join(locked.Signs, " ")))
		again, err := other.Bar(i)
		require.NoError(t, err)
		assert.True(t, again.Own)
		assert.Equal(t, locked.Signs, again.Signs, "bar %d", locked.Number)
	}
}

// Another way to play a bar can be written into the exercise, and is another line;
// a bar beyond the chart is an error.
func TestOtherWaysCanBeTakenOver(t *testing.T) {
	const text = "title: Door\nkey: C major\nchart: '| C | Am | Dm | G |'\n"
	b, _ := arranged(t, text)
	before := piece(t, b)
	ways, err := b.Ways(2)
	require.NoError(t, err)
	require.NotEmpty(t, ways)
	for _, way := range ways {
		other, made := arranged(t, text+"line:\n  own:\n    3: "+strings.Join(way, " ")+"\n")
		require.NotNil(t, made.Strip, way)
		assert.NotEqual(t, before.Line, piece(t, other).Line)
	}
	_, err = b.Ways(4)
	assert.Error(t, err)
	_, err = new(bench.Bench).Bar(0)
	assert.Error(t, err)
}
