package neck

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

func TestMapHasEveryThirdInReachOnceAndNoOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := anyNeck().Draw(t, "neck"), theorytest.AnyKey().Draw(t, "key")
		p := anyPosition(n).Draw(t, "position")
		placed := map[Pair]bool{}
		patterns := n.Map(k, p)
		require.Len(t, patterns, n.Strings()-1)
		for i, pattern := range patterns {
			require.Equal(t, i+1, pattern.Upper)
			staff := 0
			for _, third := range pattern.Thirds {
				assertSounds(t, n, third.Third, third.Pair)
				require.Equal(t, pattern.Upper, third.Pair.Upper.String)
				require.Equal(t, pattern.Lower, third.Pair.Lower.String)
				require.True(t, inReach(p, third.Pair))
				require.Equal(t, k.Tones()[third.Degree-1], third.Third.Lower.Tone)
				require.Greater(t, third.Staff(), staff, "from the nut up")
				staff = third.Staff()
				placed[third.Pair] = true
			}
		}
		for staff := range 70 {
			for _, pair := range n.Pairs(k.Scale().Third(staff)) {
				require.Equal(t, inReach(p, pair), placed[pair], "%v", pair)
			}
		}
	})
}

// Common practice: the pattern of C major's thirds along the second and the first
// string, lower note's fret first, as players practise it.
func TestPatternAlongTwoStringsIsThePractisedOne(t *testing.T) {
	pattern := Neck{Tuning: Standard()}.Map(cMajor, Free)[0]
	var frets []string
	for _, third := range pattern.Thirds[:8] {
		frets = append(frets, fmt.Sprintf("%d%s:%d/%d", third.Degree, third.Interval(), third.Pair.Lower.Fret, third.Pair.Upper.Fret))
	}
	assert.Equal(t, "1M3:1/0 2m3:3/1 3m3:5/3 4M3:6/5 5M3:8/7 6m3:10/8 7m3:12/10 1M3:13/12", strings.Join(frets, " "))
}

func TestKeysLieWellInAboutFivePositions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := Neck{Tuning: Standard(), Capo: rapid.IntRange(0, 5).Draw(t, "capo")}, theorytest.AnyKey().Draw(t, "key")
		positions := n.Positions(k)
		require.GreaterOrEqual(t, len(positions), 4)
		require.LessOrEqual(t, len(positions), 5)
		last := -1
		for _, kp := range positions {
			require.Equal(t, []int{1, 2, 3, 4, 5, 6, 7}, kp.Degrees, kp.Position.String())
			require.LessOrEqual(t, kp.High-kp.Low, Span)
			require.Greater(t, kp.Low, last)
			last = kp.Low
			for _, third := range kp.Thirds {
				effort, ok := n.Effort(third, kp.Position)
				require.True(t, ok && effort < stretchEffort)
			}
			for _, third := range kp.Missing {
				effort, ok := n.Effort(third, kp.Position)
				require.True(t, !ok || effort >= stretchEffort)
			}
			require.Len(t, append(kp.Thirds, kp.Missing...), kp.Thirds[len(kp.Thirds)-1].Staff()-kp.Thirds[0].Staff()+1)
		}
	})
}

// The best position of the first octave, where many thirds are reached and few are
// missing between them, and then the next best, each two frets or more from those before
// it and with three quarters as many thirds as the best at the least.
func TestPositionsAreTheBestThatLieApart(t *testing.T) {
	tooFew, justEnough := 0, 0
	for _, tuning := range []string{"standard", "open G", "ukulele", "mandolin", "bass", "C2 G2 D3 A3 E4 B4", "C3 C3 C3 C3", "E2 A2 D3 G3", "C2 G2 D3 A3", "E2 A2 D3 A3 E4", "D2 G2 D3 G3", "E2 C3 A3 F4", "E2 B2 G3 D4", "C3 C3 E3 E3", "C3 D3 E3 F3"} {
		n := Neck{Tuning: tuningOf(t, tuning)}
		for _, mode := range theory.Modes() {
			for _, k := range mode.Keys() {
				var left []KeyPosition
				for _, p := range n.Candidates()[:12] {
					left = append(left, n.lies(k, p))
				}
				var want []int
				most := 0
				for len(left) > 0 && len(want) < 5 {
					best := 0
					for i, kp := range left {
						if len(kp.Thirds)-len(kp.Missing) > len(left[best].Thirds)-len(left[best].Missing) {
							best = i
						}
					}
					reached, hand := len(left[best].Thirds), left[best].Position.hand()
					most = cmp.Or(most, reached)
					left = slices.Delete(left, best, best+1)
					switch {
					case slices.ContainsFunc(want, func(other int) bool { return max(hand-other, other-hand) < 2 }):
					case float64(reached) < 0.75*float64(most):
						tooFew++
					default:
						if float64(reached) == 0.75*float64(most) {
							justEnough++
						}
						want = append(want, hand)
					}
				}
				slices.Sort(want)
				var got []int
				for _, kp := range n.Positions(k) {
					got = append(got, kp.Position.hand())
				}
				require.Equal(t, want, got, "%s on %s", k, tuning)
			}
		}
	}
	assert.Positive(t, tooFew)
	assert.Positive(t, justEnough)
}

func TestPositionsAreFoundOnEveryNeck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := anyNeck().Draw(t, "neck"), theorytest.AnyKey().Draw(t, "key")
		for _, kp := range n.Positions(k) {
			require.NoError(t, n.CheckPosition(kp.Position))
		}
	})
}

func ExampleNeck_Positions() {
	n := Neck{Tuning: Standard()}
	for _, kp := range n.Positions(theory.Key{}) { // C major
		fmt.Printf("%s: frets %d to %d, %d of %d thirds\n",
			kp.Position, kp.Low, kp.High, len(kp.Thirds), len(kp.Thirds)+len(kp.Missing))
	}
	// Output:
	// open: frets 0 to 4, 11 of 13 thirds
	// 3: frets 3 to 7, 11 of 13 thirds
	// 5: frets 5 to 9, 11 of 13 thirds
	// 8: frets 8 to 12, 11 of 13 thirds
	// 10: frets 10 to 14, 11 of 13 thirds
}

func ExampleNeck_Map() {
	n := Neck{Tuning: Standard()}
	for _, t := range n.Map(theory.Key{}, Open)[1].Thirds { // strings 3 and 2
		fmt.Printf("%s on degree %d, frets %d and %d, shape %d\n", t.Third, t.Degree, t.Pair.Lower.Fret, t.Pair.Upper.Fret, t.Shape())
	}
	// Output:
	// G3–B3 on degree 5, frets 0 and 0, shape 0
	// A3–C4 on degree 6, frets 2 and 1, shape 1
	// B3–D4 on degree 7, frets 4 and 3, shape 1
}
