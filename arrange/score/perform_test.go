package score_test

import (
	"math/big"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

func notesOf(p *score.Performance, part score.Part) []score.Note {
	var notes []score.Note
	for _, n := range p.Notes {
		if n.Part == part {
			notes = append(notes, n)
		}
	}
	return notes
}

const climbing = "title: Hill\nkey: C major\nchart: '| C | Am | F | G |'\ntempos: [60, 80]\nclimb: 8\nbass: walking\n"

// The climb goes through the chart once a tempo, with a bar of
// click before each, the last step cut short at the highest tempo.
func TestTheClimbGoesThroughTheTempos(t *testing.T) {
	s := arrangetest.Score(t, climbing)
	p := s.Climbing()
	assert.Equal(t, []score.TempoChange{
		{Tick: 0, QuarterMicros: 125_000},         // half a second of silence
		{Tick: 1920, QuarterMicros: 1_000_000},    // 60
		{Tick: 6 * 1920, QuarterMicros: 882_353},  // 68
		{Tick: 11 * 1920, QuarterMicros: 789_474}, // 76
		{Tick: 16 * 1920, QuarterMicros: 750_000}, // 80
	}, p.Tempos)
	assert.Equal(t, (1+4*5)*1920, p.Length)
	assert.Equal(t, []int{1920, 6 * 1920, 11 * 1920, 16 * 1920}, p.CountIns)
	for i, bar := range p.Bars {
		assert.Equal(t, 1920*(2+i+i/4), bar.Tick)
	}
	// Half a second, 20 s at 60, then five bars at each: added up without the clock's help.
	seconds := 0.5 + 20.0*(1+0.882353+0.789474+0.75)
	assert.InDelta(t, seconds*44100, float64(p.Sample(p.Length, 44100)), 1)
}

// Two hundred thousand hours at 20 beats a minute, far beyond any exercise, are
// reckoned as exactly as integers of any size reckon them (math/big).
func TestSamplesStayExactHoweverLongItLasts(t *testing.T) {
	p := &score.Performance{Tempos: []score.TempoChange{{QuarterMicros: 2_999_999}}}
	for tick := 1; tick < 200_000*3600*meter.Quarter/3; tick = 7*tick + 3 {
		exact := new(big.Int).Mul(big.NewInt(int64(tick)), big.NewInt(2_999_999*48000))
		second := big.NewInt(1_000_000 * meter.Quarter)
		exact.Add(exact, big.NewInt(second.Int64()/2)).Div(exact, second)
		assert.Equal(t, exact.Int64(), int64(p.Sample(tick, 48000)), "tick %d", tick)
	}
}

func TestAClimbIsMadeOnlyWhereItIsAskedFor(t *testing.T) {
	assert.Nil(t, arrangetest.Score(t, "title: Flat\nkey: C major\nchart: '| C |'\n").Climbing())
}

// The loop is the chart once, and nothing in it comes to an end: the line leads
// back and every chord is strummed through.
func TestLoopLeadsBack(t *testing.T) {
	s := arrangetest.Score(t, climbing)
	p := s.Loop(60)
	assert.Equal(t, s.Length(), p.Length)
	assert.Len(t, notesOf(p, score.GuideUpper), len(s.Line))
	assert.Equal(t, p.Length, p.End)
	assert.Empty(t, p.CountIns)
	// The first stroke begins before the beat: at the end of the time before.
	chords := notesOf(p, score.Chords)
	assert.Greater(t, chords[len(chords)-1].Tick, p.Length-100)
	assert.Equal(t, 0, chords[len(chords)-1].Bar)
	for _, n := range p.Notes {
		assert.GreaterOrEqual(t, n.Tick, 0)
		assert.Less(t, n.Tick, p.Length)
	}
}

func TestTurnsHaveTheGuideOnOddPasses(t *testing.T) {
	s := arrangetest.Score(t, "title: Canyon\nkey: C major\nchart: '| C | F |'\npasses: 4\n")
	p := s.Perform(60)
	turns := p.Turns(0)
	assert.Equal(t, notesOf(p, score.Chords), notesOf(turns, score.Chords))
	for _, n := range notesOf(turns, score.GuideLower) {
		assert.Equal(t, 1, n.Pass%2)
	}
	assert.NotEmpty(t, notesOf(turns, score.GuideLower))
}

// A turn of two bars alternates within the pass, and the next time through the
// turns are swapped.
func TestTurnsOfBarsAreSwappedTheNextTime(t *testing.T) {
	s := arrangetest.Score(t, "title: Canyon\nkey: C major\nchart: '| C | F | G | C | Am |'\npasses: 2\nturns: 2\n")
	p := s.Perform(60)
	heard := map[int]bool{}
	for _, n := range notesOf(p.Turns(s.Turns), score.GuideLower) {
		heard[n.Bar] = true
	}
	want := map[int]bool{0: true, 1: true, 4: true, 5 + 2: true, 5 + 3: true}
	assert.Equal(t, want, heard)
}

// A student who plays the last chord wants to hear it end.
func TestLastChordRings(t *testing.T) {
	s := arrangetest.Score(t, climbing)
	p := s.Perform(60)
	assert.Equal(t, p.Length+3*480, p.End, "three seconds, at 60")
	chords := slices.DeleteFunc(notesOf(p, score.Chords), func(n score.Note) bool { return n.Bar < len(p.Bars)-1 })
	assert.Len(t, chords, 6, "the last G is struck once, on all its strings")
	for _, n := range chords {
		assert.Equal(t, p.End, n.Tick+n.Length)
	}
}

// The bass begins each chord with its root, or the bass that the symbol names,
// and walks into the next by a step (common practice).
func TestBassWalksIntoTheNextChord(t *testing.T) {
	for _, e := range arrangetest.Exercises(t) {
		e.Bass = exercise.Walking
		s := arrangetest.Arrange(t, e)
		at := map[int]score.BassNote{}
		ends := map[int]score.BassNote{}
		for _, n := range s.Bass {
			at[n.Tick], ends[n.Tick+n.Length] = n, n
		}
		for _, bar := range s.Bars {
			for _, span := range bar.Chords {
				if span.None {
					continue
				}
				first, ok := at[span.Tick]
				require.True(t, ok)
				assert.Equal(t, span.Chord.Bass, first.Pitch.Tone)
				if before, ok := ends[span.Tick]; ok && at[before.Tick].Length <= s.Meter.Beat() && span.Tick-before.Tick <= s.Meter.Beat() {
					steps := first.Pitch.Staff() - before.Pitch.Staff()
					if !beginsChord(s, before.Tick) {
						assert.Equal(t, 1, max(steps, -steps), "%s into %s", before.Pitch, first.Pitch)
					}
				}
			}
		}
	}
}

// The chart goes round, so its last note walks into its first chord too.
func TestBassWalksBackToTheBeginning(t *testing.T) {
	for _, chart := range []string{"| Am | F | C | Am |", "| Bb | Gm | Eb | F |", "| C | C |", "| G |"} {
		s := arrangetest.Score(t, "title: Round\nkey: C major\nchart: '"+chart+"'\nbass: walking\n")
		first, last := s.Bass[0].Pitch, s.Bass[len(s.Bass)-1].Pitch
		steps := first.Staff() - last.Staff()
		assert.Equal(t, 1, max(steps, -steps), "%s: %s into %s", chart, last, first)
	}
}

func beginsChord(s *score.Score, tick int) bool {
	for _, bar := range s.Bars {
		for _, span := range bar.Chords {
			if span.Tick == tick {
				return true
			}
		}
	}
	return false
}

func TestBassOfRootAndFifth(t *testing.T) {
	s := arrangetest.Score(t, "title: Low\nkey: C major\nchart: '| C | F/C | Bdim | % |'\nbass: root-fifth\n")
	var names []string
	for _, n := range s.Bass {
		names = append(names, n.Pitch.Tone.String())
	}
	assert.Equal(t, []string{"C", "G", "C", "F", "B", "F", "B", "F"}, names)
}

func TestBassIsOffUnlessAskedFor(t *testing.T) {
	assert.Empty(t, arrangetest.Score(t, "title: Low\nkey: C major\nchart: '| C |'\n").Bass)
}

// The last time through, nothing leads back: the last arrival is held until its
// bar ends, and rings on.
func TestTheLastArrivalIsHeldInTheLastPass(t *testing.T) {
	s := arrangetest.Score(t, climbing)
	require.True(t, s.Line[len(s.Line)-1].LeadsBack, "so that there is something to leave out")
	p := s.Perform(60)
	var last score.Note
	for _, n := range notesOf(p, score.GuideLower) {
		if n.Tick > last.Tick {
			last = n
		}
	}
	end := p.Bars[len(p.Bars)-1].Tick + s.Meter.Bar()
	assert.GreaterOrEqual(t, last.Tick+last.Length, end)
	var arrival score.Third
	for _, third := range s.Line {
		if third.Role == score.Arrival {
			arrival = third
		}
	}
	assert.Equal(t, arrival.Notes.Lower, last.Pitch)
	assert.Equal(t, end-(s.Length()-arrival.Tick), last.Tick)
}

// What accompanies the line is played alike whatever the line is: a string that yields to
// it is struck as it would be alone. So kits of a key share it.
func TestAccompanimentIsTheSameUnderEveryLine(t *testing.T) {
	const song = "title: Ridge\nkey: G major\nchart: '| G | C | D7 | Em | C | D | G | G |'\nbass: walking\ngroove: shaker\n"
	played := func(settings string) (*score.Performance, []score.Note) {
		p := arrangetest.Score(t, song+settings).Perform(80)
		var notes []score.Note
		for _, n := range slices.Concat(notesOf(p, score.Chords), notesOf(p, score.Bass)) {
			n.Velocity, n.Yield = n.Velocity+n.Yield, 0
			notes = append(notes, n)
		}
		return p, notes
	}
	first, want := played("guitar: {position: open}\n")
	require.True(t, slices.ContainsFunc(first.Notes, func(n score.Note) bool { return n.Yield > 0 }), "so that there is something to yield")
	for _, settings := range []string{"guitar: {position: 5}\n", "guitar: {position: 9}\n", "line: {density: 0%}\n", "line: {density: 100%}\n"} {
		p, notes := played(settings)
		assert.Equal(t, want, notes, settings)
		assert.Equal(t, first.Click, p.Click)
		assert.Equal(t, first.Percussion, p.Percussion)
		assert.NotEqual(t, notesOf(first, score.GuideLower), notesOf(p, score.GuideLower), settings)
	}
}
