package line_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/line"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/theorytest"
)

// What a memory knows of other lines, whatever they were, changes none.
func TestAMemoryChangesNoLine(t *testing.T) {
	key := theorytest.Key(t, "C major")
	rapid.Check(t, func(t *rapid.T) {
		symbol := rapid.SampledFrom([]string{"C", "C", "C", "Am", "F", "G7", "E7"})
		chords := rapid.SliceOfN(symbol, 8, 14).Draw(t, "chords")
		memory := new(line.Memory)
		m := maker(key, rapid.SampledFrom([]int{0, 30, 60, 100}).Draw(t, "density"), 240)
		m.High = staff("E5")
		for range rapid.IntRange(2, 5).Draw(t, "lines") {
			if rapid.Bool().Draw(t, "age") {
				memory.Age()
			}
			switch rapid.SampledFrom([]string{"chord", "chord", "chord", "more", "closed", "push", "repeat", "own", "rhythm", "variant", "hard", "compass", "meter"}).Draw(t, "change") {
			case "chord":
				chords[rapid.IntRange(0, len(chords)-1).Draw(t, "which")] = symbol.Draw(t, "chord")
			case "more":
				chords = slices.Insert(chords, rapid.IntRange(0, len(chords)).Draw(t, "where"), symbol.Draw(t, "chord"))
			case "closed":
				m.Closed = !m.Closed
			case "push":
				m.Rhythm.Push = !m.Rhythm.Push
			case "repeat":
				m.Repeats = rapid.SampledFrom([][]line.RepeatedPart{
					nil, {{First: 0, Length: 3, Times: 2}}, {{First: 1, Length: 2, Times: 3}},
					{{First: 0, Length: 2, Times: 2, Endings: []int{1, 1}}}, {{First: 2, Length: 2, Times: 2, Endings: []int{1, 0}}},
				}).Draw(t, "repeats")
			case "own":
				c := pitch("C4")
				m.Own = rapid.SampledFrom([]map[int][]line.Slot{
					nil, {1: {{Sign: rhythm.Begin}, {Sign: rhythm.Hold}, {Sign: rhythm.Begin, Lower: &c}, {Sign: rhythm.Rest}}},
				}).Draw(t, "own")
			case "rhythm":
				m.Rhythm.Written = rapid.SampledFrom([]map[int][]rhythm.Sign{
					nil, {3: []rhythm.Sign("x---x-x-")}, {3: []rhythm.Sign("x---x-x.")},
				}).Draw(t, "rhythm")
			case "variant":
				m.Variant = rapid.IntRange(1, 3).Draw(t, "variant")
			case "hard":
				m.Effort = rapid.SampledFrom([]func(theory.Third) (int, bool){nil, someAreHard}).Draw(t, "effort")
			case "compass":
				m.Low = rapid.IntRange(staff("A3"), staff("D4")).Draw(t, "low")
			case "meter":
				m.Rhythm.Meter.Beats = rapid.IntRange(3, 4).Draw(t, "beats")
			}
			bars := played(m.Repeats, len(chords))
			var symbols []string
			for _, written := range bars {
				symbols = append(symbols, chords[written])
			}
			segments := segmentsOf(t, key, m.Rhythm.Meter.Bar(), symbols...)
			for i := range segments {
				segments[i].Bar = bars[i]
			}
			m.Memory = nil
			want, wantErr := m.Line(segments)
			m.Memory = memory
			got, gotErr := m.Line(segments)
			require.Equal(t, wantErr, gotErr)
			require.Equal(t, want, got)
		}
	})
}

// played returns which of some written bars are played, one after the other.
func played(repeats []line.RepeatedPart, written int) (bars []int) {
	at := 0
	take := func(n int) {
		for range n {
			bars = append(bars, at)
			at++
		}
	}
	for _, part := range repeats {
		take(part.First)
		end := part.First + part.Length
		for time := range part.Times {
			at = part.First
			take(part.Length)
			at = end
			take(part.Ending(time))
			end = at
		}
	}
	take(written - at)
	return bars
}

// A repeated part with its endings is known where more goes before it, too.
func TestAMemoryKnowsWhatHasMoved(t *testing.T) {
	key := theorytest.Key(t, "C major")
	part := []string{"C", "Am", "Dm", "G7", "F", "C", "Em", "G7"}
	m := maker(key, 60, 240)
	memory := new(line.Memory)
	for _, before := range [][]string{nil, {"C", "F", "Dm", "G7", "F", "C", "Dm", "G7"}} {
		m.Repeats = []line.RepeatedPart{{First: len(before), Length: 4, Times: 2, Endings: []int{2, 2}}}
		written := slices.Concat(before, part)
		var symbols []string
		for _, at := range played(m.Repeats, len(written)) {
			symbols = append(symbols, written[at])
		}
		segments := segmentsOf(t, key, bar, symbols...)
		m.Memory = nil
		want, err := m.Line(segments)
		require.NoError(t, err)
		m.Memory = memory
		got, err := m.Line(segments)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
}

// A phrase that ends with a breath goes on otherwise than one whose last third is held,
// though it has the same thirds at the same times.
func TestAMemoryTellsABreathFromAThirdThatIsHeld(t *testing.T) {
	key := theorytest.Key(t, "C major")
	differ := 0
	for _, last := range []string{"C", "Am", "F", "G7"} {
		for _, next := range []string{"C", "Am", "F", "G7"} {
			segments := segmentsOf(t, key, bar, "C", "Am", "Dm", last, next, "F", "G7", "C")
			m := maker(key, 60, 240)
			memory := new(line.Memory)
			var lines [][]line.Step
			for _, signs := range []string{"x---x-x-", "x---x-x."} {
				m.Rhythm.Written = map[int][]rhythm.Sign{3: []rhythm.Sign(signs)}
				m.Memory = nil
				want, err := m.Line(segments)
				require.NoError(t, err)
				m.Memory = memory
				got, err := m.Line(segments)
				require.NoError(t, err)
				require.Equal(t, want, got, "%s, then %s", last, next)
				lines = append(lines, got)
			}
			for i := range lines[0] {
				if lines[0][i].Notes != lines[1][i].Notes {
					differ++
				}
			}
		}
	}
	require.Positive(t, differ)
}

// A line that goes round leads back to its first chord, which may be another one while
// its last phrase stays as it was.
func TestAMemoryKnowsWhereALineLeadsBack(t *testing.T) {
	key := theorytest.Key(t, "C major")
	for _, density := range []int{0, 50} {
		memory := new(line.Memory)
		for _, first := range []string{"C", "Am", "E7", "F", "C", "Dm", "G7"} {
			segments := segmentsOf(t, key, bar, first, "F", "G7", "C", "Am", "Dm", "F", "G7")
			m := maker(key, density, 240)
			m.Closed = true
			want, err := m.Line(segments)
			require.NoError(t, err)
			m.Memory = memory
			got, err := m.Line(segments)
			require.NoError(t, err)
			require.Equal(t, want, got, "%s at %d %%", first, density)
		}
	}
}
