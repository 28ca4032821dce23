package system

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
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

// A tie of the bass can be seen however tight its row is, and so can what is left of a bar
// behind its last note.
func TestTiesOfTheBassHaveRoomInTheTightestRow(t *testing.T) {
	ties := 0
	for _, text := range []string{"meter: 7/8\nchart: '| Dm | Am / / Dm / / / |'", "meter: 5/4\nchart: '| Dm | Dm / / / A |'", "meter: 7/4\nchart: '| Dm | A |'"} {
		s := arrangetest.Score(t, "title: Ties\nkey: D minor\n"+text+"\nbass: root-fifth\nline: {density: 0%}\n")
		m := Of(paper.Notate(s), Both, UsualFinger)
		row := newSystem(m, Row{First: 0, Last: len(m.bars) - 1})
		for i, b := range row.bars {
			for j := range b.bass.Events {
				e := &b.bass.Events[j]
				x := row.xAt(i, e.Tick)
				if e.TiedTo {
					ties++
					require.GreaterOrEqual(t, row.xAt(i, e.End())-x, staff.BassSize*staff.TieRoom(e)-1e-9)
				}
				if j == len(b.bass.Events)-1 {
					require.GreaterOrEqual(t, row.end(i)-b.end.width()-x, staff.BassSize*(b.bass.Figures[j].Right+clearance+endPadding)-1e-9)
				}
			}
		}
	}
	require.Positive(t, ties)
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
