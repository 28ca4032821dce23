package tab

import (
	"math"

	"thirdwise/arrange/paper"
)

// What a row of a tab costs. Rows should be few, but rather one more than broken phrases.
const (
	rowCost    = 3.0 // each
	lonelyCost = 3.0 // a row of one bar
	joinCost   = 1.5 // a phrase begins inside a row
	halfCost   = 1.0 // a row begins with half a phrase, or another ending
	insideCost = 4.0 // or with neither
	endingCost = 1.5 // an ending is broken
)

// systems divides the bars into rows, at most four and a pickup in each: a shortest path
// over all breaks. A new one begins with a section, and with each part of a bar that has
// no room in one row.
func (t *tab) systems() (rows [][]tabBar) {
	bars := t.bars
	begins := [...]float64{paper.PhraseBegins: 0, paper.HalfBegins: halfCost, paper.NothingBegins: insideCost}
	cost := make([]float64, len(bars)+1) // of the best division of bars i to the last
	next := make([]int, len(bars))
	for i := len(bars) - 1; i >= 0; i-- {
		cost[i] = math.Inf(1)
		width, joins, most := t.label+1, 0.0, i+4
		if t.FollowsPickup(i + 1) {
			most++
		}
		for end := i + 1; end <= min(most, len(bars)); end++ {
			b := bars[end-1]
			width += b.width()
			pickup := t.FollowsPickup(end - 1) // before the bar
			if end > i+1 && (width > paper.TextWidth || b.Section != "" && !pickup || !b.begins || !b.ends) {
				break
			}
			if end > i+1 && b.begin == paper.PhraseBegins && !pickup {
				joins += joinCost
			}
			c := rowCost + joins + begins[bars[i].begin] + cost[end]
			if end == i+1 {
				c += lonelyCost
			}
			if b.Ending != nil && !b.Ending.Ends {
				c += endingCost
			}
			if c <= cost[i] {
				cost[i], next[i] = c, end
			}
		}
	}
	for i := 0; i < len(bars); i = next[i] {
		rows = append(rows, bars[i:next[i]])
	}
	return rows
}
