package arrange_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// colouredCharts are progressions with more colour, or less change, than those of most
// songs: jazz cadences, modes, chords that go on, one exercise a row.
var colouredCharts = []struct{ key, chart, settings string }{
	{"Bb major", "| Cm7 | F7b9 | Bbmaj7 | G7alt | Cm7 | F7#5 | Bbmaj7 | Bb6 |", ""},
	{"E major", "| F#m7 | B7b9 | Emaj7 | C#7 | F#m7 B7 | G#m7 C#7 | F#m7 B7 | Emaj7 |", "feel: swing"},
	{"C minor", "| Dm7b5 | G7b9 | Cm7 | Cm6 | Dm7b5 | G7alt | Cm6 | Cm6 |", ""},
	{"G minor", "| Gm | Cm7 | Am7b5 | D7 | Gm | Ebmaj7 | Am7b5 D7 | Gm |", ""},
	{"Ab major", "| Bbm7 | Eb7 | Abmaj7 | Abmaj7 | Fm7 | Bb7 | Eb7 | Ab6 |", ""},
	{"Db major", "| Dbmaj7 | Bbm7 | Ebm7 | Ab7 | Fm7 Bb7 | Ebm7 Ab7 | Dbmaj7 | Dbmaj7 |", ""},
	{"E minor", "| F#m7b5 | B7b9 | Em7 | A7 | F#m7b5 B7 | Em | C7 B7 | Em |", "feel: swing"},
	{"G major", "| G7 | C7 | G7 | G7 | C7 | C#dim7 | G7 | E7 | Am7 | D7 | G7 E7 | Am7 D7 |", "feel: swing"},
	{"D dorian", "| Dm7 | G7 | Dm7 | G7 | Dm7 | G7 | Dm7 | Dm7 |", ""},
	{"A dorian", "| Am7 | Am7 | Am7 | Am7 | D7 | D7 | Am7 | Am7 |", ""},
	{"E phrygian", "| Em | F | Em | Dm7 | Em | F G | F | Em |", ""},
	{"D mixolydian", "| D7 | D7 | C | C | G | G | D | D |", ""},
	{"F lydian", "| Fmaj7 | G/F | Fmaj7 | Em7 | Am7 | G | Fmaj7 | Fmaj7 |", ""},
	{"A major", "| A | A | A | A | A | A | A | A |", ""},
	{"D mixolydian", "| D7 | D7 | D7 | D7 | D7 | D7 | D7 | D7 |", ""},
	{"C major", "| C | C | C | C | C | C | F | G |", ""},
	{"C major", "| C | C/B | Am | Am/G | F | C/E | Dm7 G7sus4 | C |", ""},
	{"F major", "| F | D7 | Gm7 | C7 | Fmaj7 | Bbmaj7 Bbm6 | F/C C7 | F |", "meter: 3/4"},
	{"B minor", "| Bm | G | Em F#7 | Bm | D | A | F#7 | Bm |", "meter: 5/4"},
	{"A major", "| A | D | E | F#m | Bm | E7 D | A E | A |", "meter: 7/8"},
	{"Eb major", "| Eb | Cm7 | Fm7 | Bb7 | Gm7 C7 | Fm7 Bb7 | Eb Ab | Eb |", "meter: 12/8"},
}

// A harmonic counts how a line goes with its chords.
type harmonic struct {
	breaths, restarts int // upbeats behind a rest; those that take up the third before it
	weighty, rubbing  int // thirds between arrivals that are on a beat or last one; those with a tone to avoid
	dominants, mute   int // sevenths that fall a fifth; those whose third never sounds
	goesOn, stuck     int // bars in a phrase with the chord before them; those that begin as that did
}

func (h *harmonic) add(o harmonic) {
	h.breaths += o.breaths
	h.restarts += o.restarts
	h.weighty += o.weighty
	h.rubbing += o.rubbing
	h.dominants += o.dominants
	h.mute += o.mute
	h.goesOn += o.goesOn
	h.stuck += o.stuck
}

func (h harmonic) String() string {
	return fmt.Sprintf("the same third behind a rest %s of %d; rubbing %s of %d; dominants without their third %s of %d; stuck %s of %d",
		perCent(h.restarts, h.breaths), h.breaths, perCent(h.rubbing, h.weighty), h.weighty,
		perCent(h.mute, h.dominants), h.dominants, perCent(h.stuck, h.goesOn), h.goesOn)
}

// seventhOf reports whether a chord is a dominant seventh, however coloured.
func seventhOf(c theory.Chord) bool {
	return c.Quality.Has(theory.MajorThird) && c.Quality.Has(theory.FlatSeventh)
}

// rubbing reports whether a third has a tone that handbooks of chord scales have one
// avoid (common practice): a semitone above one of the chord's, but for the flat ninth and
// the flat thirteenth of a dominant.
func rubbing(c theory.Chord, t theory.Third) bool {
	for _, p := range []theory.Pitch{t.Lower, t.Upper} {
		for i, own := range c.Tones() {
			if (p.Class()-own.Class()+12)%12 == 1 && !c.Contains(p.Tone) && (i == 1 || !seventhOf(c)) {
				return true
			}
		}
	}
	return false
}

func harmonicOf(s *score.Score) (h harmonic) {
	var spans []score.ChordSpan
	for _, b := range s.Bars {
		for _, c := range b.Chords {
			if !c.None {
				spans = append(spans, c)
			}
		}
	}
	at := 0
	heard, begins := make([]bool, len(spans)), make([]theory.Third, len(spans))
	for i, third := range s.Line {
		for at+1 < len(spans) && third.Tick >= spans[at+1].Tick {
			at++
		}
		c := spans[at].Chord
		heard[at] = heard[at] || third.Notes.Has(c.Tones()[1])
		if third.Role == score.Arrival {
			begins[at] = third.Notes
			continue
		}
		before := s.Line[i-1]
		if before.Tick+before.Length < third.Tick {
			h.breaths++
			h.restarts += countIf(third.Notes == before.Notes)
		}
		if slices.Contains(s.Meter.BeatStarts(), third.Tick%s.Meter.Bar()) || third.Length >= s.Meter.Beat() {
			h.weighty++
			h.rubbing += countIf(rubbing(c, third.Notes))
		}
	}
	for i := range spans[1:] {
		from, to := spans[i].Chord, spans[i+1].Chord
		if seventhOf(from) && (from.Root.Class()+5)%12 == to.Root.Class() {
			h.dominants++
			h.mute += countIf(!heard[i])
		}
		if from == to && spans[i+1].Tick/s.Meter.Bar()%4 > 0 {
			h.goesOn++
			h.stuck += countIf(begins[i] == begins[i+1])
		}
	}
	return h
}

// Behind a breath a line goes on, and does not take up the third where it has stopped; on a
// beat nothing rubs against the chord; a dominant says where it leads by its third; and a
// chord that goes on is begun anew (common practice). Lines that a teacher has written
// are the measure.
func TestLinesGoWithTheirChordsAsThoseWrittenByHand(t *testing.T) {
	var found, byHand harmonic
	for _, c := range slices.Concat(measuredCharts, colouredCharts) {
		found.add(harmonicOf(arrangetest.Score(t, fmt.Sprintf("title: Chords\nkey: %s\nchart: '%s'\n%s\n", c.key, c.chart, c.settings))))
	}
	for _, e := range writtenByHand(t) {
		byHand.add(harmonicOf(arrangetest.Arrange(t, e)))
	}
	t.Log("found:   ", found)
	t.Log("by hand: ", byHand)
	for name, h := range map[string]harmonic{"found": found, "by hand": byHand} {
		require.LessOrEqual(t, 100*h.restarts, 8*h.breaths, "%s: the same third behind a rest", name)
		require.LessOrEqual(t, 100*h.rubbing, h.weighty, "%s: thirds that rub", name)
		require.LessOrEqual(t, 100*h.mute, 2*h.dominants, "%s: dominants without their third", name)
		require.LessOrEqual(t, 100*h.stuck, 25*h.goesOn, "%s: chords that go on, begun alike", name)
	}
}
