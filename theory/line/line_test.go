package line_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/line"
)

const quarter, bar = 480, 1920

// segmentsOf lays chords out, each for a number of ticks.
func segmentsOf(t require.TestingT, key theory.Key, length int, symbols ...string) []line.Segment {
	var segments []line.Segment
	for i, symbol := range symbols {
		chord, err := theory.ParseChord(symbol)
		require.NoError(t, err)
		segments = append(segments, line.Segment{
			Start: i * length, End: (i + 1) * length,
			Chord: chord, Scale: key.ScaleOver(chord),
		})
	}
	return segments
}

func mustKey(t require.TestingT, name string) theory.Key {
	key, err := theory.ParseKey(name)
	require.NoError(t, err)
	return key
}

func staff(name string) int {
	p, err := theory.ParsePitch(name)
	if err != nil {
		panic(err)
	}
	return p.Staff()
}

func maker(density, grid int) line.Maker {
	return line.Maker{
		Bar: bar, Beat: quarter, Grid: grid, Density: density,
		Low: staff("C4"), High: staff("C6"),
	}
}

func ExampleMaker_Line() {
	key, _ := theory.ParseKey("C major")
	var segments []line.Segment
	for i, symbol := range []string{"C", "Am"} {
		chord, _ := theory.ParseChord(symbol)
		segments = append(segments, line.Segment{
			Start: i * 1920, End: (i + 1) * 1920, Chord: chord, Scale: key.ScaleOver(chord),
		})
	}
	low, high := theory.Pitch{Octave: 4}, theory.Pitch{Octave: 5}
	thirds, _ := line.Maker{
		Bar: 1920, Beat: 480, Grid: 480, Density: 100, Low: low.Staff(), High: high.Staff(),
	}.Line(segments)
	for _, third := range thirds {
		fmt.Println(third.Tick, third.Third, third.Role)
	}
	// Output:
	// 0 E4–G4 arrival
	// 480 F4–A4 neighbour
	// 960 E4–G4 passing
	// 1440 D4–F4 passing
	// 1920 C4–E4 arrival
}

// exercise is a random list of segments with a maker of lines for it.
type exercise struct {
	maker    line.Maker
	segments []line.Segment
}

// anyExercise draws a key, a chart of chords in it or altered, and settings.
func anyExercise(t *rapid.T) exercise {
	var keys []theory.Key
	for _, mode := range theory.Modes() {
		for letter := theory.C; letter <= theory.B; letter++ {
			for alter := -1; alter <= 1; alter++ {
				key := theory.Key{Tonic: theory.Tone{Letter: letter, Alter: alter}, Mode: mode}
				if key.Check() == nil {
					keys = append(keys, key)
				}
			}
		}
	}
	key := rapid.SampledFrom(keys).Draw(t, "key")
	e := exercise{maker: line.Maker{
		Bar:     bar,
		Beat:    quarter,
		Grid:    rapid.SampledFrom([]int{480, 240, 160, 120}).Draw(t, "grid"),
		Density: rapid.IntRange(0, 100).Draw(t, "density"),
		Low:     rapid.IntRange(staff("E2"), staff("C5")).Draw(t, "low"),
		Closed:  rapid.Bool().Draw(t, "closed"),
	}}
	e.maker.High = e.maker.Low + rapid.IntRange(7, 20).Draw(t, "compass")
	tick := 0
	for range rapid.IntRange(1, 6).Draw(t, "bars") {
		shares := rapid.SampledFrom([]int{1, 2, 3, 4, 5}).Draw(t, "shares")
		for range shares {
			root := key.Tones()[rapid.IntRange(0, 6).Draw(t, "root")]
			chord := theory.Chord{
				Root: root, Bass: root,
				Quality: rapid.SampledFrom(theory.Qualities()).Draw(t, "quality"),
			}
			e.segments = append(e.segments, line.Segment{
				Start: tick, End: tick + bar/shares, Chord: chord, Scale: key.ScaleOver(chord),
			})
			tick += bar / shares
		}
	}
	return e
}

// Every rule of the line, over random exercises.
func TestLineKeepsItsRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyExercise(t)
		thirds, err := e.maker.Line(e.segments)
		if err != nil {
			var lineError *line.Error
			require.ErrorAs(t, err, &lineError)
			t.Skip("no line exists in this compass")
		}
		again, err := e.maker.Line(e.segments)
		require.NoError(t, err)
		require.Equal(t, thirds, again, "the same segments give the same line")

		tick := 0
		for _, third := range thirds {
			require.Equal(t, tick, third.Tick, "the line has no gap and no overlap")
			tick += third.Length
			s := e.segments[third.Segment]
			require.Equal(t, third.Tick == s.Start, third.Role == line.Arrival)
			require.Equal(t, 2, third.Third.Interval().Steps)
			require.True(t, s.Scale.Contains(third.Third.Lower.Tone), "%v over %v", third.Third, s.Chord)
			require.True(t, s.Scale.Contains(third.Third.Upper.Tone), "%v over %v", third.Third, s.Chord)
			require.GreaterOrEqual(t, third.Third.Staff(), e.maker.Low)
			require.LessOrEqual(t, third.Third.Staff(), e.maker.High)
			if third.Role == line.Arrival && s.Chord.HasThird() {
				require.True(t, s.Chord.Contains(third.Third.Lower.Tone))
				require.True(t, s.Chord.Contains(third.Third.Upper.Tone))
			}
		}
		require.Equal(t, e.segments[len(e.segments)-1].End, tick)
		for i := range e.segments {
			checkLeg(t, e, thirds, i)
		}
	})
}

// checkLeg checks the way from arrival i to the next.
func checkLeg(t *rapid.T, e exercise, thirds []line.Third, i int) {
	var leg []line.Third
	for _, third := range thirds {
		if third.Segment == i {
			leg = append(leg, third)
		}
	}
	last := i+1 == len(e.segments)
	if last && !e.maker.Closed {
		require.Len(t, leg, 1, "behind the last arrival nothing moves")
		return
	}
	s := e.segments[i]
	onGrid := s.Start%bar%e.maker.Grid == 0 && s.End%bar%e.maker.Grid == 0
	if onGrid {
		slots := (s.End-s.Start)/e.maker.Grid - 1
		moving := int(float64(e.maker.Density*slots)/100 + 0.5)
		require.Len(t, leg[1:], moving, "density says how many move")
		for n, third := range leg[1:] {
			require.Equal(t, s.End-(moving-n)*e.maker.Grid, third.Tick, "nearest to the next arrival")
		}
	}
	for _, third := range leg[1:] {
		require.Equal(t, last, third.LeadsBack)
	}

	next := e.segments[(i+1)%len(e.segments)]
	var arrival line.Third
	for _, third := range thirds {
		if third.Tick == next.Start {
			arrival = third
			break
		}
	}
	from, to := leg[0].Third.Staff(), arrival.Third.Staff()
	if len(leg) == 1 {
		if d := distance(from, to); d > 2 {
			for n := e.maker.Low; n <= e.maker.High; n++ {
				third := next.Scale.Third(n)
				if next.Chord.HasThird() && next.Chord.Contains(third.Lower.Tone) && next.Chord.Contains(third.Upper.Tone) {
					require.GreaterOrEqual(t, distance(from, n), d, "a leap goes to the nearest arrival")
				}
			}
		}
		return
	}
	exceptions := 0
	staffs := make([]int, 0, len(leg)+1)
	for _, third := range leg {
		staffs = append(staffs, third.Third.Staff())
	}
	staffs = append(staffs, to)
	for n := range staffs[1:] {
		d := distance(staffs[n], staffs[n+1])
		require.LessOrEqual(t, d, 2)
		if d != 1 {
			exceptions++
		}
	}
	require.LessOrEqual(t, exceptions, 1)
	// Steps alone join two thirds in a number of moves where parity and distance
	// allow it and the compass has room.
	moves := len(staffs) - 1
	if exceptions == 1 && distance(from, to) <= moves && (moves-distance(from, to))%2 == 0 {
		require.Equal(t, e.maker.Low, e.maker.High, "an exception only where steps cannot meet the slots")
	}
}

func distance(a, b int) int { return max(a-b, b-a) }

// Raising the density only ever adds slots.
func TestDensityNeverTakesASlotAway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyExercise(t)
		more := e.maker
		more.Density = rapid.IntRange(e.maker.Density, 100).Draw(t, "more")
		for _, s := range e.segments {
			require.Subset(t, more.Slots(s), e.maker.Slots(s))
		}
	})
}

func TestDensityOfZeroAndOfAHundred(t *testing.T) {
	key := mustKey(t, "C major")
	segments := segmentsOf(t, key, bar, "C", "F")
	assert.Empty(t, maker(0, 240).Slots(segments[0]))
	assert.Equal(t, []int{240, 480, 720, 960, 1200, 1440, 1680}, maker(100, 240).Slots(segments[0]))
	assert.Equal(t, []int{960, 1200, 1440, 1680}, maker(50, 240).Slots(segments[0]))
}

// Three equal chords in a bar of 4/4 are half-note triplets, which the grid of
// eighths does not meet; the slots then divide the chord's own length.
func TestSlotsOfChordsOffTheGrid(t *testing.T) {
	third := line.Segment{Start: 640, End: 1280}
	assert.Equal(t, []int{960}, maker(100, 240).Slots(third))
	assert.Equal(t, []int{800, 960, 1120}, maker(100, 120).Slots(third))
}

// Over E7 the G of A minor is G sharp (common practice: the raised seventh).
func TestLineFollowsTheChordsAlteredTones(t *testing.T) {
	key := mustKey(t, "A minor")
	thirds, err := maker(100, 240).Line(segmentsOf(t, key, bar, "Am", "E7", "Am"))
	require.NoError(t, err)
	for _, third := range thirds {
		for _, p := range []theory.Pitch{third.Third.Lower, third.Third.Upper} {
			if p.Letter == theory.G {
				assert.Equal(t, third.Segment == 1, p.Alter == 1, "%v in segment %d", p, third.Segment)
			}
		}
	}
}

func TestLineRestsWhereNoChordSounds(t *testing.T) {
	segments := segmentsOf(t, mustKey(t, "C major"), bar, "C", "F", "G")
	segments = append(segments[:1], segments[2:]...) // a bar of rest in between
	thirds, err := maker(100, 240).Line(segments)
	require.NoError(t, err)
	require.Len(t, thirds, 2)
	assert.Equal(t, bar, thirds[0].Length)
	assert.Equal(t, 2*bar, thirds[1].Tick)
}

func TestLineGoesRoundWhatCannotBePlayed(t *testing.T) {
	m := maker(100, 240)
	hole := staff("F4")
	m.Effort = func(third theory.Third) (int, bool) { return 0, third.Staff() != hole }
	thirds, err := m.Line(segmentsOf(t, mustKey(t, "C major"), bar, "C", "Am", "Dm", "G"))
	require.NoError(t, err)
	for _, third := range thirds {
		assert.NotEqual(t, hole, third.Third.Staff())
	}
}

func TestLineErrorNamesTheChord(t *testing.T) {
	m := maker(50, 240)
	m.Effort = func(third theory.Third) (int, bool) {
		return 0, third.Lower.Letter != theory.F && third.Lower.Letter != theory.A
	}
	_, err := m.Line(segmentsOf(t, mustKey(t, "C major"), bar, "C", "G", "F"))
	var lineError *line.Error
	require.ErrorAs(t, err, &lineError)
	assert.Equal(t, 2, lineError.Segment)
	assert.Contains(t, lineError.Reason, "none of the thirds of F")
}

// A line turns for a reason: where it is free to go elsewhere, it does not swing to
// and fro between two thirds (common practice: a turn back at once is a trill, not
// a line).
func TestLineDoesNotGoToAndFro(t *testing.T) {
	for _, symbols := range []string{"Dm7 G Dm7 G Dm7 G Em7 Dm7", "Em Am Em B7", "Am F Dm E7"} {
		for density := 0; density <= 100; density += 5 {
			m := maker(density, 240)
			m.Low, m.High = staff("E3"), staff("D4")
			thirds, err := m.Line(segmentsOf(t, mustKey(t, "D dorian"), bar, strings.Fields(symbols)...))
			require.NoError(t, err)
			for i := 3; i < len(thirds); i++ {
				a, b := thirds[i-3].Third.Staff(), thirds[i-2].Third.Staff()
				again := thirds[i-1].Third.Staff() == a && thirds[i].Third.Staff() == b
				assert.False(t, a != b && again, "%s at %d %%: %v", symbols, density, thirds[i-3:i+1])
			}
		}
	}
}

// A chord without a third of its own borrows one from the scale: F–A and D–F
// share the fourth of Csus4 and rub against nothing, but E–G would rub.
func TestLineOverSuspendedChords(t *testing.T) {
	thirds, err := maker(0, 240).Line(segmentsOf(t, mustKey(t, "C major"), bar, "Csus4", "C5"))
	require.NoError(t, err)
	for _, third := range thirds[:1] {
		assert.Contains(t, []string{"DF", "FA", "AC"},
			third.Third.Lower.Letter.String()+third.Third.Upper.Letter.String())
	}
}

func BenchmarkLine(b *testing.B) {
	key, err := theory.ParseKey("C major")
	require.NoError(b, err)
	symbols := make([]string, 10_000)
	for i := range symbols {
		symbols[i] = strings.Fields("C Am Dm G F E7 Em B♭ D7 A7")[i*7/3%10]
	}
	segments := segmentsOf(b, key, bar, symbols...)
	for _, density := range []int{0, 50, 100} {
		b.Run(fmt.Sprintf("10000bars/density%d", density), func(b *testing.B) {
			m := maker(density, 240)
			m.Closed = true
			for b.Loop() {
				if _, err := m.Line(segments); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(symbols)*b.N)/b.Elapsed().Seconds(), "bars/s")
		})
	}
}
