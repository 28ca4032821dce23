package arrange_test

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
)

// fittedLines and unseenLines are the exercises whose every bar a teacher has written:
// those to which the costs were fitted, and those that only check them.
var (
	fittedLines = filepath.Join("..", "testdata", "lines", "*.yaml")
	unseenLines = filepath.Join("..", "testdata", "lines", "unseen", "*.yaml")
)

// handwritten returns exercises by name.
func handwritten(t require.TestingT, pattern string) map[string]*exercise.Exercise {
	files, err := filepath.Glob(pattern)
	require.NoError(t, err)
	require.NotEmpty(t, files)
	all := map[string]*exercise.Exercise{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		all[strings.TrimSuffix(filepath.Base(file), ".yaml")] = arrangetest.Parse(t, string(text))
	}
	return all
}

// writtenByHand returns them all.
func writtenByHand(t require.TestingT) map[string]*exercise.Exercise {
	all := handwritten(t, fittedLines)
	maps.Copy(all, handwritten(t, unseenLines))
	return all
}

// found returns the score of the line that is found where nothing of it is written,
// at the same density.
func found(t require.TestingT, e *exercise.Exercise) *score.Score {
	free := *e
	free.Line.Own = nil
	return arrangetest.Arrange(t, &free)
}

// A distance tells how far a line is from another over the same chart: how many of
// how many do not agree.
type distance struct{ rhythm, slots, arrivals, chords, directions, ways int }

func distanceOf(a, b *score.Score) (d distance) {
	at := func(s *score.Score) (ticks map[int]bool, arrivals []score.Third) {
		ticks = map[int]bool{}
		for _, third := range s.Line {
			ticks[third.Tick] = true
			if third.Role == score.Arrival {
				arrivals = append(arrivals, third)
			}
		}
		return ticks, arrivals
	}
	aTicks, aArrivals := at(a)
	bTicks, bArrivals := at(b)
	for tick := 0; tick < a.Length(); tick += a.Grid.Ticks() {
		d.slots++
		if aTicks[tick] != bTicks[tick] {
			d.rhythm++
		}
	}
	for i := range min(len(aArrivals), len(bArrivals)) {
		d.chords++
		if aArrivals[i].Notes != bArrivals[i].Notes {
			d.arrivals++
		}
		if i == 0 {
			continue
		}
		d.ways++
		if up := aArrivals[i].Notes.Staff() > aArrivals[i-1].Notes.Staff(); up != (bArrivals[i].Notes.Staff() > bArrivals[i-1].Notes.Staff()) {
			d.directions++
		}
	}
	return d
}

// BenchmarkDistance tells how far the lines that are found are from those that a
// teacher has written, in per cent of slots, arrivals and ways between them.
func BenchmarkDistance(b *testing.B) {
	for name, pattern := range map[string]string{"fitted": fittedLines, "unseen": unseenLines} {
		b.Run(name, func(b *testing.B) {
			var sum distance
			for range b.N {
				sum = distance{}
				for _, e := range handwritten(b, pattern) {
					d := distanceOf(arrangetest.Arrange(b, e), found(b, e))
					sum.rhythm += d.rhythm
					sum.slots += d.slots
					sum.arrivals += d.arrivals
					sum.chords += d.chords
					sum.directions += d.directions
					sum.ways += d.ways
				}
			}
			b.ReportMetric(100*float64(sum.rhythm)/float64(sum.slots), "%rhythm")
			b.ReportMetric(100*float64(sum.arrivals)/float64(sum.chords), "%arrivals")
			b.ReportMetric(100*float64(sum.directions)/float64(sum.ways), "%direction")
		})
	}
}

// What is asked of a line that is found holds for those that a teacher has written:
// else it would be asked for the wrong thing.
func TestHandwrittenLinesKeepTheMeasures(t *testing.T) {
	var all measures
	for name, e := range writtenByHand(t) {
		m := measure(arrangetest.Arrange(t, e))
		require.Zero(t, m.noThirds, name)
		require.Zero(t, m.foreignStrong, name)
		require.Zero(t, m.augmented, name)
		all.add(m)
	}
	t.Log(all)
	require.LessOrEqual(t, 100*all.foreignBeat, 5*all.onBeat)
	require.LessOrEqual(t, 100*all.repeats, 5*all.movers)
	require.Zero(t, all.notHome)
	require.GreaterOrEqual(t, 100*all.breaths, 75*all.phrases)
}
