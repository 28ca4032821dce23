package neck

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory"
)

// A finger a fret; two strings at one fret have neighbouring fingers (common
// practice, as in guitar methods).
func TestFingersStandAFingerAFret(t *testing.T) {
	for _, c := range []struct{ lowerFret, upperFret, hand, lower, upper int }{
		{2, 1, 1, 2, 1}, {0, 0, 1, 0, 0}, {2, 0, 1, 2, 0}, {4, 2, 1, 4, 2},
		{7, 5, 5, 3, 1}, {5, 5, 5, 1, 2}, {8, 8, 5, 3, 4}, {9, 8, 5, 4, 3}, {4, 5, 5, 1, 2},
	} {
		pair := Pair{Lower: Place{String: 3, Fret: c.lowerFret}, Upper: Place{String: 2, Fret: c.upperFret}}
		lower, upper := pair.Fingers(c.hand)
		assert.Equal(t, [2]int{c.lower, c.upper}, [2]int{lower, upper}, "frets %d and %d from %d", c.lowerFret, c.upperFret, c.hand)
	}
}

// In a position the hand stays; free on the neck it is where the thirds are in
// reach.
func TestHandsStandWhereTheThirdsAreInReach(t *testing.T) {
	n := Neck{Tuning: Standard()}
	scale := theory.Key{}.Scale()
	var thirds []theory.Third
	for staff := 28; staff < 42; staff++ { // C4 to B5
		thirds = append(thirds, scale.Third(staff))
	}
	for _, p := range []Position{At(5), At(8), Free} {
		playable := thirds
		if p != Free {
			playable = thirds[:5]
		}
		pairs, err := n.Finger(playable, p)
		require.NoError(t, err)
		for i, hand := range n.Hands(pairs, nil, p) {
			if fret, fixed := p.Fret(); fixed {
				assert.Equal(t, fret, hand)
			}
			for _, place := range []Place{pairs[i].Lower, pairs[i].Upper} {
				if place.Fret > 0 {
					assert.True(t, place.Fret >= hand-1 && place.Fret <= hand+Span+1, "%v from %d", place, hand)
				}
			}
		}
	}
}
