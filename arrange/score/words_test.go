package score_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
)

func TestMixesAreFoundByTheirNames(t *testing.T) {
	for _, want := range append(score.Mixes(), score.NoMix) {
		var m score.Mix
		require.NoError(t, m.UnmarshalText([]byte(want.String())))
		assert.Equal(t, want, m)
	}
	var m score.Mix
	assert.EqualError(t, m.UnmarshalText([]byte("echo")), `"echo" is not a mix; did you mean turns?`)
	assert.EqualError(t, m.UnmarshalText([]byte("all")),
		`"all" is not a mix; the mixes are full, backing, guide, click, chords, guide-upper, guide-lower, bass, groove, loop, turns`)
}

// The student plays along with the backing, which has all but the guide.
func TestAPartThatNobodyPlaysIsASilentMix(t *testing.T) {
	for _, c := range []struct {
		settings string
		silent   []score.Mix
	}{
		{"", []score.Mix{score.BassAlone, score.GrooveAlone}},
		{"bass: walking\n", []score.Mix{score.GrooveAlone}},
		{"groove: shaker\n", []score.Mix{score.BassAlone}},
		{"bass: walking\ngroove: shaker\n", nil},
	} {
		s := arrangetest.Score(t, "title: Parts\nkey: C major\nchart: '| C |'\n"+c.settings)
		var silent []score.Mix
		for _, m := range score.Mixes() {
			if m.Silent(s) {
				silent = append(silent, m)
			}
		}
		assert.Equal(t, c.silent, silent, c.settings)
	}
}

func TestTheLastTempoIsTheOneToWorkTowards(t *testing.T) {
	s := arrangetest.Score(t, "title: Tempos\nkey: C major\nchart: '| C |'\ntempos: [60, 80, 100]\n")
	assert.Equal(t, 100, s.Tempo())
}

func TestTheBackingIsTheFullMixWithoutTheGuide(t *testing.T) {
	assert.ElementsMatch(t, score.Full.Parts(), append(score.Backing.Parts(), score.GuideUpper, score.GuideLower))
	assert.NotContains(t, score.Guide.Parts(), score.Chords)
	for _, alone := range []score.Mix{score.ClickAlone, score.ChordsAlone, score.GuideUpperAlone, score.GuideLowerAlone, score.BassAlone} {
		assert.Len(t, alone.Parts(), 1)
	}
}

func TestPatternsAreWrittenAsInExercises(t *testing.T) {
	strum := score.Pattern{{Sign: score.Down, Accent: true}, {Sign: score.Ring}, {Sign: score.Damped}, {Sign: score.Up}}
	assert.Equal(t, ">D-xU", strum.String())
	assert.Equal(t, ">D - x U", strum.Spaced())
	assert.False(t, strum.Picked())
	pick := score.Pattern{{Sign: score.Pick, Strings: []int{score.Root}}, {Sign: score.Pick, Strings: []int{2, 1}}, {Sign: score.Ring}}
	assert.Equal(t, "R (21) -", pick.Spaced())
	assert.True(t, pick.Picked())
}

// What the sheet and the tab say under the title.
func TestTheLinesMovementIsSaidInWords(t *testing.T) {
	const begin = "title: Words\nkey: C major\n"
	const chart = "chart: '| C | G |'\n"
	for text, want := range map[string]string{
		begin + chart:                                         "the line in 50 % of the eighths",
		begin + chart + "line: {density: 0}\n":                "the line of arrivals alone",
		begin + chart + "line: {rhythm: x - . x}\n":           "the line in the rhythm x-.x",
		begin + chart + "line: {rhythm: x - . x | x x x x}\n": "the line in the rhythm x-.x|xxxx",
		begin + "ladder: 2-3\n":                               "the thirds of the key up and down strings 2 and 3, over the tonic chord",
		begin + "ladder: position\nladder-chords: triads\nguitar: {position: open}\n": "the thirds of the key up and down through the position, over each degree's own triad",
		begin + "ladder: free\n": "the thirds of the key up and down the whole neck, over the tonic chord",
	} {
		assert.Equal(t, want, arrangetest.Score(t, text).Movement(), text)
	}
}

// Behind a capo a player needs the shape's name and the chord that sounds.
func TestASpanIsLabelledByWhatTheHandPlays(t *testing.T) {
	s := arrangetest.Score(t, "title: Capo\nkey: Bb major\nchart: '| Bb | N.C. | F |'\nguitar: {capo: 3}\n")
	var labels, symbols []string
	for _, bar := range s.Bars {
		labels, symbols = append(labels, bar.Chords[0].Label()), append(symbols, bar.Chords[0].Symbol())
	}
	assert.Equal(t, []string{"G (B♭)", "N.C.", "D (F)"}, labels)
	assert.Equal(t, []string{"B♭", "N.C.", "F"}, symbols)
	assert.Equal(t, "C", arrangetest.Score(t, "title: Open\nkey: C major\nchart: '| C |'\n").Bars[0].Chords[0].Label())
}

func TestBarsAreMarkedBySectionAndNumber(t *testing.T) {
	s := arrangetest.Score(t, "title: Marks\nkey: C major\nchart: '[Verse] |: C | G :|'\npasses: 1\n")
	var marks []string
	for _, bar := range s.Perform(60).Bars {
		marks = append(marks, s.Mark(bar))
	}
	assert.Equal(t, []string{"Verse, bar 1", "bar 2", "Verse, bar 1 (2nd time)", "bar 2 (2nd time)"}, marks, "bar 2 stands in two endings: the last arrival is held")
}

// A note that ends before it begins, or begins before the music does, is an error and
// no sound.
func TestWhatCannotBePlayedIsAnError(t *testing.T) {
	assert.NoError(t, (&score.Performance{Notes: []score.Note{{Tick: 0, Length: 1}}}).Check())
	assert.ErrorContains(t, (&score.Performance{Notes: []score.Note{{Tick: 480, Length: 0}}}).Check(), "a note at tick 480 would last 0 ticks")
	assert.ErrorContains(t, (&score.Performance{Notes: []score.Note{{Tick: -1, Length: 5}}}).Check(), "a note at tick -1")
}

// Damped strokes are short, plucked strings sound one after the other and not spread,
// and an accent is louder than the same stroke without one.
func TestStrokesAreHeardAsTheyAreWritten(t *testing.T) {
	chords := func(hand string) []score.Note {
		return notesOf(arrangetest.Score(t, "title: Strokes\nkey: C major\nchart: '| C | C |'\npasses: 1\ntempos: [60]\n"+hand+"\n").Perform(60), score.Chords)
	}
	mean := func(notes []score.Note, of func(score.Note) int) int {
		sum := 0
		for _, n := range notes {
			sum += of(n)
		}
		return sum / len(notes)
	}
	velocity := func(n score.Note) int { return n.Velocity }
	length := func(n score.Note) int { return n.Length }
	assert.Less(t, 3*mean(chords("strum: x x x x"), length), mean(chords("strum: D D D D"), length))
	assert.Greater(t, mean(chords("strum: '>D >D >D >D'"), velocity), mean(chords("strum: D D D D"), velocity)+5)
	together := chords("pick: R (321) - -")
	assert.Equal(t, together[1].Tick, together[2].Tick, "strings that are plucked together")
	assert.Len(t, together, 5, "the bass and three strings, and at the end the bass alone, which rings")
}
