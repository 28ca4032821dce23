package line_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory/chordscale"
	"thirdwise/theory/line"
	"thirdwise/theory/theorytest"
)

// A repeated part has one line, but for the way from its last arrival: with endings of
// one, two or more bars or without, with a rest where an ending would be, behind it or
// at its end, and with sections in it.
func TestARepeatedPartHasOneLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key := theorytest.Key(t, rapid.SampledFrom([]string{"C major", "A minor", "E♭ major"}).Draw(t, "key"))
		triads := key.Triads()
		var segments []line.Segment
		tick, written := 0, 0
		chord := func(length, section int) {
			c := triads[rapid.SampledFrom([]int{0, 1, 3, 4, 5}).Draw(t, "degree")].Chord
			segments = append(segments, line.Segment{
				Start: tick, End: tick + length, Bar: written, Section: section, Chord: c, Scale: chordscale.Over(key, c),
			})
			tick += length
		}
		bars := func(most int, name string) (played int) {
			for range rapid.IntRange(0, most).Draw(t, name) {
				switch rapid.SampledFrom([]string{"chord", "chord", "chord", "two chords", "section", "rest"}).Draw(t, "bar") {
				case "chord":
					chord(bar, 0)
				case "two chords":
					chord(bar/2, 0)
					chord(bar/2, 0)
				case "section":
					chord(bar, 1)
				case "rest":
					tick += bar
				}
				written++
				played++
			}
			return played
		}
		bars(5, "bars before")
		part := line.RepeatedPart{First: len(segments), Times: rapid.IntRange(2, 3).Draw(t, "times")}
		start := tick
		bars(9, "bars of the part")
		if part.Length = len(segments) - part.First; part.Length == 0 {
			t.Skip("nothing is repeated")
		}
		copied, length := segments[part.First:], tick-start
		var starts []int // ticks, by time
		for time := range part.Times {
			starts = append(starts, tick-length)
			before := len(segments)
			bars(6, "bars of the ending")
			part.Endings = append(part.Endings, len(segments)-before)
			if time+1 < part.Times {
				for _, s := range copied {
					s.Start, s.End = s.Start-start+tick, s.End-start+tick
					segments = append(segments, s)
				}
				tick += length
			}
		}
		bars(3, "bars after")
		m := maker(key, rapid.IntRange(0, 100).Draw(t, "density"), 240)
		m.High = staff("E5")
		m.Closed = rapid.Bool().Draw(t, "closed") && segments[len(segments)-1].End == tick && segments[0].Start == 0
		m.Rhythm.Push = rapid.Bool().Draw(t, "push")
		m.Repeats = []line.RepeatedPart{part}
		steps, err := m.Line(segments)
		require.NoError(t, err)
		inside := make([][]string, part.Times)
		for time, first := range starts {
			last := first + copied[part.Length-1].Start - start
			for _, step := range steps {
				if first <= step.Tick && step.Tick <= last && segments[step.Segment].Start <= last {
					inside[time] = append(inside[time], fmt.Sprint(step.Tick-first, step.Notes, step.Role == line.Arrival))
				}
			}
		}
		for _, again := range inside[1:] {
			require.Equal(t, inside[0], again)
		}
		for i, step := range steps {
			require.Equal(t, i == 0 || steps[i-1].Segment != step.Segment, step.Role == line.Arrival, "each chord has its arrival: %v", step)
		}
	})
}
