package staff

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
)

// set returns the measures of any score, their beams set for events at distances
// that follow their lengths.
func set(t *rapid.T) (measures []*Measure) {
	n := paper.Notate(arrangetest.AnyScore(t))
	for i := range n.Measures {
		m := Of(&n.Measures[i], paper.GuitarClef)
		xs := make([]float64, len(m.Events))
		for j, e := range m.Events {
			xs[j] = float64(e.Tick) / 80
		}
		m.SetBeams(xs)
		measures = append(measures, m)
	}
	return measures
}

// An octave is three and a half spaces; a stem on the ledger lines reaches the
// middle line (Gould, Behind Bars, from memory).
func TestStemsAreAnOctaveLongAndReachTheMiddleLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, m := range set(t) {
			for i, e := range m.Events {
				if e.Rest() || e.Value == 1 {
					continue
				}
				f := m.Figures[i]
				length := f.Upper - f.tip
				if !f.Up {
					length = f.tip - f.Lower
				}
				if e.Beams == nil && e.Value <= 16 {
					ledger := f.Up && f.Upper > MiddleLine+stemLength || !f.Up && f.Lower < MiddleLine-stemLength
					if !ledger {
						require.InDelta(t, 3.5, length, 1e-9)
					}
				}
				require.GreaterOrEqual(t, length, 2.74)
				if f.Up {
					require.LessOrEqual(t, f.tip, MiddleLine)
				} else {
					require.GreaterOrEqual(t, f.tip, MiddleLine)
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
		figures := []Figure{{Lower: 5, Upper: 4, Up: true}, {Lower: 1, Upper: 0, Up: true}}
		beamed{&paper.Measure{Events: events}, 0, 1}.place(figures, []float64{0, apart})
		require.InDelta(t, want, figures[1].tip-figures[0].tip, 1e-9)
	}
	rapid.Check(t, func(t *rapid.T) {
		for _, m := range set(t) {
			for _, g := range m.groups {
				first, last := m.Figures[g.first], m.Figures[g.last]
				rise := last.tip - first.tip
				require.LessOrEqual(t, max(rise, -rise), 1.0+1e-9)
				require.GreaterOrEqual(t, rise*(last.Upper-first.Upper), -1e-9)
			}
		}
	})
}
