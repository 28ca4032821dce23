package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Music that is to be on one page is there in rows that follow its phrases, where a staff
// that can still be read allows it; and where nobody asked for one page, no row is crowded
// to save the second (common practice: a row has four bars or two, rows of a page are about
// equally dense, and a turn does less harm than a squeeze).
func TestRowsOfOnePageFollowThePhrases(t *testing.T) {
	bars := func(n int) string { return "key: C major\nchart: '|" + strings.Repeat(" C | Am | F | G |", n/4) + "'" }
	const sixteenths = "key: D major\nline: {grid: sixteenths, density: 100%}\nchart: '| D | Bm | G | A7 | D | F#7 | Bm | E7 | G | Gm6 | D/A | B7 | Em7 | A7 | D G | D |'"
	const endings = "key: C major\nchart: '|: C | Am | F | G |1. C | Am | F | G | Em | Am | Dm | G :|2. C | Am | Dm | G | F | G | C | C |'"
	const long = "key: D minor\nline: {density: 65%}\nchart: |\n  [A] |: Dm | Gm | C7 | Fmaj7 |1. Bbmaj7 | Em7b5 | A7 | % | Dm | A7 :|2. Bbmaj7 | Em7b5 A7 | Dm |\n  [B] | Gm7 | C7 | Fmaj7 | Bbmaj7 | Em7b5 | A7b9 | Dm | D7b9 |"
	for _, c := range []struct {
		why, text string
		kind      kind
		options   Options
		staff     float64 // at least, in millimetres
		pages     int
		rows      []int
	}{
		{"four bars of sixteenths, not four and threes", sixteenths, exercise, Options{Paper: drawing.A4, Fit: true}, 5.5, 1, []int{4, 4, 4, 4}},
		{"on paper that is wider and lower, too", sixteenths, exercise, Options{Paper: drawing.Letter, Fit: true}, 5.5, 1, []int{4, 4, 4, 4}},
		{"two a row where there may be two pages", sixteenths, exercise, Options{Paper: drawing.Letter}, 6.8, 2, []int{2, 2, 2, 2, 2, 2, 2, 2}},
		{"fours to write in, not eights with room below them", bars(20), fillIn, Options{Paper: drawing.Letter, Fit: true}, 5.5, 1, []int{4, 4, 4, 4, 4}},
		{"all eights where fours are too many", bars(24), exercise, Options{Paper: drawing.A4, Fit: true}, 5.5, 1, []int{8, 8, 8}},
		{"endings", endings, exercise, Options{Paper: drawing.A4, Fit: true}, 5.5, 1, []int{4, 4, 4, 4, 4}},
		{"endings over two pages, not crowded", endings, exercise, Options{Paper: drawing.A4}, 6.8, 2, []int{4, 4, 4, 4, 4}},
		{"long endings", long, exercise, Options{Paper: drawing.Letter, Fit: true}, 5.5, 1, []int{4, 4, 5, 4, 4}},
	} {
		n, o := paper.Notate(arrangetest.Score(t, "title: Rows\n"+c.text+"\n")), c.options
		if c.kind == fillIn {
			n, o = toFillIn(n, o)
		}
		l, rows, onPages := fewestPages(n, o, c.kind)
		var lengths []int
		for _, r := range rows {
			lengths = append(lengths, r.Last-r.First+1)
		}
		assert.Equal(t, c.rows, lengths, c.why)
		assert.Len(t, onPages.starts, c.pages, c.why)
		assert.GreaterOrEqual(t, l.staff, c.staff, c.why)
	}
}
