package tab

import (
	"bytes"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

func tabOf(t testing.TB, s *score.Score) string {
	var b bytes.Buffer
	require.NoError(t, Write(&b, paper.Notate(s)))
	return b.String()
}

// The tabs of three exercises, as a person has looked at them.
func TestTabLooksAsItDid(t *testing.T) {
	scores := arrangetest.Scores(t)
	for _, name := range []string{"porch-light", "harbour-ladder", "rowing-home"} {
		goldentest.Equal(t, filepath.Join("../../../testdata/tab", name+".txt"), tabOf(t, scores[name]))
	}
}

func TestTabFitsEightyColumns(t *testing.T) {
	for name, s := range arrangetest.Scores(t) {
		for _, line := range strings.Split(tabOf(t, s), "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, "%s: %s", name, line)
		}
	}
}

// A reader who knows nothing of the score gets the line back from the tab: the
// frets, their strings and the beats they stand over.
func TestTabReadBackIsTheLine(t *testing.T) {
	for name, s := range arrangetest.Scores(t) {
		t.Run(name, func(t *testing.T) {
			n := paper.Notate(s)
			var want []readThird
			for i, m := range n.Measures {
				for _, e := range m.Events {
					if !e.Rest() && !e.TiedFrom {
						want = append(want, readThird{i, e.Tick, e.Third.Places})
					}
				}
			}
			got := readTab(t, tabOf(t, s), s.Neck.Strings(), s.Meter)
			require.Equal(t, want, got)
		})
	}
}

// A readThird is a third as it was read from a tab.
type readThird struct {
	measure, tick int
	pair          neck.Pair
}

// aString is a string of a tab, from its name on.
var aString = regexp.MustCompile(`^ *[A-G][♯♭]* *([|-])[-0-9:|]+$`)

// readTab reads a tab. It finds the systems by their strings, and the ticks by
// the counts below them.
func readTab(t *testing.T, text string, strs int, in meter.Meter) []readThird {
	var thirds []readThird
	lines := strings.Split(text, "\n")
	measure := 0
	for i := 0; i+strs < len(lines); i++ {
		found := aString.FindStringSubmatch(lines[i])
		if found == nil {
			continue
		}
		system := make([][]rune, strs)
		for j := range system {
			system[j] = []rune(lines[i+j])
		}
		counts := []rune(lines[i+strs])
		var edges []int
		if found[1] == "-" { // it goes on with the measure of the system before
			measure--
			edges = append(edges, 1)
		}
		for x, sign := range system[0] {
			if sign == '|' {
				edges = append(edges, x)
			}
		}
		if end := len(system[0]) - 1; system[0][end] == '-' {
			edges = append(edges, end)
		}
		for bar := range edges[1:] {
			from, to := edges[bar], edges[bar+1]
			places := map[int][]neck.Place{}
			var columns []int
			for x := from + 1; x < to; x++ {
				for j, row := range system {
					if isDigit(row[x]) && !isDigit(row[x-1]) {
						end := x
						for end < len(row) && isDigit(row[end]) {
							end++
						}
						fret, err := strconv.Atoi(string(row[x:end]))
						require.NoError(t, err)
						if places[x] == nil {
							columns = append(columns, x)
						}
						places[x] = append(places[x], neck.Place{String: j + 1, Fret: fret})
					}
				}
			}
			for _, x := range columns {
				require.Len(t, places[x], 2, "a third is two frets one above the other")
				upper, lower := places[x][0], places[x][1]
				thirds = append(thirds, readThird{measure, tickAt(t, counts, from, to, x, in), neck.Pair{Lower: lower, Upper: upper}})
			}
			measure++
		}
		i += strs
	}
	return thirds
}

// A bar of 28 sixteenths with frets of two digits has no room in 80 columns.
func TestABarTooWideIsDividedAtABeat(t *testing.T) {
	s := arrangetest.Score(t, "title: Wide\nkey: C major\nmeter: 7/4\nchart: '| C / / / Am / G | F |'\nline: {grid: sixteenths, density: 100%}\nguitar: {position: 9}\n")
	text := tabOf(t, s)
	for line := range strings.Lines(text) {
		assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSpace(line)), 80, line)
	}
	var want []readThird
	for i, m := range paper.Notate(s).Measures {
		for _, e := range m.Events {
			if !e.Rest() && !e.TiedFrom {
				want = append(want, readThird{i, e.Tick, e.Third.Places})
			}
		}
	}
	assert.Equal(t, want, readTab(t, text, 6, s.Meter))
	assert.Equal(t, 2, strings.Count(text, "1  e  &  a  2"), "counted from one in each bar, once")
}

// What is silent is read from the counts: those in parentheses.
func TestCountsInParenthesesAreTheRests(t *testing.T) {
	s := arrangetest.Score(t, "title: Rests\nkey: G major\nchart: '| G | N.C. | C | G |'\nline: {rhythm: 'x - - . . x x . | x - . x x - . x'}\n")
	text := tabOf(t, s)
	assert.Contains(t, text, "1 & 2(& 3)& 4(&) (1 & 2 & 3 & 4 &)  1 & 2(& 3)& 4(&)  1 &(2)& 3 &(4)&")
	assert.Contains(t, text, "Where the counts are in parentheses, the line rests.")
	full := tabOf(t, arrangetest.Score(t, "title: None\nkey: G major\nchart: '| G | C |'\npasses: 1\nline: {rhythm: 'x x x x'}\n"))
	assert.NotContains(t, full, "(1")
	assert.NotContains(t, full, "parentheses")
}

func TestTheHeadTellsTheWholeStrumOrPick(t *testing.T) {
	const song = "title: Hand\nkey: G major\nchart: '| G | C | D | G |'\n"
	for _, row := range []struct{ strum, want string }{
		{"", "Strum D - D U - U D U | D - D - D U D U; at the end of a phrase D - D U D U D U\n(D down, U up, - let ring)."},
		{"strum: '>D - x U | D D U U'", "Strum >D - x U | D D U U (D down, U up, x damped, > accent, - let ring)."},
		{"pick: 'R - (21) 3'", "Pick R - (21) 3\n(R the bass string, a number that string, (21) together, - let ring)."},
	} {
		assert.Contains(t, tabOf(t, arrangetest.Score(t, song+row.strum+"\n")), row.want)
	}
}

func TestTheCountOfTripletsIsToldWhereThereAreSome(t *testing.T) {
	const song = "title: Count\nkey: G major\nchart: '| G | C |'\nline: {density: 100%, grid: "
	const told = "A beat of triplets is counted 1 t l: one, trip, let."
	assert.Contains(t, tabOf(t, arrangetest.Score(t, song+"triplets}\n")), told)
	assert.NotContains(t, tabOf(t, arrangetest.Score(t, song+"eighths}\n")), told)
}

// A ladder has neither density nor a grid that it fills in part.
func TestTheHeadSaysWhatALadderIs(t *testing.T) {
	text := tabOf(t, arrangetest.Score(t, "title: Rungs\nkey: G major\nladder: 2-3\nladder-chords: triads\n"))
	assert.Contains(t, strings.ReplaceAll(text, "\n", " "), "the thirds of the key up and down strings 2 and 3, over each degree's own triad")
	assert.NotContains(t, text, "%")
}

// tickAt reads from the counts at which tick a column stands, between two that
// are counted in proportion.
func tickAt(t *testing.T, counts []rune, from, to, column int, in meter.Meter) int {
	beat, beatAt, next := 0, -1, to
	for x := from; x < to && x < len(counts); x++ {
		if !isDigit(counts[x]) || isDigit(counts[x-1]) {
			continue
		}
		if x > column {
			next = x
			break
		}
		end := x
		for end < len(counts) && isDigit(counts[end]) {
			end++
		}
		n, err := strconv.Atoi(string(counts[x:end]))
		require.NoError(t, err)
		beat, beatAt = n-1, x
	}
	require.GreaterOrEqual(t, beatAt, 0)
	return beat*in.UnitTicks() + (column-beatAt)*in.UnitTicks()/(next-beatAt)
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func BenchmarkWrite(b *testing.B) {
	s := arrangetest.Named(b, "porch-light")
	for b.Loop() {
		tabOf(b, s)
	}
}
