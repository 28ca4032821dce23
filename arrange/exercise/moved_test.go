package exercise_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/exercise"
	"thirdwise/theory/theorytest"
)

// Notes that the teacher wrote go to the new key by the nearer way, a tritone up
// (common practice: a part stays where hand and ear had it).
func TestWrittenNotesMoveTheNearerWay(t *testing.T) {
	e := parse(t, "title: Own\nkey: C major\nchart: '| C | G/B | 5 | V7/B |'\nline: {own: {1: C4 - - . E4 F4 x x}}\n")
	for to, want := range map[string]string{
		"C": "C4 E4 F4", "D": "D4 F♯4 G4", "F": "F4 A4 B♭4", "F#": "F♯4 A♯4 B4", "G": "G3 B3 C4", "A": "A3 C♯4 D4", "B": "B3 D♯4 E4", "Db": "D♭4 F4 G♭4",
	} {
		key, err := e.TargetKey(to)
		require.NoError(t, err)
		moved := exercise.Transpose(e, key)
		var notes []string
		for _, slot := range moved.Line.Own[0] {
			if slot.Lower != nil {
				notes = append(notes, slot.Lower.String())
			}
		}
		assert.Equal(t, want, strings.Join(notes, " "), to)
		assert.Equal(t, key.Tonic, moved.Chart[0].Chords[0].Chord.Root)
	}
	key, err := e.TargetKey("D major")
	require.NoError(t, err)
	moved := exercise.Transpose(e, key)
	var chords []string
	for _, bar := range moved.Chart {
		chords = append(chords, bar.Chords[0].Chord.String())
	}
	assert.Equal(t, []string{"D", "A/C♯", "A", "A7/C♯"}, chords)
	assert.Equal(t, "C", e.Chart[0].Chords[0].Chord.String(), "the exercise itself stays")

	_, err = e.TargetKey("D minor")
	assert.ErrorContains(t, err, "it can be moved to another tonic, not to D minor")
	_, err = e.TargetKey("Q")
	assert.Error(t, err)
	low := parse(t, "title: Low\nkey: A major\nchart: '| 1 |'\nline: {own: {1: A3 - - - - - - -}}\n")
	assert.Equal(t, "C4", exercise.Transpose(low, theorytest.Key(t, "C major")).Line.Own[0][0].Lower.String(), "up a third, not down a sixth")
}

func TestOtherTemposAreChecked(t *testing.T) {
	e := parse(t, "title: Tempos\nkey: C major\nchart: '| C |'\ntempos: [60, 80]\n")
	for _, tempo := range []int{20, 400} {
		other, err := e.WithTempos([]int{100, tempo})
		require.NoError(t, err)
		assert.Equal(t, []int{100, tempo}, other.Tempos)
		_, ok := other.TempoSpan(0)
		assert.False(t, ok, "it does not stand in the text")
	}
	for _, c := range []struct {
		tempos []int
		want   string
	}{
		{[]int{19}, "the tempo 19 is outside 20 to 400 beats per minute"},
		{[]int{60, 401}, "the tempo 401 is outside 20 to 400 beats per minute"},
		{[]int{60, 80, 60}, "the tempo 60 is given twice"},
	} {
		_, err := e.WithTempos(c.tempos)
		assert.EqualError(t, err, c.want)
	}
	at, ok := e.TempoSpan(1)
	assert.True(t, ok)
	assert.Equal(t, 4, at.Line)
	_, ok = e.TempoSpan(2)
	assert.False(t, ok)
}

func TestTheCompassIsSaidInWords(t *testing.T) {
	for line, want := range map[string]string{"low: C3": "from C3 up", "high: A4": "up to A4", "low: C3, high: A4": "from C3 to A4"} {
		assert.Equal(t, want, parse(t, "title: Compass\nkey: C major\nchart: '| C |'\nline: {"+line+"}\n").Line.Compass())
	}
}

// What is said about settings of an exercise that is otherwise whole, as a teacher would
// read it.
func TestSettingsAreAnsweredInWords(t *testing.T) {
	for setting, want := range map[string]string{
		"tempos: 60-100 by 20":               "is not a list of tempos; list each of them: [60, 80, 100]",
		"tempos: 60-90 in steps of 20":       "list each of them: [60, 80]",
		"tempos: 60-180 by 10":               "list each of them: [60, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 170, 180]",
		"tempos: 60-190 by 10":               "does not say which tempos lie between; list each of them, as in [60, 125, 190]",
		"tempos: 60-100":                     "list each of them, as in [60, 80, 100]",
		"ladder: 0-1":                        "is not a pair of neighbouring strings; use two from 1, the highest, to 6, as in 2-3",
		"ladder: 1-3":                        "is not a pair of neighbouring strings",
		"ladder: 6-7":                        "is not a pair of neighbouring strings",
		"title: " + strings.Repeat("é", 201): "the title has 201 characters; use at most 200",
		"note: " + strings.Repeat("é", 2001): "the note has 2001 characters; use at most 2000",
		"pick: R 2 3 9":                      `"9" is not a sign of a pick; use R for the chord's bass string`,
	} {
		text := "title: Settings\nkey: C major\n"
		if !strings.HasPrefix(setting, "ladder") {
			text += "chart: '| C |'\n"
		}
		if strings.HasPrefix(setting, "title") {
			text = strings.Replace(text, "title: Settings\n", "", 1)
		}
		_, err := exercise.Parse("song.yaml", []byte(text+setting+"\n"))
		assert.ErrorContains(t, err, want, setting)
	}
	parse(t, "title: "+strings.Repeat("é", 200)+"\nkey: C major\nchart: '| C |'\n")
	parse(t, "title: Note\nkey: C major\nchart: '| C |'\nnote: "+strings.Repeat("é", 2000)+"\n")
	for _, pair := range []string{"1-2", "5-6", "6-5"} {
		assert.NotNil(t, parse(t, "title: Ladder\nkey: C major\nladder: "+pair+"\n"))
	}
	ladder := parse(t, "title: Ladder\nkey: C major\nladder: free\nladder-chords: triads\n").Ladder
	assert.Equal(t, exercise.AlongNeck, ladder.Along)
	e := parse(t, "title: Note\nkey: C major\nchart: '| C |'\nnote: |\n  One\n  two.\n\n\n\n  Three.\n\n")
	assert.Equal(t, []string{"One two.", "Three."}, e.Handout.Note)
}

func TestYesAndNoAreReadAsTheyAreSaid(t *testing.T) {
	for said, want := range map[string]bool{"yes": true, "no": false, "true": true, "off": false, "on": true} {
		e := parse(t, "title: Said\nkey: C major\nchart: '| C |'\nnumerals: "+said+"\nstudent: "+said+"\n")
		assert.Equal(t, [2]bool{want, want}, [2]bool{e.Handout.Numerals, e.Handout.Student}, said)
	}
	for said, want := range map[string]bool{"triads": true, "tonic": false, "all": true, "one": false} {
		assert.Equal(t, want, parse(t, "title: Ladder\nkey: C major\nladder: position\nladder-chords: "+said+"\n").Ladder.Triads, said)
	}
}

// A pick plucks strings that the guitar has (a bass has four).
func TestAPickPlucksTheStringsThatAreThere(t *testing.T) {
	text := "title: Pick\nkey: C major\nchart: '| C |'\npick: 'R 4 3 5'\nguitar: {tuning: %s}\n"
	parse(t, fmt.Sprintf(text, "standard"))
	_, err := exercise.Parse("song.yaml", fmt.Appendf(nil, text, "bass"))
	assert.ErrorContains(t, err, "5")
	_, err = exercise.Parse("song.yaml", fmt.Appendf(nil, text, "Q"))
	assert.ErrorContains(t, err, "tuning")
}

// Behind a capo the hand plays the shapes of the key so many semitones below (common
// practice: with a capo at 3, F sounds where a D is held).
func TestBehindACapoTheHandPlaysOtherShapes(t *testing.T) {
	for capo, want := range map[int]string{0: "F", 1: "E", 3: "D", 5: "C", 8: "A", 10: "G", 12: "F"} {
		e := parse(t, fmt.Sprintf("title: Capo\nkey: F major\nchart: '| F |'\nguitar: {capo: %d}\n", capo))
		assert.Equal(t, want, e.ShapeOf(e.Chart[0].Chords[0].Chord).String(), "capo %d", capo)
		if capo == 0 {
			continue
		}
		shapes := parse(t, fmt.Sprintf("title: Capo\nkey: F major\nchart: '| %s | 4 |'\nchart-as: shapes\nguitar: {capo: %d}\n", want, capo))
		assert.Equal(t, "F", shapes.Chart[0].Chords[0].Chord.String(), "capo %d", capo)
		assert.Equal(t, "B♭", shapes.Chart[1].Chords[0].Chord.String(), "a degree is the key's own")
	}
}
