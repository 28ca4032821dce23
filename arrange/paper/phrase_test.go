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
		for _, b := range paper.Notate(s).Beginnings() {
			got += [...]string{paper.PhraseBegins: "P", paper.HalfBegins: "h", paper.NothingBegins: "n"}[b]
		}
		require.Equal(t, c.want, got, c.chart)
	}
}
