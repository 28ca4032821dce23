package line_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory/line"
	"thirdwise/theory/theorytest"
)

// A repeated part has one line, but for the way from its last arrival.
func TestARepeatedPartHasOneLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key := theorytest.Key(t, rapid.SampledFrom([]string{"C major", "A minor", "E♭ major"}).Draw(t, "key"))
		triads := key.Triads()
		draw := func(n int, name string) (chords []string) {
			for range n {
				chords = append(chords, triads[rapid.SampledFrom([]int{0, 1, 3, 4, 5}).Draw(t, name)].ASCII())
			}
			return chords
		}
		before := draw(rapid.IntRange(0, 2).Draw(t, "before"), "chord before")
		part := draw(rapid.IntRange(1, 6).Draw(t, "part"), "chord")
		times := rapid.IntRange(2, 3).Draw(t, "times")
		after := draw(rapid.IntRange(0, 2).Draw(t, "after"), "chord after")
		chords := before
		for range times {
			chords = append(chords, part...)
		}
		segments := segmentsOf(t, key, bar, append(chords, after...)...)
		for i := range segments {
			if at := i - len(before); at >= 0 && at < times*len(part) {
				segments[i].Bar = len(before) + at%len(part)
			}
		}
		m := maker(key, rapid.IntRange(0, 100).Draw(t, "density"), 240)
		m.High = staff("E5")
		m.Closed = rapid.Bool().Draw(t, "closed")
		m.Repeats = []line.RepeatedPart{{First: len(before), Length: len(part), Times: times}}
		steps, err := m.Line(segments)
		require.NoError(t, err)
		inside := make([][]string, times)
		for _, step := range steps {
			at := step.Segment - len(before)
			if at < 0 || at >= times*len(part) {
				continue
			}
			if time := at / len(part); at%len(part)+1 < len(part) || step.Role == line.Arrival {
				inside[time] = append(inside[time], fmt.Sprint(step.Tick-time*len(part)*bar, step.Notes))
			}
		}
		for _, again := range inside[1:] {
			require.Equal(t, inside[0], again)
		}
	})
}
