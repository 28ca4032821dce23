package neck

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

var cMajor = theory.Key{}

// thirdOn returns the key's third on a lower note's letter and octave.
func thirdOn(t testing.TB, k theory.Key, lower string) theory.Third {
	return k.Scale().Third(theorytest.Pitch(t, lower).Staff())
}

// In open position the neck has no D3 with F3, nor A3's octave below: common
// practice.
func TestOpenPositionHasItsHoles(t *testing.T) {
	n := Neck{Tuning: Standard()}
	for lower, playable := range map[string]bool{
		"E2": false, "F2": true, "G2": true, "A2": false, "B2": true, "C3": true, "D3": false, "E3": true,
		"F3": true, "G3": true, "A3": true, "B3": true, "C4": true, "D4": true, "E4": false,
	} {
		effort, ok := n.Effort(thirdOn(t, cMajor, lower), Open)
		assert.Equal(t, playable, ok, lower)
		assert.Zero(t, effort)
	}
}

func TestStretchesCost(t *testing.T) {
	n := Neck{Tuning: Standard()}
	third := thirdOn(t, cMajor, "D3") // frets 5 and 3 on strings 5 and 4, 10 and 8 on strings 6 and 5
	for p, want := range map[Position]int{At(2): 0, At(3): 0, At(4): stretchEffort, At(5): stretchEffort, At(6): 0, At(9): stretchEffort, At(10): -1} {
		effort, ok := n.Effort(third, p)
		if !ok {
			effort = -1
		}
		assert.Equal(t, want, effort, p.String())
	}
	wide := Pair{Lower: Place{6, 5}, Upper: Place{5, 1}}
	effort, ok := wide.effort(At(1))
	assert.True(t, ok)
	assert.Equal(t, 2*reachEffort, effort)
	assert.Positive(t, effort, "fingers spread over five frets are not comfortable")
	_, ok = Pair{Lower: Place{6, 6}, Upper: Place{5, 1}}.effort(At(1))
	assert.False(t, ok, "five frets apart is out of reach")
	_, ok = Pair{Lower: Place{6, 5}, Upper: Place{5, 0}}.effort(Free)
	assert.False(t, ok, "an open string and a fret beyond the open position")
}

func TestCompassFollowsPositionAndTuning(t *testing.T) {
	standard, bass, ukulele := Neck{Tuning: Standard()}, Neck{Tuning: tuningOf(t, "E1 A1 D2 G2")}, Neck{Tuning: tuningOf(t, "G4 C4 E4 A4")}
	for _, c := range []struct {
		n         Neck
		p         Position
		low, high string
	}{
		{standard, Open, "C3", "D4"},
		{standard, At(5), "C3", "A4"},
		{standard, At(12), "F3", "E5"},
		{standard, Free, "C3", "B5"},
		{bass, Open, "F1", "F2"}, // all of it lies below C3
		{ukulele, Open, "C4", "G4"},
	} {
		low, high, ok := c.n.Compass(cMajor.Scale(), c.p)
		require.True(t, ok)
		assert.Equal(t, c.low+" "+c.high, low.String()+" "+high.String(), "%s %s", c.n.Tuning, c.p)
	}
}

// From C3 up, unless that leaves fewer than seven thirds; then the highest seven.
func TestCompassHasSevenThirdsWhereTheNeckHas(t *testing.T) {
	sevens, fewer := 0, 0
	for _, tuning := range []string{"standard", "drop D", "open G", "bass", "ukulele", "mandolin", "B1 E2 A2 D3 G3 B3 E4", "C3 C3 C3 C3"} {
		n := Neck{Tuning: tuningOf(t, tuning)}
		for tonic := theory.C; tonic <= theory.B; tonic++ {
			scale := theory.Key{Tonic: theory.Tone{Letter: tonic}}.Scale()
			for _, p := range append(n.Candidates(), Free) {
				var above, all []theory.Third
				for staff := range 70 {
					third := scale.Third(staff)
					if _, ok := n.Effort(third, p); !ok {
						continue
					}
					if all = append(all, third); third.Lower.MIDI() >= 48 { // C3
						above = append(above, third)
					}
				}
				if len(all) == 0 {
					continue
				}
				if len(above) == 7 && len(all) > 7 {
					sevens++
				}
				want := above
				if len(above) < 7 {
					if want = all[max(0, len(all)-7):]; len(above) == 6 && len(all) > 6 {
						fewer++
					}
				}
				low, high, ok := n.Compass(scale, p)
				require.True(t, ok)
				require.Equal(t, [2]theory.Pitch{want[0].Lower, want[len(want)-1].Lower}, [2]theory.Pitch{low, high}, "%s %s %s", tuning, tonic, p)
			}
		}
	}
	assert.Positive(t, sevens)
	assert.Positive(t, fewer)
}

func TestCompassHoldsWhatCanBePlayedAboveTheMud(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := anyNeck().Draw(t, "neck"), theorytest.AnyKey().Draw(t, "key")
		p := anyPosition(n).Draw(t, "position")
		low, high, ok := n.Compass(k.Scale(), p)
		var above, all int
		for staff := range 70 {
			third := k.Scale().Third(staff)
			if _, playable := n.Effort(third, p); !playable {
				continue
			}
			all++
			require.True(t, ok)
			if third.Lower.MIDI() >= 48 { // C3
				above++
			}
			require.LessOrEqual(t, staff, high.Staff())
		}
		require.Equal(t, all > 0, ok)
		switch {
		case above >= 7:
			require.GreaterOrEqual(t, low.MIDI(), 48)
		case ok && above < all:
			require.Less(t, low.MIDI(), 48)
		}
	})
}

// inReach is what a hand can do, said a second time: the frets of a pair against
// the frets of a position.
func inReach(p Position, pair Pair) bool {
	a, b := pair.Lower.Fret, pair.Upper.Fret
	fret, fixed := p.Fret()
	switch {
	case fixed:
		return min(a, b) >= max(1, fret-1) && max(a, b) <= fret+5 && max(a, b)-min(a, b) <= 4
	case p == Open, a == 0, b == 0:
		return max(a, b) <= 4
	}
	return max(a, b)-min(a, b) <= 4
}

// anyLine draws a line that can be played in a position: steps and leaps among
// the thirds that are there.
func anyLine(t *rapid.T, n Neck, k theory.Key, p Position) []theory.Third {
	playable := n.playable(k.Scale(), p)
	if len(playable) == 0 {
		t.Skip("no third can be played here")
	}
	return rapid.SliceOfN(rapid.SampledFrom(playable), 1, 40).Draw(t, "line")
}

func TestFingeringStaysInReachAndSoundsTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := anyNeck().Draw(t, "neck"), theorytest.AnyKey().Draw(t, "key")
		p := anyPosition(n).Draw(t, "position")
		line := anyLine(t, n, k, p)
		pairs, err := n.Finger(line, p)
		require.NoError(t, err)
		require.Len(t, pairs, len(line))
		for i, pair := range pairs {
			assertSounds(t, n, line[i], pair)
			require.True(t, inReach(p, pair), "%v in %s", pair, p)
		}
	})
}

// shifts counts how often a hand must move along a line when it may choose among the
// pairs of each third. Four frets are a move, eight are two.
func shifts(choices [][]Pair) int {
	least := map[int]int{} // by where the hand stands
	for i, pairs := range choices {
		here := map[int]int{}
		for _, pair := range pairs {
			low, high := min(pair.Lower.Fret, pair.Upper.Fret), max(pair.Lower.Fret, pair.Upper.Fret)
			for hand := 1; hand <= Frets; hand++ {
				if low > 0 && (low < hand || high > hand+4) || low == 0 && hand > 1 {
					continue
				}
				here[hand] = 0
				if i == 0 {
					continue
				}
				here[hand] = 1 << 20
				for from, count := range least {
					far := float64(max(hand-from, from-hand))
					here[hand] = min(here[hand], count+int(math.Ceil(far/4)))
				}
			}
		}
		least = here
	}
	return slices.Min(slices.Collect(maps.Values(least)))
}

func TestFreeFingeringShiftsAsSeldomAsCanBe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, k := anyNeck().Draw(t, "neck"), theorytest.AnyKey().Draw(t, "key")
		line := anyLine(t, n, k, Free)
		var all, chosen [][]Pair
		for _, third := range line {
			var reached []Pair
			for _, pair := range n.Pairs(third) {
				if inReach(Free, pair) {
					reached = append(reached, pair)
				}
			}
			all = append(all, reached)
		}
		pairs, err := n.Finger(line, Free)
		require.NoError(t, err)
		for _, pair := range pairs {
			chosen = append(chosen, []Pair{pair})
		}
		require.Equal(t, shifts(all), shifts(chosen))
	})
}

// TestFingeringChoosesAsAHandWould offers the ways to play a few thirds, the
// worse one first wherever order could matter.
func TestFingeringChoosesAsAHandWould(t *testing.T) {
	on := func(upper, hand int) grasp {
		return grasp{Pair: Pair{Place{upper + 1, hand}, Place{upper, hand}}, hand: hand}
	}
	hard := on(1, 2)
	hard.effort = 1
	for promise, c := range map[string]struct {
		ways [][]grasp
		want []int
	}{
		"it begins low":                         {[][]grasp{{on(1, 9), on(1, 2)}}, []int{1}},
		"it begins on the higher strings":       {[][]grasp{{on(1, 2), on(2, 2)}}, []int{0}},
		"it shifts late":                        {[][]grasp{{on(1, 2)}, {on(1, 6), on(1, 2)}, {on(1, 6), on(1, 2)}, {on(1, 6)}}, []int{0, 1, 1, 0}},
		"it shifts late going down":             {[][]grasp{{on(1, 6)}, {on(1, 2), on(1, 6)}, {on(1, 2), on(1, 6)}, {on(1, 2)}}, []int{0, 1, 1, 0}},
		"it shifts little":                      {[][]grasp{{on(1, 2)}, {on(1, 9), on(1, 5)}}, []int{0, 1}},
		"it shifts little going down":           {[][]grasp{{on(1, 9)}, {on(1, 2), on(1, 5)}}, []int{0, 1}},
		"it shifts late in whatever order":      {[][]grasp{{on(1, 2)}, {on(1, 2), on(1, 6)}, {on(1, 2), on(1, 6)}, {on(1, 6)}}, []int{0, 0, 0, 0}},
		"it shifts far in two":                  {[][]grasp{{on(1, 2)}, {on(1, 2), on(1, 5)}, {on(1, 9)}}, []int{0, 1, 0}},
		"it shifts far in two going down":       {[][]grasp{{on(1, 9)}, {on(1, 5), on(1, 9)}, {on(1, 2)}}, []int{0, 0, 0}},
		"it shifts four frets at once":          {[][]grasp{{on(1, 2)}, {on(1, 2), on(1, 4)}, {on(1, 6)}}, []int{0, 0, 0}},
		"it shifts five in two":                 {[][]grasp{{on(1, 2)}, {on(1, 2), on(1, 4)}, {on(1, 7)}}, []int{0, 1, 0}},
		"it shifts once rather than twice":      {[][]grasp{{on(1, 2)}, {on(1, 3), on(1, 9)}, {on(1, 9)}}, []int{0, 1, 0}},
		"it stays on a pair of strings":         {[][]grasp{{on(1, 2)}, {on(1, 2), on(2, 2)}, {on(2, 2), on(1, 2)}}, []int{0, 0, 1}},
		"it changes strings rather than shifts": {[][]grasp{{on(1, 2)}, {on(1, 3), on(2, 2)}}, []int{0, 1}},
		"it takes what asks least":              {[][]grasp{{hard, on(1, 2)}}, []int{1}},
	} {
		assert.Equal(t, c.want, path(c.ways, nil), promise)
	}
}

// Of three thirds before which the hand could move, it moves before the one that a rest
// goes before, and no more often for that.
func TestTheHandMovesWhereItHasTime(t *testing.T) {
	on := func(hand int) grasp {
		return grasp{Pair: Pair{Place{2, hand}, Place{1, hand}}, hand: hand}
	}
	ways := [][]grasp{{on(2)}, {on(2), on(6)}, {on(2), on(6)}, {on(6)}, {on(6), on(7)}}
	for _, c := range []struct {
		rested []bool
		want   []int
	}{
		{nil, []int{0, 0, 0, 0, 0}},
		{[]bool{false, true}, []int{0, 1, 1, 0, 0}},
		{[]bool{false, false, true, false, true}, []int{0, 0, 1, 0, 0}},
		{[]bool{false, false, false, true, false}, []int{0, 0, 0, 0, 0}},
	} {
		assert.Equal(t, c.want, path(ways, c.rested), "%v", c.rested)
	}
}

func TestLineThatCannotBePlayedIsNamed(t *testing.T) {
	n := Neck{Tuning: Standard()}
	for _, c := range []struct {
		p             Position
		lower, reason string
	}{
		{Open, "D3", "strings 5 and 4 have it at frets 5 and 3, out of reach from there"},
		{Open, "E2", "no two neighbouring strings have both notes in reach of a hand"},
		{Free, "D2", "D2 is nowhere on the neck"},
		{Free, "D6", "F6 is nowhere on the neck"},
		{Free, "C6", "no two neighbouring strings have both notes in reach of a hand"},
		{At(20), "C3", "strings 5 and 4 have it at frets 3 and 2, out of reach from there"},
	} {
		t.Run(c.p.String()+" "+c.lower, func(t *testing.T) {
			_, playable := n.Effort(thirdOn(t, cMajor, "C3"), c.p)
			line := []theory.Third{thirdOn(t, cMajor, c.lower)}
			if playable {
				line = []theory.Third{thirdOn(t, cMajor, "C3"), line[0]}
			}
			_, err := n.Finger(line, c.p)
			var unplayable *UnplayableError
			require.ErrorAs(t, err, &unplayable)
			assert.Equal(t, len(line)-1, unplayable.Index)
			assert.Equal(t, c.p, unplayable.Position)
			assert.Contains(t, err.Error(), c.reason)
		})
	}
}

func ExampleNeck_Finger() {
	n := Neck{Tuning: Standard()}
	k := theory.Key{Tonic: theory.Tone{Letter: theory.G}}
	thirds := k.Thirds()
	pairs, err := n.Finger(thirds[:3], At(7))
	fmt.Println(err)
	for i, p := range pairs {
		fmt.Printf("%s strings %d-%d, frets %d and %d\n", thirds[i], p.Lower.String, p.Upper.String, p.Lower.Fret, p.Upper.Fret)
	}

	_, err = n.Finger(thirds[:], Open)
	var unplayable *UnplayableError
	fmt.Println(errors.As(err, &unplayable), unplayable.Index)
	fmt.Println(err)
	// Output:
	// <nil>
	// G4–B4 strings 2-1, frets 8 and 7
	// A4–C5 strings 2-1, frets 10 and 8
	// B4–D5 strings 2-1, frets 12 and 10
	// true 0
	// the third G4–B4 cannot be played in position open: strings 2 and 1 have it at frets 8 and 7, out of reach from there
}

func BenchmarkFingerTenThousandBars(b *testing.B) {
	n := Neck{Tuning: Standard()}
	thirds := n.playable(cMajor.Scale(), Free)
	line := make([]theory.Third, 10_000*8)
	for i := range line {
		k := i % (2 * (len(thirds) - 1))
		line[i] = thirds[min(k, 2*(len(thirds)-1)-k)]
	}
	for _, p := range []Position{Free, At(5)} {
		b.Run(p.String(), func(b *testing.B) {
			played := line
			if p != Free {
				thirds := n.playable(cMajor.Scale(), p)
				played = make([]theory.Third, len(line))
				for i := range played {
					played[i] = thirds[i%len(thirds)]
				}
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := n.Finger(played, p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
