package score_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

// A repeat sign says that all is played as before. Where anything on the page is not,
// the bars are written out.
func TestBarsThatDifferAreNotWrittenAsARepeat(t *testing.T) {
	const bars = 4
	for what, change := range map[string]func(*score.Score){
		"another third":     func(s *score.Score) { s.Line[2].Notes = s.Line[3].Notes },
		"another place":     func(s *score.Score) { s.Line[2].Places.Upper.String++ },
		"a passing third":   func(s *score.Score) { s.Line[2].Role = score.Passing },
		"a shorter third":   func(s *score.Score) { s.Line[2].Length -= 240 },
		"a later third":     func(s *score.Score) { s.Line[2].Tick += 240; s.Line[2].Length -= 240 },
		"no third":          func(s *score.Score) { s.Line[2].Length = 0 },
		"a third held over": func(s *score.Score) { s.Line = append(s.Line[:3], s.Line[4:]...); s.Line[2].Length += 480 },
		"another chord":     func(s *score.Score) { s.Bars[2].Chords[0].Chord.Root.Letter = theory.D },
		"another bass":      func(s *score.Score) { s.Bars[2].Chords[0].Chord.Bass.Letter = theory.E },
		"no chord":          func(s *score.Score) { s.Bars[2].Chords[0].None = true },
		"a shorter chord":   func(s *score.Score) { s.Bars[2].Chords[0].Length -= 480 },
		"a later chord":     func(s *score.Score) { s.Bars[2].Chords[0].Tick += 480 },
		"one bass note more": func(s *score.Score) {
			s.Bass = append(s.Bass[:4], append([]score.BassNote{{Tick: s.Bars[2].Tick}}, s.Bass[4:]...)...)
		},
		"a later bass note":      func(s *score.Score) { s.Bass[4].Tick += 60 },
		"a shorter bass note":    func(s *score.Score) { s.Bass[4].Length -= 60 },
		"another bass note":      func(s *score.Score) { s.Bass[4].Pitch.Octave++ },
		"one bass note of pairs": func(s *score.Score) { s.Bass[7].Pitch.Octave++ },
	} {
		s := arrangetest.Score(t, "title: Twice\nkey: C major\nchart: '|: C | F :|'\nbass: root-fifth\nline: {density: 0%}\n")
		require.Len(t, s.Line, bars)
		require.Len(t, s.Bass, 2*bars)
		require.Len(t, s.WrittenBars(), 2)
		change(s)
		assert.Greater(t, len(s.WrittenBars()), 2, what)
	}
}

// What sounds in a bar is cut where the next third begins, at the bar line and at the
// end of the chart.
func TestABarIsDividedByWhatSoundsInIt(t *testing.T) {
	fourFour := meter.Meter{Beats: 4, Unit: 4}
	bar := fourFour.Bar()
	s := score.Score{
		Meter: fourFour,
		Bars:  []score.Bar{{Tick: 0}, {Tick: bar}, {Tick: 2 * bar}, {Tick: 3 * bar}},
		Line: []score.Third{
			{Tick: 0, Length: 480},            // and silence
			{Tick: 960, Length: 1920},         // on into the next bar, cut by what begins there
			{Tick: bar + 480, Length: 960},    // up to the last beat
			{Tick: bar + 1440, Length: 480},   // up to the bar line
			{Tick: 2*bar + 480, Length: 9999}, // over the end of the chart
		},
	}
	for i, want := range [][]score.Stretch{
		{{0, 480, 0, false, false}, {480, 960, -1, false, false}, {960, bar, 1, false, true}},
		{{0, 480, 1, true, false}, {480, 1440, 2, false, false}, {1440, bar, 3, false, false}},
		{{0, 480, -1, false, false}, {480, bar, 4, false, true}},
		{{0, bar, 4, true, false}},
	} {
		assert.Equal(t, want, s.Stretches(i), "bar %d", i+1)
	}
	s.Line = []score.Third{{Tick: bar, Length: 2 * bar}}
	for i, want := range [][]score.Stretch{
		{{0, bar, -1, false, false}}, {{0, bar, 0, false, true}}, {{0, bar, 0, true, false}}, {{0, bar, -1, false, false}},
	} {
		assert.Equal(t, want, s.Stretches(i), "bar %d of a long third", i+1)
	}
}

func TestABarThatComesAgainIsLabelledWithTheTime(t *testing.T) {
	for time, want := range map[int]string{
		1: "5", 2: "5 (2nd time)", 3: "5 (3rd time)", 4: "5 (4th time)", 11: "5 (11th time)", 12: "5 (12th time)",
		13: "5 (13th time)", 21: "5 (21st time)", 22: "5 (22nd time)", 100: "5 (100th time)", 111: "5 (111th time)", 101: "5 (101st time)",
	} {
		assert.Equal(t, want, score.BarLabel(5, time))
	}
}

func TestAnEndingIsNamedByItsTimes(t *testing.T) {
	for _, row := range []struct {
		want  string
		times []int
	}{{"1.", []int{1}}, {"1. 2.", []int{1, 2}}, {"2.–4.", []int{2, 3, 4}}} {
		assert.Equal(t, row.want, (&score.Ending{Times: row.times}).String())
	}
}
