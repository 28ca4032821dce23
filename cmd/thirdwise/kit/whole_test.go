package kit_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
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
	var keys []string
	for _, mode := range theory.Modes() {
		for _, key := range mode.Keys() {
			keys = append(keys, key.ASCII())
		}
	}
	var grids []string
	for _, g := range meter.Grids() {
		grids = append(grids, g.String())
	}
	in := rapid.SampledFrom(meter.Meters()).Draw(t, "meter")
	groups := map[string]string{"5/4": " (2+3)", "7/8": " (3+2+2)"}[in.String()]
	music := "chart: |\n  " + anyChart(t, in.Beats)
	line := fmt.Sprintf("density: %d, grid: %s, push: %s, variant: %d", rapid.IntRange(0, 100).Draw(t, "density"), pick("grid", grids...), pick("push", "on", "off"), rapid.IntRange(1, 3).Draw(t, "variant")) +
		pick("rhythm", "", "", ", rhythm: x", ", rhythm: x .", ", rhythm: x x | x - . x", ", own: {1: x x}", ", own: {1: C4 - E4 x}", ", low: E3", ", high: A4")
	if rapid.IntRange(0, 9).Draw(t, "ladder?") == 9 {
		music = "ladder: " + pick("ladder", "1-2", "2-3", "position", "free") + "\nladder-chords: " + pick("ladder-chords", "tonic", "triads")
		line = pick("line", "", "grid: "+grids[0], "rhythm: x")
	}
	hand := pick("hand", "", "strum: D", "strum: '>D x'", "strum: D - - U | D U D U", "pick: R (21)", "pick: R 3 2 1", "numerals: no")
	return fmt.Sprintf("title: Any\nkey: %s\nmeter: %s\n%s\npasses: %d\ntempos: [%d, 390]\ncount-in: %d\nfeel: %s\nline: {%s}\nguitar: {position: %s, capo: %d, tuning: %s}\nbass: %s\ngroove: %s\nclick: %s\nclimb: 50\nturns: %d\n%s\n",
		pick("key", keys...), in.String()+pick("groups", "", groups), music, rapid.IntRange(1, 3).Draw(t, "passes"), rapid.IntRange(20, 380).Draw(t, "tempo"), rapid.IntRange(1, 2).Draw(t, "count-in"),
		pick("feel", "straight", "straight", "straight", "swing", "swing sixteenths"), line,
		pick("position", "open", "free", "3", "7"), rapid.IntRange(0, 5).Draw(t, "capo"), pick("tuning", "standard", "drop D", "open G", "ukulele", "B1 E2 A2 D3 F#3 B3 E4"),
		pick("bass", "none", "root-fifth", "walking"), pick("groove", "none", "shaker", "brush"), pick("click", "always", "count-in"),
		rapid.IntRange(1, 3).Draw(t, "turns"), hand)
}

// anyChart draws a chart on one line, of bars that can be divided into so many beats.
func anyChart(t *rapid.T, beats int) string {
	chord := rapid.SampledFrom([]string{"1", "2", "4", "5", "6", "V7", "V7/V", "vii°", "N.C.", "C", "Am7", "Dm7b5", "F#m", "Bb/D", "Gsus4", "E7", "Eb6", "Bdim7"})
	number := func(name string, most int) int { return rapid.IntRange(1, most).Draw(t, name) }
	bars := func(name string, most int) string {
		var all []string
		for range number(name, most) {
			bar := chord.Draw(t, name)
			switch number(name, 6) {
			case 4:
				bar += strings.Repeat(" /", beats-1)
			case 5:
				bar += strings.Repeat(" /", beats-2) + " " + chord.Draw(t, name)
			case 6:
				if len(all) > 0 {
					bar = "%"
				}
			}
			all = append(all, bar)
		}
		return strings.Join(all, " | ")
	}
	var chart strings.Builder
	chart.WriteString("|")
	if number("pickup", 4) == 4 {
		fmt.Fprintf(&chart, " [pickup] N.C.%s %s |", strings.Repeat(" /", beats-2), chord.Draw(t, "pickup"))
	}
	for range number("parts", 3) {
		section := rapid.SampledFrom([]string{"", "", "[A] ", "[Verse 2] "}).Draw(t, "section")
		switch number("part", 6) {
		case 3:
			fmt.Fprintf(&chart, ": %s%s :|", section, bars("repeated", 4))
		case 4:
			fmt.Fprintf(&chart, ": %s%s :| x3 |", section, bars("repeated", 4))
		case 5:
			fmt.Fprintf(&chart, ": %s%s |1. %s :|2. %s |", section, bars("repeated", 3), bars("first", 2), bars("second", 2))
		case 6:
			fmt.Fprintf(&chart, ": %s%s |1.-3. %s :|4. %s |", section, bars("repeated", 3), bars("first", 2), bars("second", 2))
		default:
			fmt.Fprintf(&chart, " %s%s |", section, bars("bars", 4))
		}
	}
	return chart.String()
}

// wholeWay goes from an exercise to every output but the samples: what is no
// mistake is made, each third is one, each note lasts, and the tab fits its width.
func wholeWay(t *rapid.T) {
	text := anyExercise(t)
	e, err := exercise.Parse("any.yaml", []byte(text))
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
	requireOneLineEachTime(t, s)
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

// requireOneLineEachTime checks that bars which the chart writes once, and plays before
// the same bar each time, have the same thirds each time: but for those behind the last
// chord of a repeat, which lead elsewhere the last time.
func requireOneLineEachTime(t require.TestingT, s *score.Score) {
	first := map[int]string{}
	for i, bar := range s.Bars {
		if i+1 == len(s.Bars) {
			break
		}
		next := s.Bars[i+1]
		chords := slices.ContainsFunc(next.Chords, func(c score.ChordSpan) bool { return !c.None })
		if bar.Ending != nil || next.Ending != nil || next.Written != bar.Written+1 || !chords {
			continue
		}
		var thirds []string
		for _, third := range s.Line {
			if third.Tick >= bar.Tick && third.Tick < next.Tick {
				thirds = append(thirds, fmt.Sprint(third.Tick-bar.Tick, third.Notes))
			}
		}
		line := strings.Join(thirds, " ")
		if known, again := first[bar.Written]; again {
			require.Equal(t, known, line, "bar %d", i+1)
		}
		first[bar.Written] = line
	}
}

// Without -fuzz it goes from a few exercises, of which about three in four have no mistake.
func FuzzTheWholeWay(f *testing.F) {
	const few = 12
	for seed := range uint64(few) {
		drawn := make([]byte, 4096)
		rand.NewChaCha8([32]byte{byte(seed)}).Read(drawn)
		f.Add(drawn)
	}
	f.Fuzz(rapid.MakeFuzz(wholeWay))
}
