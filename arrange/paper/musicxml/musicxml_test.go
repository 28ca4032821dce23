package musicxml

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange"
	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

func TestEveryNoteIsOnNotationAndTab(t *testing.T) {
	for name, s := range exerciseScores(t) {
		t.Run(name, func(t *testing.T) { checkDocument(t, s) })
	}
}

func TestDocumentPlaysAsTheScoreWhateverTheChart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e, err := exercise.Parse("any.yaml", []byte(anyChart(t)))
		require.NoError(t, err)
		e.Bass = rapid.SampledFrom([]exercise.Bass{exercise.NoBass, exercise.RootFifth, exercise.Walking}).Draw(t, "bass")
		s, _, err := arrange.Arrange(e)
		if err != nil {
			return // no hand plays it, so there is nothing to write
		}
		checkDocument(t, s)
	})
}

// anyChart draws an exercise whose chart has repeats, so that lines end alike
// or otherwise.
func anyChart(t *rapid.T) string {
	chord := rapid.SampledFrom([]string{"1", "2", "3", "4", "5", "6", "V7", "V7/V", "iii", "N.C.", "Csus4", "E7b9"})
	var chart strings.Builder
	if rapid.Bool().Draw(t, "pickup") {
		chart.WriteString("[pickup] N.C. V7 ")
	}
	for range rapid.IntRange(1, 3).Draw(t, "sections") {
		repeated := rapid.Bool().Draw(t, "repeated")
		if repeated {
			chart.WriteString("|: ")
		} else {
			chart.WriteString("| ")
		}
		for bar := range rapid.IntRange(1, 4).Draw(t, "bars") {
			if bar > 0 {
				chart.WriteString("| ")
			}
			chart.WriteString(chord.Draw(t, "chord") + " ")
			if rapid.Bool().Draw(t, "two chords") {
				chart.WriteString(chord.Draw(t, "chord") + " ")
			}
		}
		if repeated {
			chart.WriteString(rapid.SampledFrom([]string{":|", ":| x3"}).Draw(t, "times") + "\n  ")
		} else {
			chart.WriteString("|\n  ")
		}
	}
	meterAndGrid := rapid.SampledFrom([][2]string{
		{"2/4", "eighths"}, {"2/4", "sixteenths"}, {"4/4", "quarters"}, {"4/4", "eighths"}, {"4/4", "triplets"},
		{"4/4", "sixteenths"}, {"2/2", "quarters"}, {"2/2", "eighths"}, {"6/8", "eighths"}, {"12/8", "sixteenths"},
	}).Draw(t, "meter and grid")
	return fmt.Sprintf("title: Any\nkey: C major\nmeter: %s\nchart: |\n  %s\nline:\n  density: %d%%\n  grid: %s\nguitar:\n  capo: %d\n",
		meterAndGrid[0],
		chart.String(),
		rapid.IntRange(0, 100).Draw(t, "density"),
		meterAndGrid[1],
		rapid.IntRange(0, 5).Draw(t, "capo"))
}

// checkDocument writes the score in both ways, reads what was written as a player
// would, repeats, endings and ties and all, and compares it with the score.
func checkDocument(t require.TestingT, s *score.Score) {
	silent := paper.Notate(s).Measures[0].Start // left out before a pickup
	for _, chords := range []Chords{Slashes, Written} {
		doc := read(t, s, chords)
		var line, strums, bass []xmlSounding
		for _, third := range s.Line {
			line = append(line,
				xmlSounding{third.Tick - silent, third.Length, third.Notes.Lower, third.Places.Lower},
				xmlSounding{third.Tick - silent, third.Length, third.Notes.Upper, third.Places.Upper})
		}
		for _, strum := range s.Strums {
			for _, n := range strum.Notes {
				note := xmlSounding{Tick: strum.Tick - silent, Length: strum.Length, Pitch: n.Pitch}
				if chords == Slashes && !strum.Picked {
					note.Pitch = theory.Pitch{}
				}
				strums = append(strums, note)
			}
		}
		for _, n := range s.Bass {
			bass = append(bass, xmlSounding{Tick: n.Tick - silent, Length: n.Length, Pitch: n.Pitch})
		}
		sortSoundings(line)
		sortSoundings(strums)
		strums = slices.Compact(strums) // a pitch on two strings is one note, and a strum one slash
		notated := slices.Clone(line)
		for i := range notated {
			notated[i].Place = neck.Place{}
		}
		require.Equal(t, notated, doc.part(t, "Guide").played(t, 1), "the line on the notation staff")
		require.Equal(t, line, doc.part(t, "Guide").played(t, 2), "the line on the tablature staff")
		require.Equal(t, strums, doc.part(t, "Chords").played(t, 0), "the strums")
		if len(s.Bass) > 0 {
			require.Equal(t, bass, doc.part(t, "Bass").played(t, 0), "the bass")
		}
		for _, part := range doc.Parts {
			for _, m := range part.Measures {
				checkMeasure(t, s, m)
			}
		}
	}
}

// checkMeasure holds what is written about each note against how long it lasts.
func checkMeasure(t require.TestingT, s *score.Score, m xmlMeasure) {
	filled := map[int]int{} // by staff
	length := s.Meter.Bar()
	if m.Number == "0" {
		length = paper.Notate(s).Measures[0].Length
	}
	for _, n := range m.notes() {
		if n.Chord != nil {
			continue
		}
		filled[n.Staff] += n.Duration
		if n.Rest != nil && n.Rest.Measure == "yes" {
			require.Equal(t, length, n.Duration)
			continue
		}
		require.Equal(t, n.Duration*n.actual(), n.written()*n.normal(), "measure %s: %+v", m.Number, n)
	}
	for staff, ticks := range filled {
		require.Equal(t, length, ticks, "measure %s, staff %d", m.Number, staff)
	}
}

func TestBarsAreWrittenOutWhereChordsAreHeldOtherwise(t *testing.T) {
	s := scoreOf(t, twoDoors)
	assert.Len(t, read(t, s, Written).Parts[0].Measures, 3, "held alike: a repeat")
	checkDocument(t, s)
	again := slices.IndexFunc(s.Strums, func(strum score.Strum) bool { return strum.Tick >= s.Bars[3].Tick })
	s.Strums[again].Notes = s.Strums[again].Notes[1:]
	assert.Len(t, read(t, s, Written).Parts[0].Measures, 6, "held otherwise: written out")
	assert.Len(t, read(t, s, Slashes).Parts[0].Measures, 3, "a slash looks the same")
	checkDocument(t, s)
	s.Strums[again].Accent = true
	assert.Len(t, read(t, s, Slashes).Parts[0].Measures, 6, "but not with an accent")
	checkDocument(t, s)
}

func TestAPitchOnTwoStringsIsOneNote(t *testing.T) {
	s := scoreOf(t, "title: Twins\nkey: D major\nchart: \"| D | G |\"\nguitar: {tuning: D2 A2 D3 D3 A3 D4}\n")
	doubled := false
	for _, strum := range s.Strums {
		seen := map[theory.Pitch]bool{}
		for _, n := range strum.Notes {
			doubled = doubled || seen[n.Pitch]
			seen[n.Pitch] = true
		}
	}
	require.True(t, doubled, "no strum has a pitch on two strings")
	checkDocument(t, s)
}

func TestEndingPlayedMoreThanOnceIsRepeated(t *testing.T) {
	s := scoreOf(t, `title: Three Times
key: C major
chart: "|: 1 | 5 | 4 1 | 3 :| x3 | 1 |"
line: {density: 0%}
guitar: {position: free}
`)
	for i, third := range s.Line {
		if third.Tick == s.Bars[3].Tick { // the first time, it ends elsewhere on the neck
			pairs := s.Neck.Pairs(third.Notes)
			s.Line[i].Places = pairs[(slices.Index(pairs, third.Places)+1)%len(pairs)]
		}
	}
	endings := map[string]bool{} // whether a repeat stands behind it
	for _, m := range read(t, s, Slashes).part(t, "Guide").Measures {
		for _, b := range m.Barlines {
			if b.Ending != nil && b.Ending.Type != "start" {
				endings[b.Ending.Number] = b.Repeat != nil
			}
		}
	}
	assert.Equal(t, map[string]bool{"1": true, "2,3": true}, endings)
	checkDocument(t, s)
}

// A double bar line divides sections, but for a repeat, which has its own sign
// (common practice).
func TestBarlinesAreThoseOfTheSheet(t *testing.T) {
	s := scoreOf(t, "title: Doors\nkey: C major\nchart: \"[A] | C | F | [B] | G | [C] |: C :| [D] |: F :| G |\"\nline: {density: 0%}\n")
	styles := map[string][]string{} // by measure, from left to right
	for _, m := range read(t, s, Slashes).part(t, "Guide").Measures {
		for _, b := range m.Barlines {
			styles[m.Number] = append(styles[m.Number], b.Style)
		}
	}
	assert.Equal(t, map[string][]string{
		"2": {"light-light"},
		"4": {"heavy-light", "light-heavy"},
		"5": {"heavy-light", "light-heavy"},
		"6": {"light-heavy"},
	}, styles)
}

func TestDocumentSaysWhereTheLineHoldsTheLastTime(t *testing.T) {
	for passes, want := range map[int]int{1: 0, 2: 1} {
		s := scoreOf(t, fmt.Sprintf("title: Round\nkey: C major\npasses: %d\nchart: \"| C | F | G | C |\"\n", passes))
		var got bytes.Buffer
		require.NoError(t, Write(&got, paper.Notate(s), Slashes))
		assert.Equal(t, want, strings.Count(got.String(), "<words>last time: hold</words>"), "%d passes", passes)
	}
}

// What the right hand does at each stroke is told, in all bars of a strum.
func TestStrokesAccentsAndDampedStringsAreSigns(t *testing.T) {
	s := scoreOf(t, "title: Strokes\nkey: C major\npasses: 1\nchart: '| C | C |'\nstrum: '>D - x U | D - >x - U - U -'\n")
	for chords, plain := range map[Chords]string{Slashes: "slash", Written: ""} {
		var got []string
		for _, m := range read(t, s, chords).part(t, "Chords").Measures {
			for _, n := range m.notes() {
				if n.Chord != nil || n.tie("stop") {
					continue
				}
				sign := ""
				if n.Accent != nil {
					sign = ">"
				}
				require.True(t, (n.Down == nil) != (n.Up == nil), "a stroke goes down or up")
				if n.Up != nil {
					sign += "U"
				} else {
					sign += "D"
				}
				got = append(got, strings.TrimSpace(sign+" "+strings.Replace(n.Head, "slash", "", 1)))
				require.True(t, n.Head == "x" || n.Head == plain, n.Head)
			}
		}
		assert.Equal(t, []string{">D", "D x", "U", "D", ">D x", "U", "U"}, got)
	}
}

// A slash does not say which string is plucked.
func TestAPickIsWrittenInNotes(t *testing.T) {
	s := scoreOf(t, "title: Pick\nkey: C major\npasses: 1\nchart: '| C | N.C. |'\npick: 'R - (21) 3'\n")
	var got []string
	for _, n := range read(t, s, Slashes).part(t, "Chords").Measures[0].notes() {
		require.Empty(t, n.Head)
		require.True(t, n.Down == nil && n.Up == nil, "a plucked string has no stroke")
		got = append(got, n.pitch(t).ASCII())
	}
	assert.Equal(t, []string{"C3", "C4", "E4", "G3"}, got)
}

// The tempo counts the beat of the meter (see meter.Meter.Beat), and the swing's notes
// are those of the feel.
func TestTheTempoCountsTheBeatOfTheMeter(t *testing.T) {
	for of, want := range map[string]string{
		"4/4": "quarter", "7/8": "quarter", "2/2": "half", "6/8": "quarter.",
	} {
		s := scoreOf(t, "title: Beat\nkey: C major\nmeter: "+of+"\nchart: '| C |'\n")
		var got bytes.Buffer
		require.NoError(t, Write(&got, paper.Notate(s), Slashes))
		unit := regexp.MustCompile(`<beat-unit>(\w+)</beat-unit>\s*(<beat-unit-dot/>)?`).FindStringSubmatch(got.String())
		assert.Equal(t, want, unit[1]+strings.Replace(unit[2], "<beat-unit-dot/>", ".", 1), of)
	}
	s := scoreOf(t, "title: Swing\nkey: C major\nfeel: swing sixteenths\nchart: '| C |'\n")
	var got bytes.Buffer
	require.NoError(t, Write(&got, paper.Notate(s), Slashes))
	assert.Contains(t, got.String(), "<swing-type>16th</swing-type>")
	assert.Contains(t, got.String(), "<words>Swing sixteenths</words>")
}

func TestBehindACapoTheShapeIsTold(t *testing.T) {
	s := scoreOf(t, "title: Capo\nkey: F major\nchart: '| F |'\nguitar: {capo: 3}\n")
	var got bytes.Buffer
	require.NoError(t, Write(&got, paper.Notate(s), Slashes))
	assert.Contains(t, got.String(), "<words>as D</words>")
	assert.Contains(t, got.String(), "<words>Capo 3</words>")
	assert.Contains(t, got.String(), "<root-step>F</root-step>", "the symbol is the sounding chord's")
}

// twoDoors is an exercise with a little of everything.
const twoDoors = `title: Two Doors
key: D minor
chart: "[A] |: Dm | Gm A7b9/C# | N.C. :|"
tempos: [60, 72]
feel: swing
line: {density: 50%, grid: triplets}
guitar: {capo: 2}
strum: D - D U - U D -
`

// scoreOf arranges an exercise, with a bass.
func scoreOf(t require.TestingT, text string) *score.Score {
	e, err := exercise.Parse("exercise.yaml", []byte(text))
	require.NoError(t, err)
	e.Bass = exercise.RootFifth
	return arrangetest.Arrange(t, e)
}

// The golden file has been looked at, as text and drawn by verovio.
func TestDocumentReadsAsTheGoldenFile(t *testing.T) {
	s := scoreOf(t, twoDoors)
	var got bytes.Buffer
	require.NoError(t, Write(&got, paper.Notate(s), Slashes))
	goldentest.Equal(t, filepath.Join("testdata", "two-doors.musicxml"), got.String())
	checkDocument(t, s)
}

func TestFailureToWriteIsReported(t *testing.T) {
	full := errors.New("no space left")
	err := Write(failingWriter{full}, paper.Notate(scoreOf(t, twoDoors)), Slashes)
	assert.ErrorIs(t, err, full)
}

type failingWriter struct{ err error }

func (w failingWriter) Write([]byte) (int, error) { return 0, w.err }

func BenchmarkWrite(b *testing.B) {
	s := scoreOf(b, twoDoors)
	var buf bytes.Buffer
	for b.Loop() {
		buf.Reset()
		if err := Write(&buf, paper.Notate(s), Slashes); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(buf.Len()))
}

// exerciseScores returns the scores of the exercises under testdata by name,
// without a bass and with one.
func exerciseScores(t require.TestingT) map[string]*score.Score {
	scores := map[string]*score.Score{}
	for name, e := range arrangetest.Exercises(t) {
		scores[name] = arrangetest.Arrange(t, e)
		e.Bass = exercise.Walking
		scores[name+" with a bass"] = arrangetest.Arrange(t, e)
	}
	return scores
}
