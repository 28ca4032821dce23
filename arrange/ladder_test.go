package arrange_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange"
	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

func lowerNotes(s *score.Score) (names []string) {
	for _, third := range s.Line {
		names = append(names, third.Notes.Lower.ASCII())
	}
	return names
}

// The shapes along strings 3 and 2, a major third apart, as the nut is left behind
// (common practice: a major third lies on one fret, a minor third one apart).
func TestLadderAlongTwoStrings(t *testing.T) {
	s := arrangetest.Score(t, "title: Rails\nkey: C major\nladder: 2-3\n")
	assert.Equal(t, []string{
		"C4", "D4", "E4", "F4", "G4", "A4", "G4", "F4", "E4", "D4", "C4", "B3", "A3", "G3", "A3", "B3", "C4",
	}, lowerNotes(s))
	for i, third := range s.Line {
		assert.Equal(t, i*480, third.Tick, "one a beat")
		assert.Equal(t, 3, third.Places.Lower.String)
		assert.Equal(t, 2, third.Places.Upper.String)
		apart := third.Places.Lower.Fret - third.Places.Upper.Fret
		assert.Equal(t, map[string]int{"major": 0, "minor": 1}[third.Notes.Quality()], apart, "%v", third.Notes)
	}
	last := s.Line[len(s.Line)-1]
	assert.Equal(t, s.Length(), last.Tick+last.Length, "the last is held to the end")
	assert.Len(t, s.Bars, 5)
}

// A ladder goes no higher than a student plays (common practice: most acoustic guitars
// meet the body at fret 14), and its fingers belong to its places.
func TestALadderStaysBelowTheBody(t *testing.T) {
	for _, key := range []string{"C major", "E major", "B minor", "Ab major"} {
		for _, along := range []string{"free", "1-2", "5-6"} {
			for _, guitar := range []string{"", "guitar: {capo: 5}\n", "guitar: {tuning: D2 A2 D3 F#3 A3 D4}\n"} {
				s := arrangetest.Score(t, "title: Body\nkey: "+key+"\nladder: "+along+"\n"+guitar)
				for _, third := range s.Line {
					highest := max(third.Places.Lower.Fret, third.Places.Upper.Fret)
					assert.LessOrEqual(t, highest+s.Neck.Capo, 15, "%s %s %s", key, along, guitar)
					lowest := min(third.Places.Lower.Fret, third.Places.Upper.Fret)
					assert.True(t, lowest == 0 || third.Hand <= lowest && highest <= third.Hand+neck.Span, "the hand is at %d for %v", third.Hand, third.Places)
				}
			}
		}
	}
}

func TestLadderOverEachDegreesTriad(t *testing.T) {
	s := arrangetest.Score(t, "title: Loft\nkey: G major\nladder: position\nladder-chords: triads\nguitar: {position: open}\n")
	next := 0
	for _, bar := range s.Bars {
		for _, span := range bar.Chords {
			third := s.Line[next]
			next++
			assert.Equal(t, span.Tick, third.Tick)
			assert.Equal(t, third.Notes.Lower.Tone, span.Chord.Root)
			assert.Equal(t, score.Arrival, third.Role)
		}
	}
	assert.Len(t, s.Line, next)
}

// The thirds that a position lacks (read off the neck: on strings a fourth apart a major
// third lies one fret apart and a minor third two, G and B have it on the same fret and one
// apart) are told, and nothing is where none is lacking.
func TestTheThirdsThatALadderLeavesOutAreTold(t *testing.T) {
	for ladder, want := range map[string]string{
		"position\nguitar: {position: open}": "the ladder leaves out A2–C3, D3–F3, out of the hand's reach in open position",
		"position\nguitar: {position: 5}":    "the ladder leaves out D3–F3, G3–B3, out of the hand's reach in position 5",
		"free":                               "",
		"2-3":                                "",
	} {
		e := arrangetest.Parse(t, "title: Any\nkey: C major\nladder: "+ladder+"\n")
		_, found, err := arrange.Arrange(e)
		require.NoError(t, err)
		told := ""
		for _, f := range found {
			if strings.Contains(f.Message, "leaves out") {
				told += f.Message
				assert.Equal(t, source.Note, f.Severity)
			}
		}
		assert.Equal(t, want, told, ladder)
	}
}

// From the tonic up by step to the highest, down to the lowest, and home, in every key,
// along every pair of strings and in every position, all of it within the fret board.
func TestLaddersGoUpAndDown(t *testing.T) {
	for _, mode := range []theory.Mode{theory.Major, theory.Minor, theory.HarmonicMinor, theory.Dorian} {
		for _, key := range mode.Keys() {
			for _, ladder := range []string{"1-2", "2-3", "3-4", "4-5", "5-6", "free", "position"} {
				e := arrangetest.Parse(t, fmt.Sprintf("title: Any\nkey: %s\nladder: %s\n", key, ladder))
				s := arrangetest.Arrange(t, e)
				names := lowerNotes(s)
				n := len(names)
				require.GreaterOrEqual(t, n, 5)
				require.Equal(t, key.Tonic, s.Line[0].Notes.Lower.Tone)
				require.Equal(t, names[0], names[n-1], "home")
				ways := []bool{true} // up, down, and up again where the tonic's is not the lowest
				heard := map[string]bool{names[0]: true}
				for i, third := range s.Line[1:] {
					up := third.Notes.Staff() > s.Line[i].Notes.Staff()
					if up != ways[len(ways)-1] {
						ways = append(ways, up)
					}
					heard[names[i+1]] = true
				}
				require.Contains(t, []int{2, 3}, len(ways))
				require.Equal(t, n, 2*len(heard)-1, "each there and back")
				require.NotEqual(t, neck.Lowest, s.Position)
				for _, third := range s.Line {
					require.True(t, third.Notes.IsThird())
					if ladder != "free" {
						require.LessOrEqual(t, max(third.Places.Lower.Fret, third.Places.Upper.Fret), 15)
					}
				}
			}
		}
	}
}

func TestLadderInAWrittenRhythmOrInTheGrid(t *testing.T) {
	s := arrangetest.Score(t, "title: Rails\nkey: C major\nladder: 2-3\nline: {rhythm: 'x . x x'}\n")
	assert.Equal(t, []int{0, 960, 1440, 1920}, []int{s.Line[0].Tick, s.Line[1].Tick, s.Line[2].Tick, s.Line[3].Tick})
	assert.Equal(t, 480, s.Line[0].Length, "and a rest")
	s = arrangetest.Score(t, "title: Rails\nkey: C major\nladder: 2-3\nmeter: 6/8\nline: {grid: eighths}\n")
	assert.Equal(t, 240, s.Line[1].Tick)
	s = arrangetest.Score(t, "title: Rails\nkey: C major\nladder: 2-3\nmeter: 6/8\n")
	assert.Equal(t, 720, s.Line[1].Tick, "one a beat")
	s = arrangetest.Score(t, "title: Rails\nkey: C major\nladder: 2-3\nmeter: 7/8\n")
	assert.Equal(t, []int{480, 960, 1680}, []int{s.Line[1].Tick, s.Line[2].Tick, s.Line[3].Tick}, "on the beats of 2+2+3")
}

func TestALadderThatCannotBePlayedIsAMistake(t *testing.T) {
	_, _, err := arrange.Arrange(arrangetest.Parse(t, "title: Rails\nkey: C major\nladder: 2-3\nline: {low: C6}\n"))
	var list source.Findings
	require.ErrorAs(t, err, &list)
	assert.Equal(t, "a ladder of C major has only 0 thirds here", list[0].Message)
	assert.Equal(t, 3, list[0].Line)
}

func TestLadderMovesToOtherKeys(t *testing.T) {
	e := arrangetest.Parse(t, "title: Rails\nkey: C major\nladder: 2-3\n")
	to, err := e.TargetKey("Eb")
	require.NoError(t, err)
	assert.Equal(t, "Eb4", lowerNotes(arrangetest.Arrange(t, exercise.Transpose(e, to)))[0])
}
