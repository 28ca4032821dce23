package arrange_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
)

// strokes draws what the right hand does in a bar, in eighths.
func strokes(s *score.Score, bar int) string {
	signs := []byte(strings.Repeat("-", 8))
	for _, strum := range s.Strums {
		slot := (strum.Tick - s.Bars[bar].Tick) / 240
		switch {
		case strum.Tick < s.Bars[bar].Tick || slot >= len(signs):
		case strum.Up:
			signs[slot] = 'U'
		default:
			signs[slot] = 'D'
		}
	}
	return string(signs)
}

// The strum fills the bar with which the line's phrase ends: the fourth, or the last of
// a section, of which none is left over.
func TestTheStrumFillsTheEndOfAPhrase(t *testing.T) {
	const one, two, fill = "D-DU-UDU", "D-D-DUDU", "D-DUDUDU"
	for chart, want := range map[string][]string{
		"| C | Am | F | G | C | Am | F | G |":       {one, two, one, fill, one, two, one, fill},
		"| C | Am | F | G | C |":                    {one, two, one, two, fill},
		"[A] | C | Am | F | G | C | [B] | Am | G |": {one, two, one, two, fill, two, fill},
		"| C | Am | F | G | C | G |":                {one, two, one, fill, one, fill},
	} {
		s := arrangetest.Score(t, "title: Fill\nkey: C major\nchart: '"+chart+"'\n")
		var got []string
		for bar := range s.Bars {
			got = append(got, strokes(s, bar))
		}
		assert.Equal(t, want, got, chart)
	}
}
