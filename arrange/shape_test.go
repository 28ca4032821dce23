package arrange_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory/line/contour"
)

// A shape counts how a line goes: what a singer would do, and what only a machine does.
type shape struct {
	moves, turns, skips int
	back                int // skips that go back over a skip before them
	ways, direct        int // ways of two thirds or more between arrivals; those that keep their direction
	arrivals, byStep    int
	phrases, wide       int // phrases of four bars; those that go farther than an octave
}

func (s *shape) add(o shape) {
	s.moves += o.moves
	s.turns += o.turns
	s.skips += o.skips
	s.back += o.back
	s.ways += o.ways
	s.direct += o.direct
	s.arrivals += o.arrivals
	s.byStep += o.byStep
	s.phrases += o.phrases
	s.wide += o.wide
}

func (s shape) String() string {
	return fmt.Sprintf("of moves turn %s, skip %s, skip back %s; ways direct %s; arrivals by step %s; phrases wider than an octave %s",
		perCent(s.turns, s.moves), perCent(s.skips, s.moves), perCent(s.back, s.moves),
		perCent(s.direct, s.ways), perCent(s.byStep, s.arrivals), perCent(s.wide, s.phrases))
}

// shapeOf counts over a score's line. Behind a rest or a long third the line begins
// afresh, so that it neither turns nor goes back.
func shapeOf(sc *score.Score) (s shape) {
	var heading contour.Heading
	var skipped, upbeats int // the last move, where it was a skip; thirds since the last arrival
	direct := true
	for i, third := range sc.Line[1:] {
		before := sc.Line[i]
		afresh := before.Tick+before.Length < third.Tick || before.Length > sc.Meter.Beat()
		by := third.Notes.Staff() - before.Notes.Staff()
		if heading = heading.Turn(by); afresh {
			heading = contour.Still
		}
		turned := by != 0 && heading.Turned()
		s.moves++
		s.turns += countIf(turned)
		if max(by, -by) > 1 {
			s.skips++
			s.back += countIf(!afresh && skipped*by < 0)
			skipped = by
		} else {
			skipped = 0
		}
		direct = direct && (upbeats == 0 || by != 0 && !turned)
		if third.Role != score.Arrival {
			upbeats++
			continue
		}
		s.arrivals++
		s.byStep += countIf(max(by, -by) == 1)
		if upbeats > 1 {
			s.ways++
			s.direct += countIf(direct)
		}
		upbeats, direct = 0, true
	}
	for first := 0; first < len(sc.Bars); first += 4 {
		lowest, highest := 1000, 0
		for _, third := range sc.Line {
			if bar := third.Tick / sc.Meter.Bar(); bar >= first && bar < first+4 {
				lowest, highest = min(lowest, third.Notes.Staff()), max(highest, third.Notes.Staff())
			}
		}
		s.phrases++
		s.wide += countIf(highest-lowest > 7)
	}
	return s
}

func countIf(so bool) int {
	if so {
		return 1
	}
	return 0
}

// A line goes as those do that are written by hand: mostly by step and on in its
// direction, a skip filled and not taken back, within a voice's octave. They have the
// density of those.
func TestLinesGoAsThoseWrittenByHand(t *testing.T) {
	var found, byHand shape
	for _, c := range measuredCharts {
		text := fmt.Sprintf("title: Measured\nkey: %s\nchart: '%s'\nline: {density: 33%%}\n%s\n", c.key, c.chart, c.settings)
		found.add(shapeOf(arrangetest.Score(t, text)))
	}
	for _, e := range writtenByHand(t) {
		byHand.add(shapeOf(arrangetest.Arrange(t, e)))
	}
	t.Log("found:   ", found)
	t.Log("by hand: ", byHand)
	for name, s := range map[string]shape{"found": found, "by hand": byHand} {
		require.LessOrEqual(t, 100*s.turns, 14*s.moves, "%s: turns", name)
		require.LessOrEqual(t, 100*s.skips, 25*s.moves, "%s: skips", name)
		require.LessOrEqual(t, 100*s.back, 2*s.moves, "%s: skips taken back", name)
		require.GreaterOrEqual(t, 100*s.direct, 48*s.ways, "%s: ways that keep their direction", name)
		require.GreaterOrEqual(t, 100*s.byStep, 80*s.arrivals, "%s: arrivals by step", name)
		require.LessOrEqual(t, 100*s.wide, 4*s.phrases, "%s: wide phrases", name)
	}
}

// A listener knows a section by its rhythm (common practice): where it comes again, as in
// a song of the form AABA, so does that, bar for bar up to its last.
func TestASectionThatComesAgainHasItsRhythmAgain(t *testing.T) {
	const a, b = "F | Dm | Gm | C7 | F | D7 | Gm | C7", "Bb | G7 | C7 | F | Bb | G7 | C7 | C7"
	for _, meter := range []string{"4/4", "3/4", "6/8"} {
		s := arrangetest.Score(t, fmt.Sprintf("title: Form\nkey: F major\nmeter: %s\nchart: '[A] | %s | [A] | %s | [B] | %s | [A] | %s |'\n", meter, a, a, b, a))
		bars := make([]string, len(s.Bars))
		for _, third := range s.Line {
			bars[third.Tick/s.Meter.Bar()] += fmt.Sprintf(" %d", third.Tick%s.Meter.Bar())
		}
		require.Equal(t, bars[:7], bars[8:15], meter)
		require.Equal(t, bars[:7], bars[24:31], meter)
		require.NotEqual(t, bars[:7], bars[16:23], meter)
	}
}

// On the whole neck a line lies where a student plays, around the middle of what is below
// the octave's fret, and not halfway up to the last fret (common practice: beyond the
// twelfth the body of many guitars is in the way). A compass overrules that.
func TestALineOnTheWholeNeckLiesBelowTheOctave(t *testing.T) {
	for _, key := range []string{"C major", "E major", "A major", "F major", "G minor", "Bb major"} {
		for _, more := range []string{"", ", capo: 3"} {
			s := arrangetest.Score(t, fmt.Sprintf("title: Whole\nkey: %s\nchart: '| 1 | 4 | 5 | 1 | 6 | 4 | 5 | 1 |'\nguitar: {position: free%s}\n", key, more))
			beyond, sum := 0, 0
			for _, third := range s.Line {
				sum += third.Notes.Upper.MIDI()
				beyond += countIf(third.Notes.Upper.MIDI() > 76) // E5, the twelfth fret of the highest string
			}
			require.LessOrEqual(t, 16*beyond, len(s.Line), "%s%s", key, more)
			require.Less(t, sum, 69*len(s.Line), "%s%s: A4 on the average", key, more)
		}
	}
	beyond, all := 0, 0
	for _, c := range slices.Concat(measuredCharts, colouredCharts) {
		s := arrangetest.Score(t, fmt.Sprintf("title: Whole\nkey: %s\nchart: '%s'\nguitar: {position: free}\n%s\n", c.key, c.chart, c.settings))
		all += len(s.Line)
		for _, third := range s.Line {
			beyond += countIf(third.Notes.Upper.MIDI() > 76)
		}
	}
	t.Logf("%d of %d thirds beyond the twelfth fret", beyond, all)
	require.LessOrEqual(t, 300*beyond, all)
	high := arrangetest.Score(t, "title: High\nkey: C major\nchart: '| C | F | G | C |'\nline: {low: C5}\nguitar: {position: free}\n")
	require.GreaterOrEqual(t, high.Line[0].Notes.Lower.MIDI(), 72)
}

// The hand moves where the line rests or holds, as far as the notes allow (common
// practice), and so it does in three shifts of four.
func TestTheHandMovesWhileTheLineBreathes(t *testing.T) {
	shifts, hurried := 0, 0
	for _, c := range measuredCharts {
		s := arrangetest.Score(t, fmt.Sprintf("title: Moves\nkey: %s\nchart: '%s'\nguitar: {position: free}\n%s\n", c.key, c.chart, c.settings))
		for i, third := range s.Line[1:] {
			before := s.Line[i]
			if third.Hand == before.Hand {
				continue
			}
			shifts++
			hurried += countIf(before.Tick+before.Length == third.Tick && before.Length <= s.Meter.Beat())
		}
	}
	t.Logf("%d shifts, %d of them while the line goes on", shifts, hurried)
	require.NotZero(t, shifts)
	require.LessOrEqual(t, 4*hurried, shifts)
}
