package tab

import (
	"slices"

	"thirdwise/arrange/paper"
)

// What a row of a tab costs beside what becomes of its phrases: rows should be few, but
// rather one more than broken phrases.
const rowCost = 3.0

// systems divides the bars into rows, at most four and a pickup in each. A new one begins
// with a section, and with each part of a bar that has no room in one row.
func (t *tab) systems() [][]tabBar {
	phrases := t.Phrases()
	rows, _, _ := paper.Divide(len(t.bars), func(i int) (choices []paper.Choice[[]tabBar]) {
		width := t.label + 1
		for end := i + 1; end <= len(t.bars); end++ {
			first, b := t.bars[i], t.bars[end-1]
			width += b.width()
			if end > i+1 && (width > paper.TextWidth || b.Section != "" && !t.FollowsPickup(b.index) || !b.begins || !b.ends || phrases.Counted(first.index, b.index) > 4) {
				break
			}
			choices = append(choices, paper.Choice[[]tabBar]{Row: t.bars[i:end], End: end, Cost: rowCost + phrases.RowCost(first.index, b.index)})
		}
		slices.Reverse(choices) // of rows that are as good, the longest
		return choices
	}, func(above, below []tabBar) float64 { return 0 })
	return rows
}
