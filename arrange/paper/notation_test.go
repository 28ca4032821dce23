package paper

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

var fourFour = meter.Meter{Beats: 4, Unit: 4}

// The table of key signatures that every handbook prints.
func TestSignaturesAreThoseOfTheKeys(t *testing.T) {
	for fifths, letters := range map[int]string{
		-7: "BEADGCF", -6: "BEADGC", -3: "BEA", -1: "B", 0: "", 1: "F", 2: "FC", 4: "FCGD", 6: "FCGDAE", 7: "FCGDAEB",
	} {
		got := signature(fifths)
		for letter := theory.C; letter <= theory.B; letter++ {
			want := 0
			if strings.Contains(letters, letter.String()) {
				want = min(1, max(-1, fifths))
			}
			assert.Equal(t, want, got[letter], "%v with %d fifths", letter, fifths)
		}
	}
}

func TestTextStaysWithinItsColumns(t *testing.T) {
	assert.Len(t, TextLines(strings.Repeat("seven. ", 10)+"the last w"), 1, "80 columns")
	assert.Len(t, TextLines(strings.Repeat("seven. ", 10)+"the last wd"), 2, "81 columns")
	row := NewRow(5, '-')
	row.Put(3, "♯♭♮")
	row.Put(5, "x")
	row.Put(0, "")
	assert.Equal(t, "---♯♭", string(row))
}

func TestPassesAreSaidInWords(t *testing.T) {
	for n, want := range map[int]string{
		1: "once through", 2: "twice through", 3: "three times through", 10: "ten times through", 11: "11 times through", 100: "100 times through",
	} {
		assert.Equal(t, want, Passes(n))
	}
}

func TestASectionEndsWhereAnotherBegins(t *testing.T) {
	s := lineScore(fourFour, 4, 0, 1920, 3840, 5760)
	s.Bars[0].Section, s.Bars[2].Section, s.Bars[3].Section = "A", "B", "C"
	var ends []bool
	for _, m := range Notate(s).Measures {
		ends = append(ends, m.SectionEnds)
	}
	assert.Equal(t, []bool{false, true, true, false}, ends)
}

// The third before the way back is the one that is held the last time: marked where it
// begins, though it is written as several tied notes and a rest follows.
func TestTheThirdThatIsHeldLastIsMarkedOnce(t *testing.T) {
	s := lineScore(fourFour, 1, 0, 600, -1200, 1440, 1680)
	none := Notate(s)
	s.Line[2].LeadsBack, s.Line[3].LeadsBack = true, true
	n := Notate(s)
	var held []int
	for i := range n.Measures[0].Events {
		e := &n.Measures[0].Events[i]
		if n.HeldLastTime(e) {
			held = append(held, e.Tick)
		}
		assert.False(t, none.HeldLastTime(&none.Measures[0].Events[min(i, len(none.Measures[0].Events)-1)]), "nothing leads back")
	}
	assert.Equal(t, []int{600}, held)
}

// A push is tied over the bar line, and held in the bar that it comes before.
func TestAPushedThirdThatIsHeldLastIsMarkedInItsBar(t *testing.T) {
	s := arrangetest.Score(t, "title: Ford\nkey: E minor\nchart: '| Em | C | Am | Em |'\nline: {push: on}\n")
	n := Notate(s)
	last := &n.Measures[3].Events[0]
	assert.True(t, last.TiedFrom, "the last arrival is pushed")
	assert.True(t, n.HeldLastTime(last))
}

// A pickup begins with its chord, or with the line where that is first; with neither it
// is a bar of silence.
func TestAPickupBeginsWithWhatSoundsFirst(t *testing.T) {
	for name, c := range map[string]struct {
		chordAt int
		ticks   []int
		start   int
	}{
		"the chord":      {960, []int{960, 1920}, 960},
		"the line":       {960, []int{480, 1920}, 480},
		"the line alone": {1440, []int{0, 1920}, 0},
		"a third alone":  {960, []int{480}, 480},
		"no line":        {1440, nil, 1440},
		"a late line":    {960, []int{1440, 1920}, 960},
	} {
		s := lineScore(fourFour, 2, c.ticks...)
		s.Pickup = true
		sounding := s.Bars[0].Chords[0]
		sounding.Tick, sounding.Length = c.chordAt, 1920-c.chordAt
		s.Bars[0].Chords = []score.ChordSpan{{Length: 240, None: true}, {Tick: 240, Length: c.chordAt - 240, None: true}, sounding}
		first := Notate(s).Measures[0]
		assert.Equal(t, c.start, first.Start, name)
		assert.Equal(t, 1920-c.start, first.Length, name)
		assert.Equal(t, []score.ChordSpan{sounding}, first.Chords, name)
		assert.Equal(t, c.start, first.Events[0].Tick, name)
	}
	s := lineScore(fourFour, 2)
	s.Pickup = true
	s.Bars[0].Chords = []score.ChordSpan{{Length: 1920, None: true}}
	assert.Len(t, Notate(s).Measures[0].Chords, 1, "a chord is left, if it is none")
}

// The bass has a staff where it plays a note, and none where it does not.
func TestTheBassIsWrittenWhereItPlays(t *testing.T) {
	s := lineScore(fourFour, 1, 0)
	assert.Nil(t, Notate(s).Bass())
	low := theory.Pitch{Tone: theory.Tone{Letter: theory.E, Alter: -1}, Octave: 2}
	s.Bass = []score.BassNote{{Tick: 480, Length: 720, Pitch: low}}
	bass := Notate(s).Bass()
	require.NotNil(t, bass)
	assert.Equal(t, "r4 4~ 8 r8 r4", rhythmOf(bass.Measures[0]))
	events := bass.Measures[0].Events
	assert.Equal(t, []theory.Pitch{low}, events[1].Pitches)
	assert.Equal(t, Needed, events[1].Accidentals[0])
	assert.Empty(t, events[0].Pitches, "a rest has none")
}

// What the fingers do is told once in a measure while the hand stays: not again for the
// same places, but for other ones, for another place of the hand, and where the line
// arrives.
func TestFingersAreToldOnceInAMeasure(t *testing.T) {
	s := lineScore(fourFour, 2, 0, 480, 960, 1200, 1440, 1920, 2400)
	low := neck.Pair{Lower: neck.Place{String: 3, Fret: 1}, Upper: neck.Place{String: 2, Fret: 1}}
	high := neck.Pair{Lower: neck.Place{String: 3, Fret: 8}, Upper: neck.Place{String: 2, Fret: 8}}
	for i, c := range []struct {
		places neck.Pair
		hand   int
		role   score.Role
	}{
		{low, 3, score.Arrival}, {low, 3, score.Passing}, {high, 3, score.Passing}, {high, 4, score.Passing}, {low, 4, score.Arrival},
		{low, 4, score.Passing}, {low, 4, score.Passing},
	} {
		s.Line[i].Places, s.Line[i].Hand, s.Line[i].Role = c.places, c.hand, c.role
	}
	var told []bool
	for _, m := range Notate(s).Measures {
		for _, e := range m.Events {
			told = append(told, e.Fingered)
		}
	}
	assert.Equal(t, []bool{true, false, true, true, true, true, false}, told)

	tied := lineScore(fourFour, 1, 0, 240, 1320)
	for i := range tied.Line {
		tied.Line[i].Hand, tied.Line[i].Role = 3, score.Arrival
	}
	for i, e := range Notate(tied).Measures[0].Events {
		assert.Equal(t, !e.TiedFrom, e.Fingered, "event %d", i)
	}
}

// The hand's first fret and its fourth are in reach, those beyond are a stretch; the
// first third of a line does not move the hand.
func TestAStretchIsBeyondFourFrets(t *testing.T) {
	for fret, want := range map[int]bool{0: false, 1: true, 2: false, 5: false, 6: true} {
		s := lineScore(fourFour, 1, 0, 960)
		for i := range s.Line {
			s.Line[i].Hand, s.Line[i].Role = 2, score.Passing
			s.Line[i].Places = neck.Pair{Lower: neck.Place{String: 3, Fret: fret}, Upper: neck.Place{String: 2, Fret: 3}}
		}
		assert.Equal(t, want, fingered(s, 0), "fret %d", fret)
		assert.Equal(t, want, fingered(s, 1), "fret %d", fret)
		s.Line[0].Hand = 1
		assert.True(t, fingered(s, 1), "the hand has moved")
		s.Line[0].Hand, s.Line[0].Role = 1, score.Arrival
		assert.True(t, fingered(s, 0), "the lowest place of the hand")
	}
}
