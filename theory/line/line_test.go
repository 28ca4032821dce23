package line_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/chordscale"
	"thirdwise/theory/line"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
	"thirdwise/theory/theorytest"
)

const quarter, bar = 480, 1920

// segmentsOf lays chords out, each for a number of ticks.
func segmentsOf(t require.TestingT, key theory.Key, length int, symbols ...string) []line.Segment {
	var segments []line.Segment
	for i, symbol := range symbols {
		chord, err := theory.ParseChord(symbol)
		require.NoError(t, err)
		segments = append(segments, line.Segment{
			Start: i * length, End: (i + 1) * length, Bar: i * length / bar,
			Chord: chord, Scale: chordscale.Over(key, chord),
		})
	}
	return segments
}

func pitch(name string) theory.Pitch {
	p, err := theory.ParsePitch(name)
	if err != nil {
		panic(err)
	}
	return p
}

func staff(name string) int { return pitch(name).Staff() }

func maker(key theory.Key, density, grid int) line.Maker {
	return line.Maker{
		Key:    key,
		Rhythm: rhythm.Maker{Meter: meter.Meter{Beats: 4, Unit: 4}, Grid: grid, Density: density},
		Low:    staff("C4"), High: staff("C6"),
	}
}

func ExampleMaker_Line() {
	key, _ := theory.ParseKey("C major")
	var segments []line.Segment
	for i, symbol := range []string{"C", "Am"} {
		chord, _ := theory.ParseChord(symbol)
		segments = append(segments, line.Segment{
			Start: i * 1920, End: (i + 1) * 1920, Bar: i, Chord: chord, Scale: chordscale.Over(key, chord),
		})
	}
	low, high := theory.Pitch{Octave: 4}, theory.Pitch{Octave: 5}
	steps, _ := line.Maker{
		Key:    key,
		Rhythm: rhythm.Maker{Meter: meter.Meter{Beats: 4, Unit: 4}, Grid: 480, Density: 100},
		Low:    low.Staff(), High: high.Staff(),
	}.Line(segments)
	for _, step := range steps {
		fmt.Println(step.Tick, step.Notes, step.Role)
	}
	// Output:
	// 0 E4–G4 arrival
	// 480 C4–E4 neighbour
	// 960 E4–G4 passing
	// 1440 G4–B4 passing
	// 1920 A4–C5 arrival
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
		Key: key,
		Rhythm: rhythm.Maker{
			Meter:   meter.Meter{Beats: 4, Unit: 4},
			Grid:    rapid.SampledFrom([]int{480, 240, 160, 120}).Draw(t, "grid"),
			Density: rapid.IntRange(0, 100).Draw(t, "density"),
			Push:    rapid.Bool().Draw(t, "push"),
		},
		Low:     rapid.IntRange(staff("E2"), staff("C5")).Draw(t, "low"),
		Closed:  rapid.Bool().Draw(t, "closed"),
		Variant: rapid.IntRange(1, 3).Draw(t, "variant"),
	}}
	e.maker.High = e.maker.Low + rapid.IntRange(7, 14).Draw(t, "compass")
	tick := 0
	for i := range rapid.IntRange(1, 6).Draw(t, "bars") {
		shares := rapid.SampledFrom([]int{1, 2, 3, 4, 5}).Draw(t, "shares")
		section := rapid.SampledFrom([]int{0, 0, 1, 2}).Draw(t, "section")
		for share := range shares {
			root := key.Tones()[rapid.IntRange(0, 6).Draw(t, "root")]
			chord := theory.Chord{
				Root: root, Bass: root,
				Quality: rapid.SampledFrom(theory.Qualities()).Draw(t, "quality"),
			}
			e.segments = append(e.segments, line.Segment{
				Start: tick, End: tick + bar/shares, Bar: i, Section: section * (1 - min(1, share)),
				Chord: chord, Scale: chordscale.Over(key, chord),
			})
			tick += bar / shares
		}
		if len(e.segments) < 6 && rapid.Bool().Draw(t, "pickup") { // it is as long as the chart so far
			e.maker.Home = len(e.segments)
		}
	}
	if e.maker.Home == len(e.segments) {
		e.maker.Home = 0
	}
	return e
}

// sounds reports whether a tone, however spelled, is one of a chord's.
func sounds(c theory.Chord, tone theory.Tone) bool {
	for _, own := range c.Tones() {
		if own.Class() == tone.Class() {
			return true
		}
	}
	return false
}

// Every rule of the line, over random exercises.
func TestLineKeepsItsRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anyExercise(t)
		steps, err := e.maker.Line(e.segments)
		if err != nil {
			var lineError *line.Error
			require.ErrorAs(t, err, &lineError)
			t.Skip("no line exists in this compass")
		}
		again, err := e.maker.Line(e.segments)
		require.NoError(t, err)
		require.Equal(t, steps, again, "the same segments give the same line")

		arrivals := make([]int, len(e.segments))
		for i, step := range steps {
			s := e.segments[step.Segment]
			require.Positive(t, step.Length)
			if i > 0 {
				require.LessOrEqual(t, steps[i-1].Tick+steps[i-1].Length, step.Tick, "one third at a time")
			}
			require.True(t, step.Notes.IsThird(), "%v is no third", step.Notes)
			require.True(t, s.Scale.Contains(step.Notes.Lower.Tone), "%v over %v", step.Notes, s.Chord)
			require.True(t, s.Scale.Contains(step.Notes.Upper.Tone), "%v over %v", step.Notes, s.Chord)
			require.GreaterOrEqual(t, step.Notes.Staff(), e.maker.Low)
			require.LessOrEqual(t, step.Notes.Staff(), e.maker.High)
			require.Equal(t, e.maker.Closed && step.Segment+1 == len(e.segments) && step.Role != line.Arrival, step.LeadsBack)
			if step.Role != line.Arrival {
				continue
			}
			arrivals[step.Segment]++
			if step.Tick != s.Start {
				require.True(t, e.maker.Rhythm.Push)
				require.Equal(t, s.Start-quarter/2, step.Tick, "an eighth early")
			}
			if s.Chord.HasThird() && !strings.Contains(s.Chord.String(), "sus") {
				require.True(t, sounds(s.Chord, step.Notes.Lower.Tone) && sounds(s.Chord, step.Notes.Upper.Tone))
			}
		}
		for i, n := range arrivals {
			require.Equal(t, 1, n, "chord %d has one arrival", i+1)
		}
	})
}

// Thirds on the beat belong to the chord, in part at least (common practice:
// passing notes stand on weak places).
func TestThirdsOnTheBeatShareANoteWithTheChord(t *testing.T) {
	for _, name := range []string{"C major", "A minor", "G mixolydian", "D dorian"} {
		key := theorytest.Key(t, name)
		for _, grid := range []int{480, 240, 120} {
			for density := 0; density <= 100; density += 10 {
				m := maker(key, density, grid)
				m.Closed = true
				triads := key.Triads()
				var segments []line.Segment
				for i, degree := range []int{0, 3, 5, 1, 0, 2, 3, 4} {
					segments = append(segments, line.Segment{
						Start: i * bar, End: (i + 1) * bar, Bar: i, Chord: triads[degree].Chord, Scale: chordscale.Over(key, triads[degree].Chord),
					})
				}
				steps, err := m.Line(segments)
				require.NoError(t, err)
				for _, step := range steps {
					c := segments[step.Segment].Chord
					if step.Tick%quarter == 0 {
						assert.True(t, sounds(c, step.Notes.Lower.Tone) || sounds(c, step.Notes.Upper.Tone),
							"%s, %d %%: %v over %v at %d", name, density, step.Notes, c, step.Tick)
					}
				}
			}
		}
	}
}

func distance(a, b int) int { return max(a-b, b-a) }

// Over E7 the G of A minor is G sharp (common practice: the raised seventh).
func TestLineFollowsTheChordsAlteredTones(t *testing.T) {
	key := theorytest.Key(t, "A minor")
	steps, err := maker(key, 100, 240).Line(segmentsOf(t, key, bar, "Am", "E7", "Am"))
	require.NoError(t, err)
	for _, step := range steps {
		for _, p := range []theory.Pitch{step.Notes.Lower, step.Notes.Upper} {
			if p.Letter == theory.G {
				assert.Equal(t, step.Segment == 1, p.Alter == 1, "%v in segment %d", p, step.Segment)
			}
		}
	}
}

// The altered tone is what the ear waits for; a chord of the key begins with its
// own third, and a sustained fourth is left alone (common practice).
func TestArrivalsTellTheirChord(t *testing.T) {
	key := theorytest.Key(t, "C major")
	for symbol, want := range map[string]string{
		"E7": "G♯", "A7": "C♯", "Fm": "A♭", "D7": "F♯", "C7": "B♭", "Am": "C", "Dm7": "F", "G7": "B", "Cmaj7": "E",
	} {
		for density := 0; density <= 100; density += 25 {
			steps, err := maker(key, density, 240).Line(segmentsOf(t, key, bar, "C", symbol, "C"))
			require.NoError(t, err)
			for _, step := range steps {
				if step.Segment == 1 && step.Role == line.Arrival {
					assert.Contains(t, []string{step.Notes.Lower.Tone.String(), step.Notes.Upper.Tone.String()}, want,
						"%v arrives on %v", symbol, step.Notes)
				}
			}
		}
	}
	for _, symbol := range []string{"Gsus4", "G7sus4"} {
		steps, err := maker(key, 100, 240).Line(segmentsOf(t, key, bar, "C", symbol, "C"))
		require.NoError(t, err)
		for _, step := range steps {
			if step.Segment == 1 {
				assert.NotEqual(t, theory.B, step.Notes.Lower.Letter, symbol)
				assert.NotEqual(t, theory.B, step.Notes.Upper.Letter, symbol)
			}
		}
	}
}

func TestLineEndsAtHome(t *testing.T) {
	for _, name := range []string{"C major", "E minor", "D dorian"} {
		key := theorytest.Key(t, name)
		tonic := key.Triads()[0]
		for density := 0; density <= 100; density += 10 {
			for _, closed := range []bool{false, true} {
				m := maker(key, density, 240)
				m.Closed = closed
				steps, err := m.Line(segmentsOf(t, key, bar, tonic.ASCII(), key.Triads()[4].ASCII(), tonic.ASCII()))
				require.NoError(t, err)
				for _, step := range steps {
					if step.Segment == 2 && step.Role == line.Arrival {
						assert.True(t, step.Notes.Lower.Tone == key.Tonic || step.Notes.Upper.Tone == key.Tonic, "%s: %v", name, step.Notes)
					}
				}
			}
		}
	}
}

func TestLineRestsWhereNoChordSounds(t *testing.T) {
	key := theorytest.Key(t, "C major")
	segments := segmentsOf(t, key, bar, "C", "F", "G")
	segments = append(segments[:1], segments[2:]...) // a bar of rest in between
	steps, err := maker(key, 100, 240).Line(segments)
	require.NoError(t, err)
	require.Len(t, steps, 2)
	assert.Equal(t, bar, steps[0].Length)
	assert.Equal(t, 2*bar, steps[1].Tick)
}

func TestLineGoesRoundWhatCannotBePlayed(t *testing.T) {
	key := theorytest.Key(t, "C major")
	m := maker(key, 100, 240)
	hole := staff("F4")
	m.Effort = func(third theory.Third) (int, bool) { return 0, third.Staff() != hole }
	steps, err := m.Line(segmentsOf(t, key, bar, "C", "Am", "Dm", "G"))
	require.NoError(t, err)
	for _, step := range steps {
		assert.NotEqual(t, hole, step.Notes.Staff())
	}
}

func TestLineErrorNamesTheChord(t *testing.T) {
	key := theorytest.Key(t, "C major")
	m := maker(key, 50, 240)
	m.Effort = func(third theory.Third) (int, bool) {
		return 0, third.Lower.Letter != theory.F && third.Lower.Letter != theory.A
	}
	_, err := m.Line(segmentsOf(t, key, bar, "C", "G", "F"))
	var lineError *line.Error
	require.ErrorAs(t, err, &lineError)
	assert.Equal(t, 2, lineError.Segment)
	assert.EqualError(t, err, "chord 3: none of the thirds of F can be played here")
}

// Behind a breath a line may leap a fourth or a fifth, and no farther, however much
// easier for the hand that were (common practice: a wider leap is another voice).
func TestALeapBehindABreathIsAFifthAtMost(t *testing.T) {
	key := theorytest.Key(t, "C major")
	for easy, leap := range map[string]int{"F4": 3, "G4": 4, "A4": 5} {
		m := maker(key, 50, 240)
		first := pitch("C4")
		m.Own = map[int][]line.Slot{0: {{Sign: rhythm.Begin, Lower: &first}, {Sign: rhythm.Rest}, {Sign: rhythm.Begin}, {Sign: rhythm.Hold}}}
		m.Effort = func(third theory.Third) (effort int, ok bool) {
			if third.Staff() == staff(easy) {
				return 0, true
			}
			return 200, true
		}
		steps, err := m.Line(segmentsOf(t, key, bar, "C", "C"))
		require.NoError(t, err)
		assert.Equal(t, leap <= 4, steps[1].Notes.Staff() == staff(easy), easy)
	}
}
