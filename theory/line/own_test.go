package line_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory/line"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/theorytest"
)

// The next good line is clearly another one: it has other notes or another rhythm
// in most bars.
func TestVariantsDiffer(t *testing.T) {
	key := theorytest.Key(t, "C major")
	segments := segmentsOf(t, key, bar, "C", "Am", "Dm", "G7", "C", "F", "G7", "C")
	for _, density := range []int{25, 50, 75} {
		var before []map[int]string
		for variant := 1; variant <= 9; variant++ {
			m := maker(key, density, 240)
			m.Closed, m.Variant = true, variant
			steps, err := m.Line(segments)
			require.NoError(t, err)
			bars := map[int]string{}
			for _, step := range steps {
				bars[step.Tick/bar] += fmt.Sprint(step.Tick%bar, step.Notes, " ")
			}
			for i, other := range before {
				same := 0
				for b, text := range bars {
					if other[b] == text {
						same++
					}
				}
				assert.LessOrEqual(t, same, 3, "variants %d and %d at %d %%", i+1, variant, density)
			}
			before = append(before, bars)
		}
	}
}

// What is written of the line stands in it, and the rest leads there.
func TestOwnBarsHold(t *testing.T) {
	key := theorytest.Key(t, "C major")
	c4, e4, f4, g4 := pitch("C4"), pitch("E4"), pitch("F4"), pitch("G4")
	m := maker(key, 50, 240)
	m.Low = staff("D4") // what is written may lie beyond the compass
	m.Own = map[int][]line.Slot{2: {
		{Sign: rhythm.Begin, Lower: &c4}, {Sign: rhythm.Hold}, {Sign: rhythm.Hold}, {Sign: rhythm.Rest},
		{Sign: rhythm.Begin, Lower: &e4}, {Sign: rhythm.Begin, Lower: &f4}, {Sign: rhythm.Begin, Lower: &g4}, {Sign: rhythm.Begin},
	}}
	steps, err := m.Line(segmentsOf(t, key, bar, "C", "Am", "F", "G", "C"))
	require.NoError(t, err)
	var got []string
	for _, step := range steps {
		if step.Segment == 2 {
			got = append(got, fmt.Sprint(step.Tick-2*bar, " ", step.Length, " ", step.Notes.Lower))
		}
	}
	require.Len(t, got, 5)
	assert.Equal(t, []string{"0 720 C4", "960 240 E4", "1200 240 F4", "1440 240 G4"}, got[:4])
}

func TestWhatCannotBeAThirdIsRefused(t *testing.T) {
	key := theorytest.Key(t, "C major")
	low := pitch("C#4") // E lies three semitones above it: a third
	m := maker(key, 50, 240)
	m.Own = map[int][]line.Slot{1: {{Sign: rhythm.Begin, Lower: &low}, {Sign: rhythm.Hold}}}
	_, err := m.Line(segmentsOf(t, key, bar, "C", "Am", "F"))
	require.NoError(t, err)

	low = pitch("Eb4") // G lies four above
	_, err = m.Line(segmentsOf(t, key, bar, "C", "Am", "F"))
	require.NoError(t, err)

	low = pitch("D#4") // F lies two above
	_, err = m.Line(segmentsOf(t, key, bar, "C", "Am", "F"))
	var lineError *line.Error
	require.ErrorAs(t, err, &lineError)
	assert.Equal(t, &line.Error{Segment: 1, Own: &line.OwnNote{Bar: 1, Slot: 0}, Reason: "D♯4 has no third over Am: F4 lies 2 semitones above it"}, lineError)

	low = pitch("E##4")
	_, err = m.Line(segmentsOf(t, key, bar, "C", "Am", "F"))
	assert.EqualError(t, err, "chord 2: E♯♯4 has no third over Am: G4 lies 1 semitone above it")
}
