package arrangetest

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
)

// AnyScore draws the score of an exercise that can be arranged.
func AnyScore(t *rapid.T) *score.Score {
	chart := "|"
	for i := range rapid.IntRange(1, 10).Draw(t, "bars") {
		if i > 0 && rapid.IntRange(0, 4).Draw(t, "section") == 0 {
			chart += fmt.Sprintf("\n  [%s] |", rapid.SampledFrom([]string{"A", "Bridge", "A long way home, with every stop on the line called out by name and nobody getting off before the last of them"}).Draw(t, "name"))
		}
		repeat := rapid.IntRange(0, 3).Draw(t, "repeat") == 0
		if repeat {
			chart = strings.TrimSuffix(chart, "|") + "|:"
		}
		for range rapid.IntRange(1, 4).Draw(t, "chords") {
			chart += " " + rapid.SampledFrom([]string{"1", "2", "4", "5", "6", "V7/vi", "IVmaj7", "/"}).Draw(t, "chord")
		}
		if repeat {
			chart += rapid.SampledFrom([]string{" :|", " :| x3\n  |"}).Draw(t, "closes")
			continue
		}
		chart += " |"
	}
	chart = strings.TrimSuffix(chart, "\n  |")
	text := fmt.Sprintf("title: Any\nkey: %s %s\nmeter: %s\nchart: |\n  %s\nline:\n  density: %d%%\n  grid: %s\nguitar:\n  position: %s\nbass: %s\n",
		rapid.SampledFrom([]string{"C", "F#", "Db", "A", "Eb"}).Draw(t, "tonic"),
		rapid.SampledFrom([]string{"major", "minor", "dorian"}).Draw(t, "mode"),
		rapid.SampledFrom([]string{"4/4", "3/4", "6/8", "5/4", "2/2", "12/8"}).Draw(t, "meter"),
		chart,
		rapid.IntRange(0, 100).Draw(t, "density"),
		rapid.SampledFrom([]string{"quarters", "eighths", "triplets", "sixteenths"}).Draw(t, "grid"),
		rapid.SampledFrom([]string{"open", "5", "free"}).Draw(t, "position"),
		rapid.SampledFrom([]string{"none", "root-fifth", "walking"}).Draw(t, "bass"),
	)
	e, err := exercise.Parse("any", []byte(text))
	if err != nil {
		t.Skip(err)
	}
	s, _, err := arrange.Arrange(e)
	if err != nil {
		t.Skip(err)
	}
	return s
}
