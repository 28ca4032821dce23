package tab

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"thirdwise/arrange/paper"
)

// remarks are the rows above a system's chord symbols: bar number, sections,
// endings, counts of repeats. What has no room in a row goes into one above.
type remarks struct {
	width int
	rows  []paper.Row // from the top
}

// of writes what stands above a measure whose bar line is at column x.
func (r *remarks) of(b tabBar, x int) {
	if b.Ending != nil && b.Ending.Begins && b.begins {
		r.put(x+2, strings.ReplaceAll(b.Ending.String(), "–", "-"))
	}
	if b.RepeatTimes > 2 && b.Ending == nil && b.ends {
		times := fmt.Sprintf("x%d", b.RepeatTimes)
		r.put(x+b.width()-len(times), times)
	}
	if b.Section != "" && b.begins {
		r.put(x+2, "["+b.Section+"]")
	}
}

// put writes a text at a column, or so much farther left that it stays within the
// width, into the lowest row in which it meets no other.
func (r *remarks) put(column int, text string) {
	length := utf8.RuneCountInString(text)
	column = max(0, min(column, r.width-length))
	for i := len(r.rows) - 1; i >= 0; i-- {
		around := string(r.rows[i][max(0, column-1):min(r.width, column+length+1)])
		if strings.TrimSpace(around) == "" {
			r.rows[i].Put(column, text)
			return
		}
	}
	row := paper.NewRow(r.width, ' ')
	row.Put(column, text)
	r.rows = slices.Insert(r.rows, 0, row)
}
