package arrange_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange"
	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

func ExampleArrange() {
	e, err := exercise.Parse("example.yaml", []byte("title: Two Doors\nkey: G major\nchart: '| G | Em |'\nline: {density: 0%}\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	s, _, err := arrange.Arrange(e)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, bar := range s.Bars {
		for _, span := range bar.Chords {
			fmt.Println(span.Tick, span.Chord, span.Numeral, span.Grip)
		}
	}
	// Output:
	// 0 G I 320003
	// 1920 Em vi 022000
}

const anyMeter = "2/4 3/4 4/4 5/4 2/2 6/8 9/8 12/8"

// anyExercise draws the text of an exercise of diatonic chords.
func anyExercise(t *rapid.T) string {
	mode := rapid.SampledFrom(theory.Modes()).Draw(t, "mode")
	tonic := rapid.SampledFrom([]string{"C", "G", "D", "A", "E", "B", "F", "B♭", "E♭", "A♭", "F♯"}).Draw(t, "tonic")
	key := tonic + " " + mode.String()
	if _, err := theory.ParseKey(key); err != nil {
		key = "C " + mode.String()
	}
	signature := rapid.SampledFrom(strings.Fields(anyMeter)).Draw(t, "meter")
	grids := []string{"quarters", "eighths", "triplets", "sixteenths"}
	if strings.HasSuffix(signature, "/8") {
		grids = []string{"eighths", "sixteenths"}
	}
	shares := map[string][]int{"2/4": {1, 2}, "3/4": {1, 3}, "4/4": {1, 2, 3, 4}, "5/4": {1, 5}, "2/2": {1, 2}, "6/8": {1, 2}, "9/8": {1, 3}, "12/8": {1, 2, 4}}
	var chart strings.Builder
	for range rapid.IntRange(1, 6).Draw(t, "bars") {
		chart.WriteString("|")
		for range rapid.SampledFrom(shares[signature]).Draw(t, "shares") {
			chart.WriteString(" " + rapid.SampledFrom(strings.Fields("1 2 3 4 5 6 7 I IV V V7/V N.C.")).Draw(t, "chord"))
		}
		chart.WriteString(" ")
	}
	return fmt.Sprintf("title: Any\nkey: %s\nmeter: %s\nchart: '%s|'\npasses: %d\nline: {density: %d%%, grid: %s}\nguitar: {position: %s, capo: %d}\n",
		key, signature, chart.String(),
		rapid.IntRange(1, 3).Draw(t, "passes"),
		rapid.IntRange(0, 100).Draw(t, "density"),
		rapid.SampledFrom(grids).Draw(t, "grid"),
		rapid.SampledFrom([]string{"open", "1", "5", "9", "free"}).Draw(t, "position"),
		rapid.IntRange(0, 4).Draw(t, "capo"),
	)
}

// A score is the same when it is made again of its line alone.
func TestAScoreIsTheSameWhenItIsArrangedAgain(t *testing.T) {
	same := func(t require.TestingT, e *exercise.Exercise) {
		want, _, err := arrange.Arrange(e)
		if err != nil {
			return
		}
		got, err := arrange.Again(e, want.Line, want.Position)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	for _, more := range []string{"", "bass: walking\ngroove: shaker\n", "line: {variant: 3}\nguitar: {position: free}\n", "line: {own: {1: 'E4 - x x F4 - x x'}}\n"} {
		same(t, arrangetest.Parse(t, "title: Any\nkey: C\nchart: '[A] |: C | Am G |1. F :|2. G |'\n"+more))
	}
	same(t, arrangetest.Parse(t, "title: Any\nkey: C\nladder: position\nladder-chords: triads\n"))
	rapid.Check(t, func(t *rapid.T) { same(t, arrangetest.Parse(t, anyExercise(t))) })
}

// Everything that a score promises, over random exercises.
func TestScoreKeepsItsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := anyExercise(t)
		s, _, err := arrange.Arrange(arrangetest.Parse(t, text))
		if err != nil {
			var list source.Findings
			require.ErrorAs(t, err, &list, "an exercise that cannot be played is a mistake with a place")
			require.Positive(t, list[0].Line)
			t.Skip("cannot be played in this position")
		}
		again, _, err := arrange.Arrange(arrangetest.Parse(t, text))
		require.NoError(t, err)
		require.Equal(t, s, again, "the same exercise gives the same score")
		checkScore(t, s)
		checkPerformance(t, s, s.Perform(90))
	})
}

func TestScoresOfTheExercises(t *testing.T) {
	for name, s := range arrangetest.Scores(t) {
		t.Run(name, func(t *testing.T) {
			checkScore(t, s)
			for _, tempo := range s.Tempos {
				checkPerformance(t, s, s.Perform(tempo))
			}
		})
	}
}

func checkScore(t require.TestingT, s *score.Score) {
	require.NotEqual(t, neck.Lowest, s.Position)
	next := 0 // of the line
	for i, bar := range s.Bars {
		require.Equal(t, i*s.Meter.Bar(), bar.Tick)
		tick := bar.Tick
		for _, span := range bar.Chords {
			require.Equal(t, tick, span.Tick, "chords fill the bar")
			tick += span.Length
			if span.None {
				continue
			}
			require.Equal(t, span.Tick, s.Line[next].Tick, "an arrival on the chord's first tick")
			begins := s.Line[next].Notes
			if span.Chord.Contains(begins.Lower.Tone) && span.Chord.Contains(begins.Upper.Tone) { // a ladder's need not
				require.Equal(t, score.Arrival, s.Line[next].Role)
			}
			for first := next; next < len(s.Line) && s.Line[next].Tick < tick; next++ {
				third := s.Line[next]
				require.True(t, next == first || third.Role != score.Arrival)
				require.True(t, span.Scale.Contains(third.Notes.Lower.Tone) && span.Scale.Contains(third.Notes.Upper.Tone))
				require.Equal(t, third.Notes.Lower.MIDI(), s.Neck.Key(third.Places.Lower))
				require.Equal(t, third.Notes.Upper.MIDI(), s.Neck.Key(third.Places.Upper))
				require.Equal(t, third.Places.Upper.String+1, third.Places.Lower.String, "neighbouring strings")
				if s.Position == neck.Open {
					require.LessOrEqual(t, max(third.Places.Lower.Fret, third.Places.Upper.Fret), neck.Span)
				}
				if fret, ok := s.Position.Fret(); ok {
					for _, p := range []neck.Place{third.Places.Lower, third.Places.Upper} {
						require.GreaterOrEqual(t, p.Fret, fret-1)
						require.LessOrEqual(t, p.Fret, fret+neck.Span+1)
					}
				}
			}
		}
		require.Equal(t, bar.Tick+s.Meter.Bar(), tick)
	}
	require.Equal(t, len(s.Line), next)
	for i, strum := range s.Strums {
		require.Positive(t, strum.Length)
		require.NotEmpty(t, strum.Notes)
		if i > 0 {
			require.GreaterOrEqual(t, strum.Tick, s.Strums[i-1].Tick+s.Strums[i-1].Length)
		}
		for _, n := range strum.Notes {
			require.Equal(t, n.Pitch.MIDI(), s.Neck.Key(n.Place))
		}
	}
}

// checkPerformance checks that no string sounds two notes at once, that the
// click is on every beat, and that every pass has the line.
func checkPerformance(t require.TestingT, s *score.Score, p *score.Performance) {
	bars := s.CountIn + s.Passes*len(s.Bars)
	if s.Pickup { // it is heard once
		bars -= s.Passes - 1
	}
	silent := s.Meter.Bar() // half a second, in a bar of its own
	require.Equal(t, silent+bars*s.Meter.Bar(), p.Length)
	require.InDelta(t, 22_050, p.Sample(silent, 44_100), 1)
	for i, stroke := range p.Click {
		require.Equal(t, silent+i*s.Meter.UnitTicks(), stroke.Tick)
		require.Equal(t, stroke.Tick%s.Meter.Bar() == 0, stroke.Accent)
	}
	require.Len(t, p.Click, (p.Length-silent)/s.Meter.UnitTicks())
	ends := map[string]int{}
	thirds := map[int]int{} // by pass
	for i, n := range p.Notes {
		require.Positive(t, n.Length)
		// A stroke begins before its beat, by less than 30 ms.
		require.GreaterOrEqual(t, p.Sample(n.Tick, 1000), p.Sample(silent+s.CountIn*s.Meter.Bar(), 1000)-30)
		if i > 0 {
			require.GreaterOrEqual(t, n.Tick, p.Notes[i-1].Tick)
		}
		voice := fmt.Sprint(n.Part)
		if n.Part == score.Chords {
			voice += fmt.Sprint(" string ", n.String)
		}
		require.GreaterOrEqual(t, n.Tick, ends[voice], "voice %s", voice)
		ends[voice] = n.Tick + n.Length
		if n.Part == score.GuideUpper {
			thirds[n.Pass]++
		}
	}
	back, first := 0, 0 // thirds that lead back, and in the pickup
	for _, third := range s.Line {
		if third.LeadsBack {
			back++
		}
		if s.Pickup && third.Tick < s.Meter.Bar() {
			first++
		}
	}
	for pass := 1; pass <= s.Passes; pass++ {
		want := len(s.Line)
		if pass == s.Passes {
			want -= back
		}
		if pass > 1 {
			want -= first
		}
		require.Equal(t, want, thirds[pass])
	}
}

// Swing puts the off-beat eighth on the last third of the beat (common practice)
// and leaves the written rhythm straight.
func TestSwingMovesWhatPlays(t *testing.T) {
	text := "title: Gate\nkey: F major\nchart: '| F | C7 |'\nfeel: swing\nline: {density: 100%}\npasses: 1\n"
	s := arrangetest.Score(t, text)
	var written, played []int
	for _, third := range s.Line[:8] {
		written = append(written, third.Tick)
	}
	for _, n := range s.Perform(100).Notes {
		if n.Part == score.GuideLower && n.Tick < 3*1920 {
			played = append(played, n.Tick-2*1920)
		}
	}
	assert.Equal(t, []int{0, 240, 480, 720, 960, 1200, 1440, 1680}, written)
	assert.Equal(t, []int{0, 320, 480, 800, 960, 1280, 1440, 1760}, played)
}

func TestUnplayableLineSaysWhichBarAndWhy(t *testing.T) {
	_, _, err := arrange.Arrange(arrangetest.Parse(t, "title: High\nkey: C major\nchart: '| C | F | G | C |'\nline: {low: C6, high: C6}\nguitar: {position: open}\n"))
	var list source.Findings
	require.ErrorAs(t, err, &list)
	assert.Equal(t, 3, list[0].Line)
	assert.Contains(t, list[0].Message, "bar 1")
	assert.Contains(t, list[0].Message, "open position")
	assert.NotEmpty(t, list[0].Remedy)
}

func TestWhereNoPositionIsAskedForNoneIsBlamed(t *testing.T) {
	_, _, err := arrange.Arrange(arrangetest.Parse(t, "title: High\nkey: C major\nchart: '| C |'\nline: {low: C8}\n"))
	var list source.Findings
	require.ErrorAs(t, err, &list)
	assert.Contains(t, list[0].Message, "no line can be played anywhere on the neck within the compass from C8 up")
	assert.Contains(t, list[0].Remedy, "widen the compass")
}

func TestFindingsTellOfAlteredChordsAndExtremeTempos(t *testing.T) {
	_, findings, err := arrange.Arrange(arrangetest.Parse(t, "title: Turn\nkey: A minor\nchart: '| Am | E7 | B7 | Asus4 | Am |'\ntempos: [25, 320]\n"))
	require.NoError(t, err)
	var messages []string
	for _, f := range findings {
		messages = append(messages, f.Severity.String()+": "+f.Message)
	}
	assert.Equal(t, []string{
		"note: E7 belongs to another form of A minor; while it sounds, the line has G♯ for G",
		"note: B7 is outside A minor; while it sounds, the line has D♯ for D, F♯ for F",
		"note: Asus4 has no third of its own; the line arrives on one of the key's that goes with it",
		"warning: 25 beats per minute is very slow",
		"warning: 320 beats per minute is very fast",
	}, messages)
}

// What is said of a chord or of a stretched third is said once, where it first
// stands.
func TestFindingsAreGivenOnce(t *testing.T) {
	_, findings, err := arrange.Arrange(arrangetest.Parse(t, "title: Turn\nkey: C major\nchart: '| C | D7 | C | D7 |: D7 :| x5 |'\nguitar: {position: 1}\n"))
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, f := range findings {
		_, message, found := strings.Cut(f.Message, ": ") // a bar's number
		if !found {
			message = f.Message
		}
		assert.False(t, seen[message], message)
		seen[message] = true
	}
	assert.True(t, seen["D7 is outside C major; while it sounds, the line has F♯ for F"])
}

// Within a compass of two thirds a line can only alternate; where it has room it does
// not.
func TestAlternationIsWarnedAbout(t *testing.T) {
	const text = "title: Narrow\nkey: C major\nchart: '| C | Dm | C | Dm |'\n"
	warned := func(e *exercise.Exercise) (remedy string, found bool) {
		_, findings, err := arrange.Arrange(e)
		require.NoError(t, err)
		for _, f := range findings {
			if strings.Contains(f.Message, "the line alternates between") {
				return f.Remedy, true
			}
		}
		return "", false
	}
	remedy, found := warned(arrangetest.Parse(t, text+"line: {density: 100%, low: C4, high: D4}\n"))
	assert.True(t, found)
	assert.Equal(t, "widen the compass (low and high), or ask for a lower density", remedy)
	_, found = warned(arrangetest.Parse(t, text))
	assert.False(t, found)
	for name, e := range arrangetest.Exercises(t) {
		_, found := warned(e)
		assert.False(t, found, name)
	}
}

func TestTransposedExerciseHasTheSameNumerals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := arrangetest.Parse(t, "title: Move\nkey: D minor\nchart: '| Dm | Gm | B♭ | A7 | E7b9 | C#dim7 |'\nguitar: {position: free}\n")
		key, err := e.TargetKey(rapid.SampledFrom(strings.Fields("C C♯ D E♭ E F F♯ G A♭ A B♭ B G♯")).Draw(t, "key"))
		if err != nil {
			t.Skip(err)
		}
		before, _, err := arrange.Arrange(e)
		require.NoError(t, err)
		after, _, err := arrange.Arrange(exercise.Transpose(e, key))
		require.NoError(t, err)
		for i, bar := range before.Bars {
			for j, span := range bar.Chords {
				require.Equal(t, span.Numeral, after.Bars[i].Chords[j].Numeral)
			}
		}
	})
}

func TestTargetKeyKeepsTheMode(t *testing.T) {
	e := arrangetest.Parse(t, "title: Move\nkey: D minor\nchart: '| Dm |'\n")
	key, err := e.TargetKey("E")
	require.NoError(t, err)
	assert.Equal(t, "E minor", key.String())
	_, err = e.TargetKey("E major")
	assert.Error(t, err)
}

func BenchmarkArrange(b *testing.B) {
	text := "title: Long\nkey: C major\nchart: '" + strings.Repeat("| C | Am | Dm | G7 ", 64) + "|'\n"
	e := arrangetest.Parse(b, text)
	for b.Loop() {
		if _, _, err := arrange.Arrange(e); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPerform(b *testing.B) {
	s := arrangetest.Score(b, "title: Long\nkey: C major\nchart: '"+strings.Repeat("| C | Am | Dm | G7 ", 64)+"|'\n")
	for b.Loop() {
		s.Perform(90)
	}
}
