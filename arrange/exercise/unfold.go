package exercise

// Unfold returns the chart with its repeats written out: for each bar, in the
// order in which they are played, its index in Chart. Repeats do not nest.
func (e *Exercise) Unfold() []int {
	var played []int
	opened := 0
	for i, bar := range e.Chart {
		if bar.RepeatOpens {
			opened = i
		}
		played = append(played, i)
		for again := 1; again < bar.RepeatTimes; again++ {
			for j := opened; j <= i; j++ {
				played = append(played, j)
			}
		}
	}
	return played
}
