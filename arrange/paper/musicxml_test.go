package paper

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

func TestMusicXMLHasEveryNoteOnNotationAndTab(t *testing.T) {
	for name, s := range exerciseScores(t) {
		t.Run(name, func(t *testing.T) { checkMusicXML(t, s) })
	}
}

func TestMusicXMLPlaysAsTheScoreWhateverTheChart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e, err := arrange.ParseExercise("any.yaml", []byte(anyChart(t)))
		require.NoError(t, err)
		e.Bass = rapid.SampledFrom([]arrange.Bass{arrange.NoBass, arrange.RootFifth, arrange.Walking}).Draw(t, "bass")
		s, _, err := arrange.Arrange(e)
		if err != nil {
			return // no hand plays it, so there is nothing to write
		}
		checkMusicXML(t, s)
	})
}

// anyChart draws an exercise whose chart has repeats, so that lines end alike
// or otherwise.
func anyChart(t *rapid.T) string {
	chord := rapid.SampledFrom([]string{"1", "2", "3", "4", "5", "6", "V7", "V7/V", "iii", "N.C.", "Csus4", "E7b9"})
	var chart strings.Builder
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

// checkMusicXML writes the score, reads what was written as a player would,
// repeats, endings and ties and all, and compares it with the score.
func checkMusicXML(t require.TestingT, s *arrange.Score) {
	doc := readMusicXML(t, s)
	var line, strums, bass []xmlSounding
	for _, third := range s.Line {
		line = append(line,
			xmlSounding{third.Tick, third.Length, third.Third.Lower, third.Pair.Lower},
			xmlSounding{third.Tick, third.Length, third.Third.Upper, third.Pair.Upper})
	}
	for _, strum := range s.Strums {
		for _, n := range strum.Notes {
			strums = append(strums, xmlSounding{strum.Tick, strum.Length, n.Pitch, n.Place})
		}
	}
	for _, n := range s.Bass {
		bass = append(bass, xmlSounding{n.Tick, n.Length, n.Pitch, n.Place})
	}
	sortSoundings(line)
	sortSoundings(strums)
	require.Equal(t, line, doc.part(t, "Guide").played(t, 1), "the line on the notation staff")
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

// checkMeasure holds what is written about each note against how long it lasts.
func checkMeasure(t require.TestingT, s *arrange.Score, m xmlMeasure) {
	filled := map[int]int{} // by staff
	for _, n := range m.notes() {
		if n.Chord != nil {
			continue
		}
		filled[n.Staff] += n.Duration
		if n.Rest != nil && n.Rest.Measure == "yes" {
			require.Equal(t, s.Meter.Bar(), n.Duration)
			continue
		}
		require.Equal(t, n.Duration*n.actual(), n.written()*n.normal(), "measure %s: %+v", m.Number, n)
	}
	for staff, ticks := range filled {
		require.Equal(t, s.Meter.Bar(), ticks, "measure %s, staff %d", m.Number, staff)
	}
}

func TestMusicXMLWritesBarsOutWhereChordsAreHeldOtherwise(t *testing.T) {
	s := lineScore(arrange.Meter{Beats: 4, Unit: 4}, 2, 0, 1920)
	s.Line[1].Third, s.Line[1].Pair, s.Line[1].Role = s.Line[0].Third, s.Line[0].Pair, s.Line[0].Role
	s.Bars[1].Written = 0
	low, high := placed(s, "C3", 5), placed(s, "C4", 2)
	s.Strums = []arrange.Strum{
		{Tick: 0, Length: 1920, Notes: []arrange.StrumNote{low}},
		{Tick: 1920, Length: 1920, Notes: []arrange.StrumNote{low}},
	}
	assert.Len(t, readMusicXML(t, s).Parts[0].Measures, 1, "held alike: a repeat")
	checkMusicXML(t, s)
	s.Strums[1].Notes = []arrange.StrumNote{high}
	assert.Len(t, readMusicXML(t, s).Parts[0].Measures, 2, "held otherwise: written out")
	checkMusicXML(t, s)
}

// placed returns a pitch as a strum sounds it on a string.
func placed(s *arrange.Score, pitch string, str int) arrange.StrumNote {
	p, err := theory.ParsePitch(pitch)
	if err != nil {
		panic(err)
	}
	fret, _ := s.Neck.FretOf(p, str)
	return arrange.StrumNote{Pitch: p, Place: neck.Place{String: str, Fret: fret}}
}

// MusicXML 4.0, kind-value: what each kind is made of, in the schema's words.
const kindsInTheSchema = `
	major (major third, perfect fifth)
	minor (minor third, perfect fifth)
	augmented (major third, augmented fifth)
	diminished (minor third, diminished fifth)
	dominant (major triad, minor seventh)
	major-seventh (major triad, major seventh)
	minor-seventh (minor triad, minor seventh)
	diminished-seventh (diminished triad, diminished seventh)
	augmented-seventh (augmented triad, minor seventh)
	half-diminished (diminished triad, minor seventh)
	major-minor (minor triad, major seventh)
	major-sixth (major triad, added sixth)
	minor-sixth (minor triad, added sixth)
	dominant-ninth (dominant-seventh, major ninth)
	major-ninth (major-seventh, major ninth)
	minor-ninth (minor-seventh, major ninth)
	dominant-11th (dominant-ninth, perfect 11th)
	major-11th (major-ninth, perfect 11th)
	minor-11th (minor-ninth, perfect 11th)
	dominant-13th (dominant-11th, major 13th)
	major-13th (major-11th, major 13th)
	minor-13th (minor-11th, major 13th)
	suspended-second (major second, perfect fifth)
	suspended-fourth (perfect fourth, perfect fifth)
	power (perfect fifth)`

// semitonesInWords holds the intervals of the schema's descriptions.
var semitonesInWords = map[string][2]int{ // degree, semitones
	"major second": {2, 2}, "minor third": {3, 3}, "major third": {3, 4}, "perfect fourth": {4, 5},
	"diminished fifth": {5, 6}, "perfect fifth": {5, 7}, "augmented fifth": {5, 8}, "added sixth": {6, 9},
	"diminished seventh": {7, 9}, "minor seventh": {7, 10}, "major seventh": {7, 11},
	"major ninth": {9, 14}, "perfect 11th": {11, 17}, "major 13th": {13, 21},
}

func TestHarmonyKindAndDegreesAreTheChordsTones(t *testing.T) {
	kinds := map[string]map[int]int{} // semitones by degree
	for _, row := range strings.Split(strings.TrimSpace(kindsInTheSchema), "\n") {
		name, made, _ := strings.Cut(strings.TrimSuffix(strings.TrimSpace(row), ")"), " (")
		tones := map[int]int{1: 0}
		for _, words := range strings.Split(made, ", ") {
			base := strings.TrimSuffix(words, " triad")
			if base == "dominant-seventh" {
				base = "dominant"
			}
			if tone, ok := semitonesInWords[words]; ok {
				tones[tone[0]] = tone[1]
				continue
			}
			require.Contains(t, kinds, base, row)
			for degree, semitones := range kinds[base] {
				tones[degree] = semitones
			}
		}
		kinds[name] = tones
	}
	dominant := map[int]int{2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 10, 9: 14, 11: 17, 13: 21} // MusicXML 4.0, degree-alter

	for _, q := range theory.Qualities() {
		chord := theory.Chord{Quality: q}
		d := document{}
		d.begin("harmony")
		d.chordSymbol(chord)
		d.end()
		var harmony xmlHarmony
		require.NoError(t, xml.Unmarshal(d.Bytes(), &harmony))

		require.Contains(t, kinds, harmony.Kind.Name)
		tones := map[int]int{}
		for degree, semitones := range kinds[harmony.Kind.Name] {
			tones[degree] = semitones
		}
		for _, change := range harmony.Degrees {
			switch change.Type {
			case "add":
				require.NotContains(t, tones, change.Value)
				tones[change.Value] = dominant[change.Value] + change.Alter
			case "alter":
				require.Contains(t, tones, change.Value)
				tones[change.Value] += change.Alter
			case "subtract":
				require.Contains(t, tones, change.Value)
				delete(tones, change.Value)
			}
		}
		want := map[int]int{}
		for _, step := range q.Intervals() {
			want[step.Steps+1] = step.Semitones
		}
		assert.Equal(t, want, tones, "%s as %s %v", chord, harmony.Kind.Name, harmony.Degrees)
		assert.Equal(t, q.String(), harmony.Kind.Text)
	}
}

// The golden file has been looked at, as text and drawn by verovio.
func TestMusicXMLReadsAsTheGoldenFile(t *testing.T) {
	e, err := arrange.ParseExercise("two-doors.yaml", []byte(`title: Two Doors
key: D minor
chart: "[A] |: Dm | Gm A7b9/C# | N.C. :|"
tempos: [60, 72]
feel: swing
line: {density: 50%, grid: triplets}
guitar: {capo: 2}
strum: D - D U - U D -
`))
	require.NoError(t, err)
	e.Bass = arrange.RootFifth
	s, _, err := arrange.Arrange(e)
	require.NoError(t, err)
	var got bytes.Buffer
	require.NoError(t, WriteMusicXML(&got, s))
	path := filepath.Join("testdata", "two-doors.musicxml")
	if *update {
		require.NoError(t, os.WriteFile(path, got.Bytes(), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got.String())
	checkMusicXML(t, s)
}

func TestMusicXMLFailureToWriteIsReported(t *testing.T) {
	full := errors.New("no space left")
	err := WriteMusicXML(failingWriter{full}, lineScore(arrange.Meter{Beats: 4, Unit: 4}, 1, 0))
	assert.ErrorIs(t, err, full)
}

type failingWriter struct{ err error }

func (w failingWriter) Write([]byte) (int, error) { return 0, w.err }

func BenchmarkWriteMusicXML(b *testing.B) {
	s := lineScore(arrange.Meter{Beats: 4, Unit: 4}, 32, 0, 480, 720, 960, 1920)
	var buf bytes.Buffer
	for b.Loop() {
		buf.Reset()
		if err := WriteMusicXML(&buf, s); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(buf.Len()))
}

// exerciseScores returns the scores of the exercises under testdata by name,
// without a bass and with one.
func exerciseScores(t require.TestingT) map[string]*arrange.Score {
	files, err := filepath.Glob("../../testdata/exercises/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	scores := map[string]*arrange.Score{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		e, err := arrange.ParseExercise(file, text)
		require.NoError(t, err)
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		s, _, err := arrange.Arrange(e)
		require.NoError(t, err)
		scores[name] = s
		e.Bass = arrange.Walking
		scores[name+" with a bass"], _, err = arrange.Arrange(e)
		require.NoError(t, err)
	}
	return scores
}

// A MusicXML document, as far as the tests read it.
type (
	xmlDocument struct {
		Names []string  `xml:"part-list>score-part>part-name"`
		Parts []xmlPart `xml:"part"`
	}
	xmlPart struct {
		Measures []xmlMeasure `xml:"measure"`
	}
	xmlMeasure struct {
		Number   string       `xml:"number,attr"`
		Barlines []xmlBarline `xml:"barline"`
		Content  []xmlContent `xml:",any"`
	}
	xmlBarline struct {
		Ending *struct {
			Number string `xml:"number,attr"`
			Type   string `xml:"type,attr"`
		} `xml:"ending"`
		Repeat *struct {
			Direction string `xml:"direction,attr"`
			Times     int    `xml:"times,attr"`
		} `xml:"repeat"`
	}
	// xmlContent is a note, a backup or anything else that stands in a measure.
	xmlContent struct {
		XMLName  xml.Name
		Duration int       `xml:"duration"`
		Chord    *struct{} `xml:"chord"`
		Rest     *struct {
			Measure string `xml:"measure,attr"`
		} `xml:"rest"`
		Pitch *struct {
			Step   string `xml:"step"`
			Alter  int    `xml:"alter"`
			Octave int    `xml:"octave"`
		} `xml:"pitch"`
		Ties []struct {
			Type string `xml:"type,attr"`
		} `xml:"tie"`
		Type  string     `xml:"type"`
		Dots  []struct{} `xml:"dot"`
		Ratio *struct {
			Actual int `xml:"actual-notes"`
			Normal int `xml:"normal-notes"`
		} `xml:"time-modification"`
		Staff  int `xml:"staff"`
		String int `xml:"notations>technical>string"`
		Fret   int `xml:"notations>technical>fret"`
	}
	xmlHarmony struct {
		Kind struct {
			Name string `xml:",chardata"`
			Text string `xml:"text,attr"`
		} `xml:"kind"`
		Degrees []struct {
			Value int    `xml:"degree-value"`
			Alter int    `xml:"degree-alter"`
			Type  string `xml:"degree-type"`
		} `xml:"degree"`
	}
)

// An xmlSounding is a note as a reader of the document would play it.
type xmlSounding struct {
	Tick, Length int
	Pitch        theory.Pitch
	Place        neck.Place
}

func readMusicXML(t require.TestingT, s *arrange.Score) xmlDocument {
	var buf bytes.Buffer
	require.NoError(t, WriteMusicXML(&buf, s))
	var doc xmlDocument
	require.NoError(t, xml.Unmarshal(buf.Bytes(), &doc))
	return doc
}

func (d xmlDocument) part(t require.TestingT, name string) xmlPart {
	i := slices.Index(d.Names, name)
	require.GreaterOrEqual(t, i, 0)
	return d.Parts[i]
}

func (m xmlMeasure) notes() []xmlContent {
	return slices.DeleteFunc(slices.Clone(m.Content), func(c xmlContent) bool { return c.XMLName.Local != "note" })
}

func (c xmlContent) actual() int {
	if c.Ratio == nil {
		return 1
	}
	return c.Ratio.Actual
}

func (c xmlContent) normal() int {
	if c.Ratio == nil {
		return 1
	}
	return c.Ratio.Normal
}

// written returns the ticks of the note's type and dots.
func (c xmlContent) written() int {
	ticks := map[string]int{"whole": 1920, "half": 960, "quarter": 480, "eighth": 240, "16th": 120, "32nd": 60}[c.Type]
	dot := ticks
	for range c.Dots {
		dot /= 2
		ticks += dot
	}
	return ticks
}

// played returns a staff's notes, or those of all of the part's where it is 0,
// in the order in which they sound.
func (p xmlPart) played(t require.TestingT, staff int) []xmlSounding {
	var out []xmlSounding
	tied := map[xmlSounding]int{} // by pitch and place, one more than the index of a note that is tied on
	start := 0
	for _, i := range p.order(t) {
		at, onset, end := start, start, start
		for _, c := range p.Measures[i].Content {
			switch c.XMLName.Local {
			case "backup":
				at -= c.Duration
			case "note":
				if c.Chord == nil {
					onset = at
					at += c.Duration
				}
				end = max(end, at)
				if c.Rest != nil || staff != 0 && c.Staff != staff {
					continue
				}
				n := xmlSounding{Tick: onset, Length: c.Duration, Pitch: c.pitch(t), Place: neck.Place{String: c.String, Fret: c.Fret}}
				name := xmlSounding{Pitch: n.Pitch, Place: n.Place}
				if c.tie("stop") {
					require.Contains(t, tied, name)
					out[tied[name]-1].Length += n.Length
				} else {
					out = append(out, n)
					tied[name] = len(out)
				}
				if !c.tie("start") {
					delete(tied, name)
				}
			}
		}
		start = end
	}
	require.Empty(t, tied, "ties that lead nowhere")
	sortSoundings(out)
	return out
}

func (c xmlContent) tie(kind string) bool {
	return slices.ContainsFunc(c.Ties, func(tie struct {
		Type string `xml:"type,attr"`
	}) bool {
		return tie.Type == kind
	})
}

func (c xmlContent) pitch(t require.TestingT) theory.Pitch {
	tone, err := theory.ParseTone(c.Pitch.Step)
	require.NoError(t, err)
	tone.Alter = c.Pitch.Alter
	return theory.Pitch{Tone: tone, Octave: c.Pitch.Octave}
}

// order returns the measures in the order in which they are played: MusicXML
// 4.0, repeat and ending.
func (p xmlPart) order(t require.TestingT) []int {
	var out []int
	opened, pass, skip := 0, 1, false
	for i := 0; i < len(p.Measures); i++ {
		for _, b := range p.Measures[i].Barlines {
			if b.Repeat != nil && b.Repeat.Direction == "forward" && opened != i {
				opened, pass = i, 1
			}
			if b.Ending != nil && b.Ending.Type == "start" {
				skip = !slices.Contains(strings.Split(b.Ending.Number, ","), strconv.Itoa(pass))
			}
		}
		if !skip {
			out = append(out, i)
		}
		require.Less(t, len(out), 10_000)
		back := false
		for _, b := range p.Measures[i].Barlines {
			if b.Ending != nil && b.Ending.Type != "start" {
				back = b.Repeat != nil && !skip
				skip = false
			} else if b.Repeat != nil && b.Repeat.Direction == "backward" {
				back = pass < max(2, b.Repeat.Times)
			}
		}
		if back {
			i, pass = opened-1, pass+1
		}
	}
	return out
}

func sortSoundings(s []xmlSounding) {
	slices.SortFunc(s, func(a, b xmlSounding) int {
		return cmp.Or(cmp.Compare(a.Tick, b.Tick), cmp.Compare(a.Pitch.MIDI(), b.Pitch.MIDI()), cmp.Compare(a.Place.String, b.Place.String))
	})
}

func ExampleWriteMusicXML() {
	e, err := arrange.ParseExercise("two-doors.yaml", []byte("title: Two Doors\nkey: G major\nchart: '| G | Em |'\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	s, _, err := arrange.Arrange(e)
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	if err := WriteMusicXML(&file, s); err != nil {
		fmt.Println(err)
		return
	}
	for line := range strings.Lines(file.String()) {
		if strings.Contains(line, "<work-title>") || strings.Contains(line, "<measure ") || strings.Contains(line, "<kind ") {
			fmt.Print(line)
		}
	}
	// Output:
	//     <work-title>Two Doors</work-title>
	//     <measure number="1">
	//         <kind text="">major</kind>
	//     <measure number="2">
	//         <kind text="m">minor</kind>
	//     <measure number="1">
	//     <measure number="2">
}
