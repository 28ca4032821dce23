package exercise_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

func chartOf(t require.TestingT, in, bars string) *exercise.Exercise {
	indented := "  " + strings.ReplaceAll(bars, "\n", "\n  ")
	return parse(t, "title: Bent Nail\nkey: C major\nmeter: "+in+"\nchart: |\n"+indented+"\n")
}

// symbols prints the chart of an exercise as it was understood: the chords of
// each bar with their ticks.
func symbols(e *exercise.Exercise) []string {
	var bars []string
	for _, bar := range e.Chart {
		var words []string
		if bar.Section != "" {
			words = append(words, "["+bar.Section+"]")
		}
		for _, c := range bar.Chords {
			name := c.Chord.ASCII()
			if c.None {
				name = "N.C."
			}
			words = append(words, fmt.Sprintf("%s+%d", name, c.Length))
		}
		bars = append(bars, strings.Join(words, " "))
	}
	return bars
}

func TestChartGrammar(t *testing.T) {
	for _, c := range []struct {
		name, meter, chart string
		bars               []string
		played             []int
	}{
		{"bars", "4/4", "| C | Am |", []string{"C+1920", "Am+1920"}, []int{0, 1}},
		{"no first bar line", "4/4", "C | Am |", []string{"C+1920", "Am+1920"}, []int{0, 1}},
		{"no blanks", "4/4", "|C|Am|", []string{"C+1920", "Am+1920"}, []int{0, 1}},
		{"double bar lines", "4/4", "|| C || Am ||", []string{"C+1920", "Am+1920"}, []int{0, 1}},
		{"equal shares", "4/4", "| C Am F G |", []string{"C+480 Am+480 F+480 G+480"}, []int{0}},
		{"eighths of seven", "7/8", "| C / / / G / / |", []string{"C+960 G+720"}, []int{0}},
		{"slashes", "4/4", "| C / / G |", []string{"C+1440 G+480"}, []int{0}},
		{"slashes in 5/4", "5/4", "| C / / G / |", []string{"C+1440 G+960"}, []int{0}},
		{"two beats of 6/8", "6/8", "| C G |", []string{"C+720 G+720"}, []int{0}},
		{"slash bass", "4/4", "| Bb/D |", []string{"Bb/D+1920"}, []int{0}},
		{"the bar before", "4/4", "| C G | % | % |", []string{"C+960 G+960", "C+960 G+960", "C+960 G+960"}, []int{0, 1, 2}},
		{"no chord", "4/4", "| C N.C. |", []string{"C+960 N.C.+960"}, []int{0}},
		{"degrees and numerals", "4/4", "| 1 6 | ii V7 | bVII |", []string{"C+960 Am+960", "Dm+960 G7+960", "Bb+1920"}, []int{0, 1, 2}},
		{"line breaks", "4/4", "| C | Am |\n| F\n G |\n\n|\n| C |", []string{"C+1920", "Am+1920", "F+960 G+960", "C+1920"}, []int{0, 1, 2, 3}},
		{"lines that share no bar line", "4/4", "| C | Am\n| F |", []string{"C+1920", "Am+1920", "F+1920"}, []int{0, 1, 2}},
		{"sections", "4/4", "[A] | C | [B] | G |\n[A] F |", []string{"[A] C+1920", "[B] G+1920", "[A] F+1920"}, []int{0, 1, 2}},
		{"section in its bar", "4/4", "|[A] C |[Verse two]G|", []string{"[A] C+1920", "[Verse two] G+1920"}, []int{0, 1}},
		{"repeat", "4/4", "|: C | G :| F |", []string{"C+1920", "G+1920", "F+1920"}, []int{0, 1, 0, 1, 2}},
		{"repeat with a count", "4/4", "| F |: C :| x3 | G |", []string{"F+1920", "C+1920", "G+1920"}, []int{0, 1, 1, 1, 2}},
		{"count without a blank", "4/4", "|: C :|x4 G |", []string{"C+1920", "G+1920"}, []int{0, 0, 0, 0, 1}},
		{"repeats that meet", "4/4", "|: C :|: G :| F |", []string{"C+1920", "G+1920", "F+1920"}, []int{0, 0, 1, 1, 2}},
		{"repeats that meet apart", "4/4", "|: C :| |: G :||: F :|", []string{"C+1920", "G+1920", "F+1920"}, []int{0, 0, 1, 1, 2, 2}},
		{"repeat with double bar lines", "4/4", "||: C :|| G |", []string{"C+1920", "G+1920"}, []int{0, 0, 1}},
		{"endings", "4/4", "|: C | F |1. G :|2. C | Am |", []string{"C+1920", "F+1920", "G+1920", "C+1920", "Am+1920"}, []int{0, 1, 2, 0, 1, 3, 4}},
		{"endings in brackets", "4/4", "|: C | F | [1.] G :| [2.] C |", []string{"C+1920", "F+1920", "G+1920", "C+1920"}, []int{0, 1, 2, 0, 1, 3}},
		{"endings on lines of their own", "4/4", "|: C | F\n|1. G :|\n|2. C |\n", []string{"C+1920", "F+1920", "G+1920", "C+1920"}, []int{0, 1, 2, 0, 1, 3}},
		{"an ending for several times", "4/4", "|: C |1.-3. G :|4. F :| Am |", []string{"C+1920", "G+1920", "F+1920", "Am+1920"}, []int{0, 1, 0, 1, 0, 1, 0, 2, 3}},
		{"times one by one", "4/4", "|: C |1. 2. G :|3. F |", []string{"C+1920", "G+1920", "F+1920"}, []int{0, 1, 0, 1, 0, 2}},
		{"times with a comma", "4/4", "|: C |1, 2. G :|3.F |", []string{"C+1920", "G+1920", "F+1920"}, []int{0, 1, 0, 1, 0, 2}},
		{"three endings of different lengths", "4/4", "|: C |1. G :|2. F | G :|3. F | Am | E |: Dm :|", []string{"C+1920", "G+1920", "F+1920", "G+1920", "F+1920", "Am+1920", "E+1920", "Dm+1920"}, []int{0, 1, 0, 2, 3, 0, 4, 5, 6, 7, 7}},
		{"the bar before an ending", "4/4", "|: C | F |1. G :|2. % |", []string{"C+1920", "F+1920", "G+1920", "F+1920"}, []int{0, 1, 2, 0, 1, 3}},
		{"degrees are no endings", "4/4", "| 1 6 | 2 5 |", []string{"C+960 Am+960", "Dm+960 G+960"}, []int{0, 1}},
		{"pickup", "4/4", "[pickup] N.C. / / G |: C | G :|", []string{"N.C.+1440 G+480", "C+1920", "G+1920"}, []int{0, 1, 2, 1, 2}},
		{"repeat of a section", "4/4", "[A] |: C | G :| [B] |: F :|", []string{"[A] C+1920", "G+1920", "[B] F+1920"}, []int{0, 1, 0, 1, 2, 2}},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := chartOf(t, c.meter, c.chart)
			assert.Equal(t, c.bars, symbols(e))
			assert.Equal(t, c.played, chart.Unfold(e.Chart))
		})
	}
}

func TestChordsKnowTheirPlaceInTheFile(t *testing.T) {
	e := parse(t, "title: Bent Nail\nkey: C major\nchart: |\n    [♭] | C  Am |\n   \n    | % | B♭ / / G |\n")
	require.Len(t, e.Chart, 3)
	assert.Equal(t, source.Pos{Line: 4, Column: 11}, e.Chart[0].At)
	assert.Equal(t, source.Pos{Line: 4, Column: 14}, e.Chart[0].Chords[1].At.Pos)
	assert.Equal(t, source.Pos{Line: 6, Column: 7}, e.Chart[1].At, "a repeated bar stands where its % does")
	assert.Equal(t, source.Pos{Line: 6, Column: 7}, e.Chart[1].Chords[1].At.Pos)
	assert.Equal(t, "Am", e.Chart[1].Chords[1].Chord.String())
	assert.Equal(t, source.Pos{Line: 6, Column: 18}, e.Chart[2].Chords[1].At.Pos)
}

// counted lists how many equal shares a player can count in a bar of each meter
// (common practice: eighths or more, sixteenths, and triplets where the beat is
// simple, but no chord change off the beat where beats are long or uneven).
var counted = map[string][]int{
	"2/4": {1, 2, 4, 6, 8}, "3/4": {1, 2, 3, 6, 9, 12}, "4/4": {1, 2, 4, 8, 12, 16},
	"5/4": {1, 5, 10, 15, 20}, "7/4": {1, 7, 14, 21, 28}, "2/2": {1, 2, 4, 8, 12, 16},
	"6/8": {1, 2, 3, 6, 12}, "7/8": {1, 7, 14}, "9/8": {1, 3, 9, 18}, "12/8": {1, 2, 4, 6, 12, 24},
}

func TestSharesCanBeCounted(t *testing.T) {
	for _, m := range meter.Meters() {
		for shares := 1; shares <= 28; shares++ {
			bars := "| C" + strings.Repeat(" /", shares-1) + " |"
			list := mistakes(t, fmt.Sprintf("title: t\nkey: C major\nmeter: %s\nchart: '%s'\n", m, bars))
			assert.Equal(t, slices.Contains(counted[m.String()], shares), len(list) == 0, "%d shares in %s: %v", shares, m, list)
		}
	}
}

// Chords that divide a bar oddly stand where musicians put them, and a note says how that
// is written. Each row is common practice, for the reason beside it.
func TestChordsThatDivideABarOddlyStandOnItsBeats(t *testing.T) {
	const (
		groups    = "a chord begins with each group of the meter"
		nearHalf  = "the groups are put together as near to halves as can be"
		strong    = "the strong beat in the middle of the bar is kept"
		waltz     = "a waltz's second chord comes on three"
		longShort = "a dotted beat divides into a quarter and an eighth"
		ending    = "what is alike is longer earlier in the bar: chords come quicker towards the next"
	)
	for _, c := range []struct{ meter, chords, written, source string }{
		{"3/4", "C G", "| C / G |", waltz},
		{"4/4", "C Am F", "| C / Am F |", strong},
		{"2/2", "C Am F", "| C / Am F |", strong},
		{"5/4", "C G", "| C / / G / |", groups},
		{"5/4", "C Am F", "| C / Am F / |", groups},
		{"5/4", "C Am F G", "| C / Am F G |", ending},
		{"5/4 (2+3)", "C G", "| C / G / / |", groups},
		{"5/4 (2+3)", "C Am F", "| C / Am / F |", groups},
		{"7/4", "C G", "| C / / / G / / |", nearHalf},
		{"7/4", "C Am F", "| C / Am / F / / |", groups},
		{"7/4", "C Am F G", "| C / Am / F / G |", groups},
		{"7/4 (3+2+2)", "C G", "| C / / G / / / |", nearHalf},
		{"7/4 (3+2+2)", "C Am F G", "| C / Am F / G / |", groups},
		{"7/4 (4+3)", "C G", "| C / / / G / / |", groups},
		{"7/8", "C G", "| C / / / G / / |", nearHalf},
		{"7/8", "C Am F", "| C / Am / F / / |", groups},
		{"7/8", "C Am F G", "| C / Am / F / G |", longShort},
		{"7/8 (3+2+2)", "C G", "| C / / G / / / |", nearHalf},
		{"7/8 (3+2+2)", "C Am F", "| C / / Am / F / |", groups},
		{"7/8 (2+3+2)", "C G", "| C / / / / G / |", ending},
		{"7/8 (2+3+2)", "C Am F", "| C / Am / / F / |", groups},
		{"6/8", "C Am F", "| C / / Am / F |", longShort},
		{"6/8", "C Am F G", "| C / Am F / G |", longShort},
		{"9/8", "C G", "| C / G |", ending},
		{"9/8", "C Am F G", "| C / / Am / / F / G |", longShort},
		{"12/8", "C Am F", "| C / Am F |", strong},
		{"12/8", "C G Am F G C", "| C / / G / / Am / F G / C |", longShort},
	} {
		t.Run(c.meter+" "+c.chords, func(t *testing.T) {
			odd := chartOf(t, c.meter, "| "+c.chords+" |")
			require.Len(t, odd.Findings(), 1)
			assert.Equal(t, source.Note, odd.Findings()[0].Severity)
			assert.Contains(t, odd.Findings()[0].Message, "as in "+c.written, c.source)
			even := chartOf(t, c.meter, c.written)
			assert.Empty(t, even.Findings())
			assert.Equal(t, symbols(even), symbols(odd))
		})
	}
}

// What musicians divide evenly is not noted (common practice).
func TestChordsThatDivideABarEvenlyShareIt(t *testing.T) {
	for in, rows := range map[string][]string{
		"2/4": {"C G", "C Am F G"}, "3/4": {"C Am F"}, "4/4": {"C G", "C Am F G"}, "2/2": {"C G", "C Am F G"},
		"6/8": {"C G"}, "9/8": {"C Am F"}, "12/8": {"C G", "C Am F G"}, "4/4 (3+1)": {"C G"},
	} {
		for _, chords := range rows {
			e := chartOf(t, in, "| "+chords+" |")
			assert.Empty(t, e.Findings(), "%s in %s", chords, in)
			for _, c := range e.Chart[0].Chords {
				assert.Equal(t, e.Meter.Bar()/len(e.Chart[0].Chords), c.Length, "%s in %s", chords, in)
			}
		}
	}
}

// A bar of one chord needs no word.
func TestOneChordHasItsBarInEveryMeter(t *testing.T) {
	for _, in := range append(meter.Meters(), meter.Meter{Beats: 7, Unit: 8, Grouping: "3+2+2"}) {
		e := chartOf(t, in.String(), "| C |")
		assert.Empty(t, e.Findings(), in)
		assert.Equal(t, in.Bar(), e.Chart[0].Chords[0].Length, in)
	}
}

// What is told of a bar that cannot be divided leaves room for its chords.
func TestSharesThatCannotBeCountedAreToldWithThoseThatCan(t *testing.T) {
	for _, c := range []struct{ meter, bar, remedy string }{
		{"3/4", "| C Am F G |", "write 6, with / to prolong a chord"},
		{"3/4", "| C / / / |", "write 3 or 6, with / to prolong a chord"},
		{"2/4", "| C Am F |", "write 4, with / to prolong a chord"},
		{"4/4", "| C G C G C |", "write 8, with / to prolong a chord"},
		{"4/4", "| C / G |", "write 2 or 4, with / to prolong a chord"},
		{"4/4", "|" + strings.Repeat(" C", 17) + " |", "write 16, with / to prolong a chord"},
	} {
		list := mistakes(t, fmt.Sprintf("title: t\nkey: C major\nmeter: %s\nchart: '%s'\n", c.meter, c.bar))
		require.Len(t, list, 1, c.bar)
		assert.Equal(t, c.remedy, list[0].Remedy, "%s in %s", c.bar, c.meter)
	}
}

// Two chords in a bar of a waltz are two beats of one and one of the other (common
// practice); who wants them to divide it in halves writes six signs.
func TestTwoChordsInAWaltzStandOnItsBeats(t *testing.T) {
	lengths := func(bars string) (lengths []int) {
		for _, c := range chartOf(t, "3/4", bars).Chart[0].Chords {
			lengths = append(lengths, c.Length/meter.Quarter)
		}
		return lengths
	}
	odd := chartOf(t, "3/4", "| G7 C7 |")
	require.Len(t, odd.Findings(), 1)
	assert.Contains(t, odd.Findings()[0].Message, "| G7 / C7 |")
	assert.Equal(t, []int{2, 1}, lengths("| G7 C7 |"))
	assert.Equal(t, []int{3}, lengths("| G7 / |"))
	assert.Equal(t, 3*meter.Quarter/2, chartOf(t, "3/4", "| G7 / / C7 / / |").Chart[0].Chords[1].Tick)
}

// Without its full stop, the number of an ending is a degree; teachers are warned.
func TestAnEndingWithoutItsStopIsWarnedAbout(t *testing.T) {
	for bars, warnings := range map[string]int{
		"|: C |1 G :|2 F |": 1, "|: C |1. G :|2. F |": 0, "|: 1 4 | 1 5 :|": 0, "| 1 G |": 0,
	} {
		assert.Len(t, chartOf(t, "4/4", bars).Findings().Of(source.Warning), warnings, bars)
	}
}

func TestANumeralIsKeptAsTyped(t *testing.T) {
	e := chartOf(t, "4/4", "| 6 | Am | bVII | I7 | V7/IV | #ivdim7 | I/E |")
	var numerals []string
	for _, bar := range e.Chart {
		numerals = append(numerals, bar.Chords[0].Numeral)
	}
	assert.Equal(t, []string{"", "", "♭VII", "I7", "V7/IV", "♯ivdim7", "I/E"}, numerals)
	moved := exercise.Transpose(e, theory.Key{Tonic: theory.Tone{Letter: theory.G}})
	assert.Equal(t, "♭VII", moved.Chart[2].Chords[0].Numeral)
	assert.Empty(t, moved.Chart[6].Chords[0].Numeral) // its bass is named by a letter, which is another now
}

// A random chart, printed in one of the many ways in which it can be, is read
// as the chords and ticks that it was made of.
func TestChartSurvivesPrinting(t *testing.T) {
	names := []string{"C", "Am", "F#m7b5", "B♭/D", "Gsus4", "E7", "N.C.", "Dm7", "Abmaj7"}
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SampledFrom(meter.Meters()).Draw(t, "meter")
		even := rapid.SampledFrom(counted[in.String()]).Filter(func(shares int) bool { // two in 3/4 are not
			share := in.Bar() / shares
			return in.Beat()%share == 0 || share%in.Beat() == 0
		})
		blank := func() string { return rapid.SampledFrom([]string{" ", "  ", "\t", "\n", " \n\n "}).Draw(t, "blank") }
		var text strings.Builder
		var want []string
		var played []int
		for len(want) < 1 || rapid.Bool().Draw(t, "more") {
			repeats, first := rapid.SampledFrom([]int{1, 1, 2, 5}).Draw(t, "times"), len(want)
			text.WriteString(map[bool]string{true: "|:", false: "|"}[repeats > 1])
			for i, n := 0, rapid.IntRange(1, 4).Draw(t, "bars"); i < n; i++ {
				if i > 0 {
					text.WriteString("|")
				}
				words := []string{}
				if rapid.IntRange(0, 5).Draw(t, "section") == 0 {
					text.WriteString(" [Part 1]")
					words = append(words, "[Part 1]")
				}
				shares := even.Draw(t, "shares")
				length, name := 0, ""
				for j := 0; j < shares; j++ {
					text.WriteString(blank())
					if j == 0 || rapid.Bool().Draw(t, "change") {
						if j > 0 {
							words = append(words, fmt.Sprintf("%s+%d", name, length))
						}
						word := rapid.SampledFrom(names).Draw(t, "chord")
						text.WriteString(word)
						name, length = strings.ReplaceAll(word, "♭", "b"), in.Bar()/shares
						continue
					}
					text.WriteString("/")
					length += in.Bar() / shares
				}
				text.WriteString(blank())
				want = append(want, strings.Join(append(words, fmt.Sprintf("%s+%d", name, length)), " "))
			}
			for again := 0; again < repeats; again++ {
				for i := first; i < len(want); i++ {
					played = append(played, i)
				}
			}
			text.WriteString(map[bool]string{true: ":|", false: "|"}[repeats > 1])
			if repeats > 2 {
				fmt.Fprintf(&text, " x%d", repeats)
			}
			text.WriteString("\n")
		}
		e := chartOf(t, in.String(), text.String())
		assert.Equal(t, want, symbols(e))
		assert.Equal(t, played, chart.Unfold(e.Chart))
	})
}

// Whatever the style in which YAML lets a chart be written, a mistake stands
// where an editor's search finds the word.
func TestMistakesInAChartStandWhereAnEditorFindsThem(t *testing.T) {
	const wrong = "Qq"
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.SampledFrom([]string{"C", "B♭", "𝄫", "日", "Am", "N.C."}), 1, 12).Draw(t, "words")
		words[rapid.IntRange(0, len(words)-1).Draw(t, "place")] = wrong
		indent := strings.Repeat(" ", rapid.IntRange(1, 6).Draw(t, "indent"))
		gap := rapid.SampledFrom([]string{" ", "  ", "\t", "\n" + indent, "\n\n" + indent, "\n  " + indent})
		chart := "C |"
		for _, w := range words {
			chart += gap.Draw(t, "gap") + w + " |"
		}
		opening := rapid.SampledFrom([]string{"|\n" + indent, ">\n" + indent, "|-\n" + indent, ">+\n\n" + indent, "\"", "'", "", "\n" + indent}).Draw(t, "style")
		closing := ""
		if opening == "\"" || opening == "'" {
			closing = opening
		}
		text := "title: Bent Nail # ♭\nkey: C major\nchart: " + opening + chart + closing + "\npasses: 1\n"
		before := text[:strings.Index(text, wrong)]
		line := before[strings.LastIndex(before, "\n")+1:]
		want := source.Pos{Line: 1 + strings.Count(before, "\n"), Column: 1 + len([]rune(line))}
		text = strings.ReplaceAll(text, "\n", rapid.SampledFrom([]string{"\n", "\r\n", "\r"}).Draw(t, "line end"))
		for _, m := range mistakes(t, text) {
			if strings.Contains(m.Message, wrong) {
				assert.Equal(t, want, m.Pos, text)
				assert.Equal(t, 2, m.Length)
				return
			}
		}
		t.Fatalf("the mistake was not found in %q", text)
	})
}
