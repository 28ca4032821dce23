package meter_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory/meter"
)

// Strong beats as conductors count them (common practice): s strong, b another beat, - off
// the beat, one sign an eighth.
func TestStrengthsAreThoseOfTheMeter(t *testing.T) {
	for name, want := range map[string]string{
		"4/4": "s-b-s-b-", "3/4": "s-b-b-", "5/4": "s-b-b-s-b-", "2/2": "s---s---",
		"6/8": "s--s--", "7/8": "s-s-s--", "7/8 (3+2+2)": "s--s-s-", "12/8": "s--s--s--s--",
	} {
		m, err := meter.Parse(name)
		require.NoError(t, err)
		got := ""
		for tick := m.Bar(); tick < 2*m.Bar(); tick += meter.Quarter / 2 { // the second bar is as the first
			got += [...]string{meter.OffBeat: "-", meter.OnBeat: "b", meter.OnStrongBeat: "s"}[m.StrengthAt(tick)]
		}
		assert.Equal(t, want, got, name)
	}
}
