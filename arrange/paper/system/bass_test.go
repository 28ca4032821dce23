package system

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/staff"
	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// A bass is written an octave higher than it sounds, in the bass clef, whose bottom
// line is G2 (common practice).
func TestEveryBassNoteStandsOnceOnItsStaff(t *testing.T) {
	bottom := theory.Pitch{Tone: theory.Tone{Letter: theory.G}, Octave: 2}
	check := func(t require.TestingT, s *score.Score) {
		played := map[int]int{} // ticks on the staff, by index
		for _, system := range systemsOf(t, s) {
			for i := range system.bars {
				b := system.bars[i].bass
				if b == nil {
					require.Empty(t, s.Bass)
					continue
				}
				var want, got []float64
				for _, e := range b.Events {
					if e.Rest() {
						continue
					}
					written := s.Bass[e.Thirds[0]].Pitch
					written.Octave++
					written.Alter = 0
					want = append(want, 4-float64(written.Staff()-bottom.Staff())/2)
					for _, note := range e.Thirds {
						require.Equal(t, s.Bass[e.Thirds[0]].Pitch, s.Bass[note].Pitch)
						played[note] += e.Length
					}
				}
				for _, m := range system.bassBar(i) {
					if sign, ok := m.(drawing.Sign); ok && (sign.Glyph == drawing.BlackHead || sign.Glyph == drawing.HalfHead || sign.Glyph == drawing.WholeHead) {
						got = append(got, sign.Y)
					}
				}
				require.Equal(t, want, got)
			}
		}
		for i, n := range s.Bass {
			require.Equal(t, n.Length, played[i], "ticks of bass note %d", i)
		}
	}
	everyExercise(t, func(t *testing.T, s *score.Score) { check(t, s) })
	rapid.Check(t, func(t *rapid.T) { check(t, arrangetest.AnyScore(t)) })
}

// The bass's staff lies below all else, its notes stand clear of one another and of
// the bar lines, and each that begins with a third stands under it.
func TestTheBassStandsClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, system := range systemsOf(t, arrangetest.AnyScore(t)) {
			if system.bassTop == 0 {
				continue
			}
			require.Greater(t, system.bassTop, system.tabBottom())
			for _, third := range system.thirds {
				require.Less(t, third.group.Bounds().Bottom, system.bassTop)
			}
			for i := range system.bars {
				right := system.left[i]
				for j := range system.bars[i].bass.Events {
					b, e := system.bars[i].bass, system.bars[i].bass.Events[j]
					if e.Rest() {
						continue
					}
					x := system.xAt(i, e.Tick)
					box := drawing.BoundsOf(drawing.Scaled(headsAndSigns(b.Note(j, x/staff.BassSize)), staff.BassSize))
					require.Greater(t, box.Left, right-1e-9, "note %d of bar %d", j, i)
					right = math.Max(right, box.Right)
					for k, of := range system.bars[i].Events {
						if of.Tick == e.Tick {
							require.InDelta(t, system.xs[i][k], x, 1e-9)
						}
					}
				}
				require.Less(t, right, system.end(i))
			}
		}
	})
}

// headsAndSigns returns the marks but for stems and flags.
func headsAndSigns(marks []drawing.Mark) (out []drawing.Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case drawing.Sign:
			if m.Glyph != drawing.UpFlag && m.Glyph != drawing.DownFlag {
				out = append(out, m)
			}
		case drawing.Shape:
			out = append(out, m)
		}
	}
	return out
}
