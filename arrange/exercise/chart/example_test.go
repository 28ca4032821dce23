package chart_test

import (
	"fmt"

	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

// The bars of a chart as written, and the order in which they are played.
func ExampleRead() {
	file := source.Read("song.yaml", []byte("chart: '|: C | F |1. G :|2. C / / G |'\n"))
	settings, _ := file.Settings()
	bars := chart.Read(settings[0].Value.Text, theory.Key{}, meter.Meter{Beats: 4, Unit: 4})
	for i, bar := range bars {
		fmt.Println(i, bar.Chords[0].Chord, bar.Chords[0].Length, bar.Ending)
	}
	fmt.Println(chart.Unfold(bars))
	// Output:
	// 0 C 1920 []
	// 1 F 1920 []
	// 2 G 1920 [1]
	// 3 C 1440 [2]
	// [0 1 2 0 1 3]
}
