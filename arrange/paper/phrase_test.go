package paper_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
)

// A phrase is a line of the chart or four bars of it (common practice), and a second ending
// as much of it as the first.
func TestPhrasesFollowTheChart(t *testing.T) {
	for _, c := range []struct {
		chart, want string
	}{
		{"| C | F | G | C | F | G |", "PnhnPn"},
		{"| C | F | G |\n  | C | F | G | C | F | G |", "PnhPnhnPn"},
		{"| C | F |\n  [B] | G | C |", "PnPn"},
		{"| C | F | [B] G | C |", "PnPn"},
		{"[pickup] G7 | C | F | G | C | F |", "PPnhnP"},
		{"[pickup] G7 |\n  | C | F |", "PPn"},
		{"|: C | F | G |1. C :|2. Am | Dm | G |", "PnhnhPn"},
		{"|: C | F |1. G | C :|2. Am | Dm |", "Pnhnhn"},
		{"|: C | F |1. G :|2. Am :|3. Dm | G |", "Pnhhhn"},
		{"|: C | F | G |1. C :|\n  |2. Am | Dm | G |", "PnhnPnh"},
	} {
		s := arrangetest.Score(t, fmt.Sprintf("title: Phrases\nkey: C major\nchart: |\n  %s\nline: {density: 0%%}\n", c.chart))
		got := ""
		written := paper.Notate(s)
		for i := range written.Measures {
			got += [...]string{paper.PhraseBegins: "P", paper.HalfBegins: "h", paper.NothingBegins: "n"}[written.Phrases().Begins(i)]
		}
		require.Equal(t, c.want, got, c.chart)
	}
}

// What is broken or stands alone costs; a pickup does not count beside the bar it leads to.
func TestRowsThatKeepPhrasesCostLess(t *testing.T) {
	const pickup, ending = "[pickup] G7 | C | F | G | C | F |", "| C |: F | G |1. C | D :|2. Am | Dm |"
	for _, c := range []struct {
		chart       string
		first, last int
		counted     int
		cost        float64
	}{
		{"| C | F | G | C | F | G |", 0, 3, 4, 0},
		{"| C | F | G | C | F | G |", 0, 4, 5, 1.5}, // another phrase begins inside
		{"| C | F | G | C | F | G |", 2, 3, 2, 1},   // half of one
		{"| C | F | G | C | F | G |", 1, 3, 3, 4},   // neither
		{"| C | F | G | C | F | G |", 2, 5, 4, 2.5},
		{"| C | F | G | C | F | G |", 0, 0, 1, 3}, // alone
		{"| C | F | G | C | F | G |", 5, 5, 1, 7},
		{pickup, 0, 4, 4, 0},
		{pickup, 0, 0, 1, 3},
		{pickup, 0, 1, 1, 3},
		{pickup, 0, 2, 2, 0},
		{pickup, 1, 2, 2, 0},
		{pickup, 0, 5, 5, 1.5},
		{"| C |\n  | F | G |", 0, 1, 2, 1.5},
		{ending, 0, 4, 5, 1.5},
		{ending, 0, 3, 4, 1.5}, // the ending is broken
		{ending, 0, 5, 6, 3},   // the other, and a phrase inside
	} {
		s := arrangetest.Score(t, fmt.Sprintf("title: Phrases\nkey: C major\nchart: |\n  %s\nline: {density: 0%%}\n", c.chart))
		phrases := paper.Notate(s).Phrases()
		require.Equal(t, c.counted, phrases.Counted(c.first, c.last), "%s %d to %d", c.chart, c.first, c.last)
		require.Equal(t, c.cost, phrases.RowCost(c.first, c.last), "%s %d to %d", c.chart, c.first, c.last)
	}
}
