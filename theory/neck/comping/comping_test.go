package comping

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/neck"
	"thirdwise/theory/theorytest"
)

func chordsOf(t testing.TB, s string) []theory.Chord {
	var all []theory.Chord
	for _, symbol := range strings.Fields(s) {
		all = append(all, theorytest.Chord(t, symbol))
	}
	return all
}

func TestCompingKeepsBeginnersGrips(t *testing.T) {
	n := neck.Neck{Tuning: neck.Standard()}
	for _, c := range []struct{ chords, grips string }{
		{"C Am Dm G", "[x32010 x02210 xx0231 320003]"},
		{"G D Em C", "[320003 xx0232 022000 x32010]"},
		{"A D E7 A", "[x02220 xx0232 020100 x02220]"},
		{"Am F C G", "[x02210 133211 x32010 320003]"},
		{"F#m Bm E A", "[244222 x24432 022100 x02220]"},
	} {
		grips, err := Choose(n, chordsOf(t, c.chords))
		require.NoError(t, err)
		assert.Equal(t, c.grips, fmt.Sprint(grips))
	}
}

func TestChangesAreEasierWhereFingersAndHandStay(t *testing.T) {
	n := neck.Neck{Tuning: neck.Standard()}
	change := func(from, to string) int {
		return rated(n, theorytest.Chord(t, from))[0].change(rated(n, theorytest.Chord(t, to))[0])
	}
	assert.Zero(t, change("C", "C"))
	assert.Less(t, change("C", "Am"), change("C", "Dm"), "two fingers stay, against none")
	assert.Less(t, change("Bbm", "Bm"), change("Bbm", "Cm"), "one fret, against two")
}

// Beside open chords, too, G minor is the barre that every book prints (common
// practice).
func TestCompingTakesNoOddGripForAnEasyChange(t *testing.T) {
	n := neck.Neck{Tuning: neck.Standard()}
	grips, err := Choose(n, chordsOf(t, "C Gm C Dm Gm C"))
	require.NoError(t, err)
	assert.Equal(t, "355333", grips[1].String())
}

func TestAChordHasOneGripWhereverItStands(t *testing.T) {
	n := neck.Neck{Tuning: neck.Standard()}
	rapid.Check(t, func(t *rapid.T) {
		few := rapid.SliceOfN(anyChord(), 1, 4).Draw(t, "chords")
		played := rapid.SliceOfN(rapid.SampledFrom(few), 1, 12).Draw(t, "played")
		grips, err := Choose(n, played)
		require.NoError(t, err)
		gripOf := map[theory.Chord]string{}
		for i, c := range played {
			if known, ok := gripOf[c]; ok {
				require.Equal(t, known, grips[i].String(), c.String())
			}
			gripOf[c] = grips[i].String()
		}
	})
}

// TestNoOtherGripMakesCompingEasier changes the grip of each chord in turn and
// counts the costs of the whole succession again.
func TestNoOtherGripMakesCompingEasier(t *testing.T) {
	n := neck.Neck{Tuning: neck.Standard()}
	rapid.Check(t, func(t *rapid.T) {
		played := rapid.SliceOfN(anyChord(), 2, 6).Draw(t, "chords")
		grips, err := Choose(n, played)
		require.NoError(t, err)
		chosen := make([]ratedGrip, len(played))
		for i, c := range played {
			all := rated(n, c)
			chosen[i] = all[slices.IndexFunc(all, func(r ratedGrip) bool { return slices.Equal(r.Grip, grips[i]) })]
			require.LessOrEqual(t, chosen[i].cost, all[0].cost+nearlyAsGood)
		}
		least := successionCost(chosen)
		for _, c := range played {
			for _, other := range rated(n, c) {
				if other.cost > rated(n, c)[0].cost+nearlyAsGood {
					break
				}
				changed := slices.Clone(chosen)
				for i := range changed {
					if played[i] == c {
						changed[i] = other
					}
				}
				require.GreaterOrEqual(t, successionCost(changed), least)
			}
		}
	})
}

func successionCost(grips []ratedGrip) int {
	sum := 0
	for i, g := range grips {
		sum += g.cost
		if i > 0 {
			sum += grips[i-1].change(g)
		}
	}
	return sum
}

func TestCompingNamesTheChordThatHasNoGrip(t *testing.T) {
	unisons := neck.Neck{Tuning: tuningOf(t, "C3 C3 C3 C3")}
	_, err := Choose(unisons, chordsOf(t, "C5 C13b9"))
	var none *NoGripError
	require.ErrorAs(t, err, &none)
	assert.Equal(t, 1, none.Index)
	assert.EqualError(t, err, "the chord C13♭9 has no grip on this neck")
}

func ExampleChoose() {
	n := neck.Neck{Tuning: neck.Standard(), Capo: 2}
	var chords []theory.Chord
	for _, s := range []string{"D", "Bm", "E7", "A"} {
		c, _ := theory.ParseChord(s)
		chords = append(chords, c)
	}
	grips, err := Choose(n, chords)
	fmt.Println(grips, err)
	// Output: [x32010 x02210 xx0212 320003] <nil>
}

func BenchmarkChoose(b *testing.B) {
	n := neck.Neck{Tuning: neck.Standard()}
	song := chordsOf(b, "C Am7 Dm G7 Em F#m7b5 B7 Em/G")
	var chart []theory.Chord
	for range 8 {
		chart = append(chart, song...)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Choose(n, chart); err != nil {
			b.Fatal(err)
		}
	}
}
