package system

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/paper"
)

// An octave is three and a half spaces; a stem on the ledger lines reaches the
// middle line (Gould, Behind Bars, from memory).
func TestStemsAreAnOctaveLongAndReachTheMiddleLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, system := range systemsOf(t, anyScore(t)) {
			for _, b := range system.bars {
				for i, e := range b.Events {
					if e.Rest() || e.Value == 1 {
						continue
					}
					v := b.voices[i]
					length := v.upper - v.tip
					if !v.up {
						length = v.tip - v.lower
					}
					if e.Beams == nil && e.Value <= 16 {
						ledger := v.up && v.upper > middleLine+stemLength || !v.up && v.lower < middleLine-stemLength
						if !ledger {
							require.InDelta(t, 3.5, length, 1e-9)
						}
					}
					require.GreaterOrEqual(t, length, 2.74)
					if v.up {
						require.LessOrEqual(t, v.tip, middleLine)
					} else {
						require.GreaterOrEqual(t, v.tip, middleLine)
					}
				}
			}
		}
	})
}

// Beams rise or fall by a space at most, in the direction of their notes (Ross;
// Gould; from memory).
func TestBeamsFollowTheirNotesGently(t *testing.T) {
	// A rise of four spaces, far apart and close together.
	events := []paper.Event{{Value: 8, Beams: []paper.BeamPart{paper.BeamBegins}}, {Value: 8, Beams: []paper.BeamPart{paper.BeamEnds}}}
	for apart, want := range map[float64]float64{20: -1, 3: -0.6} {
		voices := []voice{{lower: 5, upper: 4, up: true}, {lower: 1, upper: 0, up: true}}
		beamed{&paper.Measure{Events: events}, 0, 1}.place(voices, []float64{0, apart})
		require.InDelta(t, want, voices[1].tip-voices[0].tip, 1e-9)
	}
	rapid.Check(t, func(t *rapid.T) {
		for _, system := range systemsOf(t, anyScore(t)) {
			for _, b := range system.bars {
				for _, g := range beamsOf(b.Measure) {
					first, last := b.voices[g.first], b.voices[g.last]
					rise := last.tip - first.tip
					require.LessOrEqual(t, max(rise, -rise), 1.0+1e-9)
					require.GreaterOrEqual(t, rise*(last.upper-first.upper), -1e-9)
				}
			}
		}
	})
}
