package tab

import (
	"bytes"
	"path/filepath"
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

// readTab reads a tab. It finds the systems by their strings, and the ticks by
// the counts below them.
func readTab(t *testing.T, text string, strs int, in meter.Meter) []readThird {
	var thirds []readThird
	lines := strings.Split(text, "\n")
	measure := 0
	for i := 0; i+strs < len(lines); i++ {
		if !strings.Contains(lines[i], "|-") {
			continue
		}
		system := make([][]rune, strs)
		for j := range system {
			system[j] = []rune(lines[i+j])
		}
		counts := []rune(lines[i+strs])
		var edges []int
		for x, sign := range system[0] {
			if sign == '|' {
				edges = append(edges, x)
			}
		}
		for bar := range edges[1:] {
			from, to := edges[bar], edges[bar+1]
			places := map[int][]neck.Place{}
			var columns []int
			for x := from + 1; x < to; x++ {
				for j, row := range system {
					if isDigit(row[x]) && !isDigit(row[x-1]) {
						end := x
						for isDigit(row[end]) {
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
