package exercise_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/chart"
	"thirdwise/theory/meter"
)

// What teachers type first, where there can be no doubt about what it means, means
// that. What there can be doubt about is a pair of files in testdata/mistakes.
func TestWhatCanOnlyMeanOneThingIsUnderstood(t *testing.T) {
	const title, key, bars = "title: Bent Nail\n", "key: C major\n", "chart: C | G |\n"
	for _, c := range []struct {
		text string
		want any
		got  func(*exercise.Exercise) any
	}{
		{"TITLE: Bent Nail\nKey: C major\nChart: C | G |\n", "Bent Nail", func(e *exercise.Exercise) any { return e.Title }},
		{"title: “Bent Nail”\n" + key + bars, "Bent Nail", func(e *exercise.Exercise) any { return e.Title }},
		{"title: ‘Bent Nail’\n" + key + bars, "Bent Nail", func(e *exercise.Exercise) any { return e.Title }},
		{title + "key:\u00a0C\u00a0major\n" + bars, "C major", func(e *exercise.Exercise) any { return e.Key.String() }},
		{title + key + bars + "line:\n\u00a0\u00a0density:\u202f75\u00a0%\n", 75, density},
		{title + key + bars + "line: {density: half}\n", 50, density},
		{title + key + bars + "line: {density: 0.5}\n", 50, density},
		{title + key + bars + "line: {density: .25}\n", 25, density},
		{title + key + bars + "line:\n  density: 0,5\n", 50, density},
		{title + key + bars + "line: {density: 50 percent}\n", 50, density},
		{title + key + bars + "line: {density: 50 per cent}\n", 50, density},
		{title + key + bars + "line: {Density: 0}\n", 0, density},
		{title + key + bars + "line: {grid: quavers}\n", meter.Eighths, grid},
		{title + key + bars + "line: {grid: 16}\n", meter.Sixteenths, grid},
		{title + key + bars + "line: {grid: Semiquavers}\n", meter.Sixteenths, grid},
		{title + key + bars + "line: {grid: crotchets}\n", meter.Quarters, grid},
		{title + key + bars + "line: {grid: 16th notes}\n", meter.Sixteenths, grid},
		{title + key + bars + "line: {grid: 1/8}\n", meter.Eighths, grid},
		{title + key + bars + "tempos: 60, 80, 100\n", []int{60, 80, 100}, tempos},
		{title + key + bars + "tempos: 60 80 100\n", []int{60, 80, 100}, tempos},
		{title + key + bars + "tempos: 60 bpm\n", []int{60}, tempos},
		{title + key + bars + "tempos: [60 BPM, 80 bpm]\n", []int{60, 80}, tempos},
		{title + key + bars + "tempos: [60bpm, 80bpm]\n", []int{60, 80}, tempos},
		{title + key + bars + "tempos: 60/80;100\n", []int{60, 80, 100}, tempos},
		{title + key + bars + "tempos: ♩ = 60\n", []int{60}, tempos},
		{title + key + bars + "tempos: (60, 80)\n", []int{60, 80}, tempos},
		{title + key + bars + "tempos: 60 and 80\n", []int{60, 80}, tempos},
		{title + key + bars + "passes: 3 times\n", 3, func(e *exercise.Exercise) any { return e.Passes }},
		{title + key + bars + "passes: 3x\n", 3, func(e *exercise.Exercise) any { return e.Passes }},
		{title + key + bars + "count-in: 2 bars\n", 2, func(e *exercise.Exercise) any { return e.CountIn }},
		{title + key + bars + "guitar: {capo: 2nd fret}\n", 2, func(e *exercise.Exercise) any { return e.Neck.Capo }},
		{title + key + bars + "meter: 3 / 4\n", "3/4", func(e *exercise.Exercise) any { return e.Meter.String() }},
		{title + key + bars + "meter: cut time\n", "2/2", func(e *exercise.Exercise) any { return e.Meter.String() }},
		{title + key + bars + "meter: ¢\n", "2/2", func(e *exercise.Exercise) any { return e.Meter.String() }},
		{title + key + bars + "meter: ¾\n", "3/4", func(e *exercise.Exercise) any { return e.Meter.String() }},
		{title + key + "chart: '[Auftakt] N.C. / / G | C |'\n", true, func(e *exercise.Exercise) any { return e.Chart[0].Pickup }},
		{title + key + "chart: '[pick-up] NC. / / G | C |'\n", true, func(e *exercise.Exercise) any { return e.Chart[0].Pickup }},
		{title + key + bars + "strum: '| D - D U |'\n", "D-DU", strum},
		{title + key + "chart: '| C, Am, | F |'\n", []string{"C+960 Am+960", "F+1920"}, func(e *exercise.Exercise) any { return symbols(e) }},
		{title + key + "chart: '|: C :| 3x'\n", []int{0, 0, 0}, played},
		{title + key + "chart: '|: C :| (x3)'\n", []int{0, 0, 0}, played},
		{title + key + bars + "count in: 2\n", 2, func(e *exercise.Exercise) any { return e.CountIn }},
		{title + key + bars + "Count_In: 2\n", 2, func(e *exercise.Exercise) any { return e.CountIn }},
		{title + key + bars + "feel: Swing\n", meter.Swing, feel},
		{title + key + bars + "feel: shuffle\n", meter.Swing, feel},
		{title + key + bars + "feel: swung sixteenths\n", meter.SwingSixteenths, feel},
		{title + key + bars + "bass: Walking\n", exercise.Walking, func(e *exercise.Exercise) any { return e.Bass }},
		{title + key + bars + "groove: Brushes\n", exercise.Brush, func(e *exercise.Exercise) any { return e.Groove }},
		{title + key + bars + "click: count in\n", true, func(e *exercise.Exercise) any { return e.ClickEnds }},
		{title + key + bars + "meter: 7/8 3+2+2\n", "7/8 (3+2+2)", func(e *exercise.Exercise) any { return e.Meter.String() }},
		{title + "key: Am\n" + bars, "A minor", func(e *exercise.Exercise) any { return e.Key.String() }},
		{title + "key: A aeolian\n" + bars, "A minor", func(e *exercise.Exercise) any { return e.Key.String() }},
		{title + "key: B flat major\n" + bars, "B♭ major", func(e *exercise.Exercise) any { return e.Key.String() }},
		{title + key + bars + "guitar: {tuning: standard}\n", "E2 A2 D3 G3 B3 E4", tuning},
		{title + key + bars + "guitar: {tuning: drop D}\n", "D2 A2 D3 G3 B3 E4", tuning},
		{title + key + bars + "guitar: {tuning: EADGBE}\n", "E2 A2 D3 G3 B3 E4", tuning},
		{title + key + bars + "guitar: {tuning: e2 a2 d3 g3 b3 e4}\n", "E2 A2 D3 G3 B3 E4", tuning},
		{title + key + bars + "guitar:\n  tuning: E2, A2, D3, G3, B3, E4\n", "E2 A2 D3 G3 B3 E4", tuning},
		{title + key + bars + "guitar: {tuning: [E, A, D, G, B, E]}\n", "E2 A2 D3 G3 B3 E4", tuning},
		{title + key + bars + "guitar: {capo: none}\n", 0, func(e *exercise.Exercise) any { return e.Neck.Capo }},
		{title + key + bars + "guitar: {position: 5th}\n", "5", position},
		{title + key + bars + "guitar: {position: V}\n", "5", position},
		{title + key + bars + "guitar: {position: fret 5}\n", "5", position},
		{title + key + bars + "guitar: {tuning: E2-A2-D3-G3-B3-E4}\n", "E2 A2 D3 G3 B3 E4", tuning},
		{title + key + "chart: 'C7M | nc | C^7 | N.C |'\n", []string{"Cmaj7+1920", "N.C.+1920", "Cmaj7+1920", "N.C.+1920"}, func(e *exercise.Exercise) any { return symbols(e) }},
		{title + key + bars + "strum: down up down up\n", "DUDU", strum},
		{title + key + bars + "strum: Down, Up, Down, Up\n", "DUDU", strum},
		{title + key + bars + "strum: d – d u . u d u\n", "D-DU-UDU", strum},
		{title + key + bars + "strum: D—DU.UDU\n", "D-DU-UDU", strum},
		{title + key + bars + "strum: ↓ - ↓ ↑\n", "D-DU", strum},
		{title + key + "chart: '|: C | G :| x 3'\n", []int{0, 1, 0, 1, 0, 1}, played},
		{title + key + "chart: '|: C | G :| × 3 F |'\n", []int{0, 1, 0, 1, 0, 1, 2}, played},
		{title + key + "chart: '|: C | G | :|'\n", []int{0, 1, 0, 1}, played},
		{title + key + "chart: “C | G |”\n", []int{0, 1}, played},
	} {
		assert.Equal(t, c.want, c.got(parse(t, c.text)), c.text)
	}
}

func tuning(e *exercise.Exercise) any   { return e.Neck.Tuning.String() }
func position(e *exercise.Exercise) any { return e.Position.String() }
func density(e *exercise.Exercise) any  { return e.Line.Density }
func grid(e *exercise.Exercise) any     { return e.Line.Grid }
func tempos(e *exercise.Exercise) any   { return e.Tempos }
func feel(e *exercise.Exercise) any     { return e.Feel }
func strum(e *exercise.Exercise) any    { return e.Strum[0].String() }
func played(e *exercise.Exercise) any   { return chart.Unfold(e.Chart) }
