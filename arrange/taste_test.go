package arrange_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory/neck"
)

// Lines are as near to those that a teacher has written as they have been: to those to
// which the costs are fitted, and to those that only check them.
func TestLinesAreNearToThoseWrittenByHand(t *testing.T) {
	for name, c := range map[string]struct {
		lines                       string
		rhythm, arrivals, direction int // per cent that do not agree, at most
	}{
		"fitted": {fittedLines, 17, 32, 20},
		"unseen": {unseenLines, 20, 40, 28},
	} {
		var sum distance
		for _, e := range handwritten(t, c.lines) {
			sum.add(distanceOf(arrangetest.Arrange(t, e), found(t, e)))
		}
		t.Logf("%s: rhythm %s, arrivals %s, direction %s", name,
			perCent(sum.rhythm, sum.slots), perCent(sum.arrivals, sum.chords), perCent(sum.directions, sum.ways))
		require.LessOrEqual(t, 100*sum.rhythm, c.rhythm*sum.slots, "%s: rhythm", name)
		require.LessOrEqual(t, 100*sum.arrivals, c.arrivals*sum.chords, "%s: arrivals", name)
		require.LessOrEqual(t, 100*sum.directions, c.direction*sum.ways, "%s: direction", name)
	}
}

func (d *distance) add(o distance) {
	d.rhythm += o.rhythm
	d.slots += o.slots
	d.arrivals += o.arrivals
	d.chords += o.chords
	d.directions += o.directions
	d.ways += o.ways
}

// A likeness counts how bars say again what the bar before them has said: the moves that
// begin at the same places in both, those that go the same way in most of a bar, or the
// other way in most of it, and bars whose every such move is the same.
type likeness struct{ bars, same, moves, alike int }

func (l likeness) String() string {
	return fmt.Sprintf("%d bars, the same elsewhere %s; of moves alike %s", l.bars, perCent(l.same, l.bars), perCent(l.alike, l.moves))
}

// add counts over the bars of a score's phrases of four that have nearly the rhythm of
// the one before them.
func (l *likeness) add(s *score.Score) {
	moves := make([]map[int]int, len(s.Bars)) // of each bar, by where they begin
	for i := range moves {
		moves[i] = map[int]int{}
	}
	for i, third := range s.Line[:len(s.Line)-1] {
		moves[third.Tick/s.Meter.Bar()][third.Tick%s.Meter.Bar()] = s.Line[i+1].Notes.Staff() - third.Notes.Staff()
	}
	for i := 1; i < len(moves); i++ {
		both, with, against, same := 0, 0, 0, 0
		for at, by := range moves[i] {
			if before, ok := moves[i-1][at]; ok {
				both++
				with += countIf(by*before > 0 || by == before)
				against += countIf(by*before < 0)
				same += countIf(by == before)
			}
		}
		if i%4 == 0 || both < 3 || both+1 < max(len(moves[i]), len(moves[i-1])) {
			continue
		}
		l.bars++
		l.same += countIf(same == both)
		l.moves += both
		l.alike += max(with, against)
	}
}

// A bar answers the one before it: it goes where that went or upside down, as nearly as
// in lines that a teacher has written.
func TestBarsSayAgainWhatWasSaid(t *testing.T) {
	var all, byHand likeness
	for _, density := range []int{33, 50} {
		for _, c := range measuredCharts {
			all.add(arrangetest.Score(t, fmt.Sprintf("title: Measured\nkey: %s\nchart: '%s'\nline: {density: %d%%}\n%s\n", c.key, c.chart, density, c.settings)))
		}
	}
	for _, e := range writtenByHand(t) {
		byHand.add(arrangetest.Arrange(t, e))
	}
	t.Log("found:   ", all)
	t.Log("by hand: ", byHand)
	for name, l := range map[string]likeness{"found": all, "by hand": byHand} {
		require.GreaterOrEqual(t, 100*l.alike, 73*l.moves, "%s: moves", name)
		require.GreaterOrEqual(t, 100*l.same, 3*l.bars, "%s: bars", name)
	}
}

// A later variant is a line that a teacher would hand out, too: it goes by step where it
// can, as the first does.
func TestVariantsGoByStep(t *testing.T) {
	for _, variant := range []int{3, 4, 8} {
		var all shape
		for _, c := range measuredCharts {
			all.add(shapeOf(arrangetest.Score(t, fmt.Sprintf("title: Measured\nkey: %s\nchart: '%s'\nline: {variant: %d}\n%s\n", c.key, c.chart, variant, c.settings))))
		}
		t.Logf("%d: %s", variant, all)
		require.LessOrEqual(t, 100*all.skips, 31*all.moves, "variant %d: skips", variant)
		require.LessOrEqual(t, 100*all.back, 3*all.moves, "variant %d: skips taken back", variant)
		require.LessOrEqual(t, 100*all.turns, 20*all.moves, "variant %d: turns", variant)
	}
}

// The hand climbs the neck in steps that it can feel: none of them passes over a fret that
// neither its old place nor its new one holds (common practice).
func TestALadderOverTheNeckShiftsByAHandAtMost(t *testing.T) {
	for _, key := range []string{"C major", "G major", "D major", "A major", "E major", "F major", "Bb major", "Eb major", "Ab major", "A minor", "E minor", "C minor"} {
		s := arrangetest.Score(t, "title: Climb\nkey: "+key+"\nladder: free\n")
		for i, third := range s.Line[1:] {
			frets := third.Hand - s.Line[i].Hand
			require.LessOrEqual(t, max(frets, -frets), neck.Span, "%s: to %s", key, third.Notes)
		}
	}
}
