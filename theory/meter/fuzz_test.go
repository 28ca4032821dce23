package meter_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/theory/meter"
)

func FuzzParse(f *testing.F) {
	for _, s := range []string{"", "4/4", "7/8 (3+2+2)", "4-4", "4:4", "3\\4", "4/4 | 3/4", "4/4-Takt", "7/8 ()", "7/8 (+)", "12", "4/4 (-1+5)", "99999999999999999999/4", "4\xff4"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := meter.Parse(s)
		if err != nil {
			return
		}
		again, err := meter.Parse(m.String())
		require.NoError(t, err, "%q is read as %s", s, m)
		require.Equal(t, m, again, "%q", s)
		strong := m.Strong()
		require.Zero(t, strong[0])
		require.IsIncreasing(t, append(strong, m.Bar()))
		for _, tick := range m.BeatStarts() {
			require.Equal(t, tick, m.BeatStarts()[m.BeatAt(tick)])
		}
	})
}

// However feels and tempos are chosen, time goes on: a later tick is never played
// before an earlier one.
func FuzzPlayed(f *testing.F) {
	f.Add(0, 1)
	f.Add(239, 240)
	f.Add(1<<40, 3)
	f.Fuzz(func(t *testing.T, tick, on int) {
		tick, on = max(0, tick%(1<<50)), max(0, on%(1<<20))
		for _, feel := range meter.Feels() {
			require.LessOrEqual(t, feel.Played(tick), feel.Played(tick+on), "%s, from %d by %d", feel, tick, on)
		}
	})
}
