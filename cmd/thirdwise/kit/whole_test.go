package kit_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/kittest"
	"thirdwise/synth/audiofile"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

// anyExercise draws the text of an exercise that a teacher could write.
func anyExercise(t *rapid.T) string {
	pick := func(name string, from ...string) string { return rapid.SampledFrom(from).Draw(t, name) }
	chord := rapid.SampledFrom([]string{"1", "2", "4", "5", "6", "V7", "V7/V", "vii°", "N.C.", "C", "Am7", "Dm7b5", "F#m", "Bb/D", "Gsus4", "E7", "Eb6", "Bdim7"})
	bar := func() string { return strings.Join(rapid.SliceOfN(chord, 1, 2).Draw(t, "bar"), " ") }
	var chart strings.Builder
	chart.WriteString("  |")
	for range rapid.IntRange(1, 3).Draw(t, "parts") {
		var bars []string
		for range rapid.IntRange(1, 4).Draw(t, "bars") {
			bars = append(bars, bar())
		}
		part := " " + strings.Join(bars, " | ") + " |"
		if rapid.Bool().Draw(t, "repeated") {
			part = ": " + strings.Join(bars, " | ") + " :|"
		}
		chart.WriteString(part)
	}
	var keys []string
	for _, mode := range theory.Modes() {
		for _, key := range mode.Keys() {
			keys = append(keys, key.ASCII())
		}
	}
	var meters, grids []string
	for _, m := range meter.Meters() {
		meters = append(meters, m.String())
	}
	for _, g := range meter.Grids() {
		grids = append(grids, g.String())
	}
	hand := pick("hand", "", "strum: D", "strum: '>D x'", "strum: D - - U | D U D U", "pick: R (21)", "pick: R 3 2 1", "numerals: no")
	return fmt.Sprintf("title: Any\nkey: %s\nmeter: %s\nchart: |\n%s\npasses: %d\ntempos: [%d, 390]\ncount-in: %d\nfeel: %s\nline: {density: %d, grid: %s, push: %s, variant: %d%s}\nguitar: {position: %s, capo: %d, tuning: %s}\nbass: %s\nclimb: 50\nturns: %d\n%s\n",
		pick("key", keys...), pick("meter", meters...), chart.String(), rapid.IntRange(1, 3).Draw(t, "passes"),
		rapid.IntRange(20, 380).Draw(t, "tempo"), rapid.IntRange(1, 2).Draw(t, "count-in"), pick("feel", "straight", "swing"),
		rapid.IntRange(0, 100).Draw(t, "density"), pick("grid", grids...), pick("push", "on", "off"), rapid.IntRange(1, 3).Draw(t, "variant"),
		pick("rhythm", "", "", ", rhythm: x", ", rhythm: x .", ", rhythm: x x | x - . x", ", own: {1: x x}"), pick("position", "open", "free", "3", "7"),
		rapid.IntRange(0, 5).Draw(t, "capo"), pick("tuning", "standard", "drop D", "open G", "ukulele"), pick("bass", "none", "root-fifth", "walking"),
		rapid.IntRange(1, 3).Draw(t, "turns"), hand)
}

// wholeWay goes from an exercise to every output but the samples: what is no
// mistake is made, each third is one, each note lasts, and the tab fits its width.
func wholeWay(t *rapid.T) {
	e, err := exercise.Parse("any.yaml", []byte(anyExercise(t)))
	var found source.Findings
	if errors.As(err, &found) {
		return // settings that do not go together
	}
	require.NoError(t, err)
	s, _, err := arrange.Arrange(e)
	if errors.As(err, &found) {
		return // no hand plays it
	}
	require.NoError(t, err)
	for _, third := range s.Line {
		require.True(t, third.Notes.IsThird(), "%s", third.Notes)
		require.GreaterOrEqual(t, third.Length, 1)
		require.Equal(t, third.Places.Lower.String, third.Places.Upper.String+1)
	}
	for _, tempo := range s.Tempos {
		require.NoError(t, s.Perform(tempo).Check())
		require.NoError(t, s.Loop(tempo).Check())
		require.NoError(t, s.Perform(tempo).Turns(s.Turns).Check())
	}
	require.NoError(t, s.Climbing().Check())
	k := kit.Kit{Name: "any", Score: s, NoAudio: true, Mixes: []score.Mix{score.Full}, Format: audiofile.Format{}.WithDefaults(), Sheet: sheet.Options{Paper: drawing.A4}}
	if _, err := k.Size(); err != nil {
		return // told by check
	}
	store := new(kittest.Memory)
	_, err = k.Write(context.Background(), store, unwatched)
	require.NoError(t, err)
	for line := range strings.Lines(string(store.Bytes("any-tab.txt"))) {
		require.LessOrEqual(t, utf8.RuneCountInString(strings.TrimRight(line, "\n")), 80, line)
	}
}

// Without -fuzz it goes from a few exercises, of which about half have no mistake.
func FuzzTheWholeWay(f *testing.F) {
	const few = 12
	for seed := range uint64(few) {
		drawn := make([]byte, 4096)
		rand.NewChaCha8([32]byte{byte(seed)}).Read(drawn)
		f.Add(drawn)
	}
	f.Fuzz(rapid.MakeFuzz(wholeWay))
}
