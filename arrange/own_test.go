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
)

const ownChart = "title: Own\nkey: C major\nchart: '| C | Am | F | G | C | Am | F G | C |'\n"

// written draws the line of a bar as an exercise writes it, in eighths.
func written(s *score.Score, bar int) string {
	var signs []string
	start := s.Bars[bar].Tick
	for tick := start; tick < start+s.Meter.Bar(); tick += 240 {
		sign := "."
		for _, third := range s.Line {
			switch {
			case third.Tick == tick:
				sign = third.Notes.Lower.ASCII()
			case third.Tick < tick && tick < third.Tick+third.Length:
				sign = "-"
			}
		}
		signs = append(signs, sign)
	}
	return strings.Join(signs, " ")
}

func TestWhatTheTeacherWritesHolds(t *testing.T) {
	s := arrangetest.Score(t, ownChart+"line:\n  own:\n    3: C4 - - . E4 F4 G4 A4\n    6: A3 x - - . . x x\n")
	assert.Equal(t, "C4 - - . E4 F4 G4 A4", written(s, 2))
	assert.Regexp(t, `^A3 [A-G]\d - - \. \. [A-G]\d [A-G]\d$`, written(s, 5))
}

// The rhythm's bars are used in turn.
func TestWrittenRhythmComesInTurn(t *testing.T) {
	s := arrangetest.Score(t, ownChart+"line: {rhythm: 'x - - - - x x x | x - . x x - x -'}\n")
	for bar := range s.Bars[:6] {
		want := []string{"x - - - - x x x", "x - . x x - x -"}[bar%2]
		assert.Regexp(t, "^"+strings.NewReplacer("x", `[A-G]\d`, ".", `\.`).Replace(want)+"$", written(s, bar))
	}
}

func TestWrittenNotesMoveWithTheKey(t *testing.T) {
	e := arrangetest.Parse(t, ownChart+"line:\n  own:\n    3: C4 - - . E4 F4 G4 A4\n")
	high := exercise.Transpose(e, theory.Key{Tonic: theory.Tone{Letter: theory.B}})
	back := exercise.Transpose(high, e.Key)
	assert.Equal(t, "B3 - - . D#4 E4 F#4 G#4", written(arrangetest.Arrange(t, high), 2))
	assert.Equal(t, "C4 - - . E4 F4 G4 A4", written(arrangetest.Arrange(t, back), 2), "up a semitone, not down a seventh")
	for _, k := range []struct{ key, want string }{
		{"Bb", "Bb3 - - . D4 Eb4 F4 G4"}, {"E", "E4 - - . G#4 A4 B4 C#5"},
	} {
		to, err := e.TargetKey(k.key)
		require.NoError(t, err)
		assert.Equal(t, k.want, written(arrangetest.Arrange(t, exercise.Transpose(e, to)), 2))
	}
}

func TestAWrittenNoteThatCannotBePlayedIsNamedWithItsPlace(t *testing.T) {
	for own, want := range map[string]string{
		"3: C4 - - . D#4 F4 G4 A4": "bar 3: D♯4 has no third over F: F4 lies 2 semitones above it",
		"3: C4 - - . E5 F4 G4 A4":  "bar 3: E5–G5 cannot be played in open position",
	} {
		_, _, err := arrange.Arrange(arrangetest.Parse(t, ownChart+"guitar: {position: open}\nline:\n  own:\n    "+own+"\n"))
		var list source.Findings
		require.ErrorAs(t, err, &list)
		require.Len(t, list, 1)
		assert.Equal(t, want, list[0].Message)
		assert.Equal(t, 7, list[0].Line)
		assert.Equal(t, 17, list[0].Column)
	}
}

// F in D major is mostly F♯ with its sharp left out; a slip that one hears, and not sees.
func TestAWrittenNoteBesideTheScaleIsWarnedAbout(t *testing.T) {
	const chart = "title: Own\nkey: D major\nchart: '|: D | A7 :| E7 |'\nline:\n  own:\n    "
	for own, want := range map[string][]string{
		"1: D4 E4 F4 G4":           {"bar 1: over D the line has F♯, not F: write F#4"},
		"1: D4 E4 F#4 G4":          nil,
		"2: C4 - x - . . F4 -":     {"bar 2: over A7 the line has C♯, not C: write C#4", "bar 2: over A7 the line has F♯, not F: write F#4"},
		"3: G#4 - - - - - - -":     nil,
		"3: G4 - - - - - - -":      {"bar 3: over E7 the line has G♯, not G: write G#4"},
		"1: 'D4 - - - - - Bb4 - '": {"bar 1: over D the line has B, not B♭: write B4"},
	} {
		_, list, err := arrange.Arrange(arrangetest.Parse(t, chart+own+"\n"))
		require.NoError(t, err, own)
		var got []string
		for _, f := range list.Of(source.Warning) {
			if strings.Contains(f.Message, "over ") {
				require.Len(t, f.Mends, 1)
				got = append(got, f.Message+": write "+f.Mends[0].Text)
			}
		}
		assert.Equal(t, want, got, own)
	}
}

func TestVariantsOfAnExerciseDiffer(t *testing.T) {
	e := arrangetest.Parse(t, ownChart)
	seen := map[string]bool{}
	for variant := 1; variant <= exercise.MaxVariant; variant++ {
		s := arrangetest.Arrange(t, e.WithVariant(variant))
		var all []string
		for bar := range s.Bars {
			all = append(all, written(s, bar))
		}
		assert.False(t, seen[fmt.Sprint(all)])
		seen[fmt.Sprint(all)] = true
	}
}

// A push ties the arrival over the bar line (common practice).
func TestPushedArrivalsAreTiedOver(t *testing.T) {
	s := arrangetest.Score(t, ownChart+"line: {push: on}\n")
	pushed := 0
	for _, third := range s.Line {
		if third.Role == score.Arrival && third.Tick%960 != 0 {
			pushed++
			bar := (third.Tick + 240) / s.Meter.Bar()
			assert.Equal(t, (third.Tick+240)%s.Meter.Bar(), 0, "an eighth early")
			assert.Greater(t, third.Length, 240)
			c := s.Bars[bar].Chords[0].Chord
			for _, p := range []theory.Pitch{third.Notes.Lower, third.Notes.Upper} {
				assert.True(t, c.Contains(p.Tone))
			}
		}
	}
	assert.Equal(t, 4, pushed)
}
