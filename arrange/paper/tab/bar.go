package tab

import (
	"fmt"
	"slices"
	"unicode/utf8"

	"thirdwise/arrange/paper"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// A tabBar is one measure of a tab, or the part of one that has room in a row: where its
// columns stand.
type tabBar struct {
	*paper.Measure
	ticks        []int // of each column, from the start of the bar, rising
	cells        []int // characters of each
	index        int   // of the measure
	begins, ends bool  // the measure begins, ends with it
}

// divided returns the bar, or where that is wider than so many characters its parts:
// as few as can be, of whole beats, and about as wide as one another. A beat that is
// wider by itself is divided, too.
func (b tabBar) divided(m meter.Meter, width int) []tabBar {
	starts := m.BeatStarts()
	for n := 1; ; n++ {
		parts := make([]tabBar, n)
		fit := true
		for i := range parts {
			from, to := starts[(i*len(starts)+n-1)/n], b.Start+b.Length
			if i < n-1 {
				to = starts[((i+1)*len(starts)+n-1)/n]
			}
			first, _ := slices.BinarySearch(b.ticks, from)
			end, _ := slices.BinarySearch(b.ticks, to)
			parts[i] = b.part(first, end)
			fit = fit && parts[i].width() <= width
		}
		if fit {
			return parts
		}
		if n == len(starts) {
			var halves []tabBar
			for _, part := range parts {
				halves = append(halves, part.halved(width)...)
			}
			return halves
		}
	}
}

// halved returns the bar, or where that is wider than so many characters its halves,
// quarters and so on, which are not.
func (b tabBar) halved(width int) []tabBar {
	if b.width() <= width || len(b.ticks) < 2 {
		return []tabBar{b}
	}
	half := (len(b.ticks) + 1) / 2
	return append(b.part(0, half).halved(width), b.part(half, len(b.ticks)).halved(width)...)
}

// part returns the bar's columns from one on, up to another.
func (b tabBar) part(first, end int) tabBar {
	b.begins, b.ends = b.begins && first == 0, b.ends && end == len(b.ticks)
	b.ticks, b.cells = b.ticks[first:end], b.cells[first:end]
	return b
}

// has reports whether what is at a tick stands in the bar, and not in another part of
// its measure.
func (b tabBar) has(tick int) bool {
	_, found := slices.BinarySearch(b.ticks, tick)
	return found
}

// width returns the characters of the bar, its first bar line included.
func (b tabBar) width() int { return b.column(len(b.cells)) }

// column returns where a column of the bar stands, from the bar line on.
func (b tabBar) column(i int) int {
	x := 2
	for _, cell := range b.cells[:i] {
		x += cell
	}
	return x
}

// at returns where a tick's column stands, from the bar line on.
func (b tabBar) at(tick int) int {
	i, _ := slices.BinarySearch(b.ticks, tick)
	return b.column(i)
}

// columns divides the measure by the beats that are counted, and each of them by
// the shortest step of what happens in it: by two at least where beats divide so.
// What is not counted has a column where something happens.
func (b tabBar) columns(m meter.Meter) []int {
	happens := map[int]bool{}
	for _, e := range b.Events {
		happens[e.Tick] = true
	}
	for _, c := range b.Chords {
		happens[c.Tick-b.Tick] = true
	}
	var ticks []int
	first := b.Start - b.Start%m.UnitTicks() // the beat with which a pickup begins
	for start := first; start < b.Start+b.Length; start += m.UnitTicks() {
		ticks = append(ticks, dividedBeat(m, start, happens)...)
	}
	return ticks
}

// dividedBeat returns the columns of a beat.
func dividedBeat(m meter.Meter, start int, happens map[int]bool) []int {
	const most = 8 // even steps in a beat
	unit := m.UnitTicks()
	step := unit
	var within []int
	for tick := start; tick < start+unit; tick++ {
		if happens[tick] {
			step = paper.CommonStep(step, tick)
			within = append(within, tick)
		}
	}
	if step == unit && m.Unit != 8 {
		step = unit / 2
	}
	if unit/step > most {
		if !happens[start] {
			within = append([]int{start}, within...)
		}
		return within
	}
	var ticks []int
	for tick := start; tick < start+unit; tick += step {
		ticks = append(ticks, tick)
	}
	return ticks
}

// narrowest returns the fewest characters of each column that leave room for every
// count, fret and chord symbol: as many for all but those under a symbol that needs more.
func (b tabBar) narrowest(m meter.Meter) []int {
	cell := 2
	if m.Unit == 8 && m.Beats > 9 { // counts of two digits in neighbouring columns
		cell = 3
	}
	for _, e := range b.Events {
		if !e.Rest() && max(e.Third.Places.Lower.Fret, e.Third.Places.Upper.Fret) > 9 {
			cell = 3
		}
	}
	cells := slices.Repeat([]int{cell}, len(b.ticks))
	for i, c := range b.Chords {
		first, _ := slices.BinarySearch(b.ticks, c.Tick-b.Tick)
		end := len(cells)
		if i+1 < len(b.Chords) {
			end, _ = slices.BinarySearch(b.ticks, b.Chords[i+1].Tick-b.Tick)
		}
		columns := end - first
		for j := first; j < end; j++ {
			cells[j] = max(cell, (utf8.RuneCountInString(c.Label())+columns)/columns)
		}
	}
	return cells
}

// bar writes one bar into the rows of its system, its bar line at column x.
func (t *tab) bar(b tabBar, x int, chords, beats paper.Row, strs []paper.Row) {
	for _, c := range b.Chords {
		if b.has(c.Tick - b.Tick) {
			chords.Put(x+b.at(c.Tick-b.Tick), c.Label())
		}
	}
	for i := range strs {
		if b.begins {
			strs[i].Put(x, "|")
		}
	}
	for _, i := range []int{(len(strs) - 1) / 2, len(strs) / 2} { // repeat dots, around the middle
		if b.RepeatOpens && b.begins {
			strs[i].Put(x+1, ":")
		}
		if b.RepeatTimes > 0 && b.ends {
			strs[i].Put(x+b.width()-1, ":")
		}
	}
	for _, e := range b.Events {
		if e.Rest() || e.TiedFrom || !b.has(e.Tick) {
			continue
		}
		for _, p := range []neck.Place{e.Third.Places.Lower, e.Third.Places.Upper} {
			strs[p.String-1].Put(x+b.at(e.Tick), fmt.Sprint(p.Fret))
		}
	}
	for i, tick := range b.ticks {
		beats.Put(x+b.column(i), paper.Count(t.score.Meter, tick))
	}
	b.putRests(t.score.Meter, x, beats)
}

// putRests writes parentheses around the counts at which the line rests.
func (b tabBar) putRests(m meter.Meter, x int, beats paper.Row) {
	resting := make([]bool, len(b.ticks))
	for _, e := range b.Events {
		for i, tick := range b.ticks {
			resting[i] = resting[i] || e.Rest() && tick >= e.Tick && tick < e.End()
		}
	}
	for i := range resting {
		column := x + b.column(i)
		if resting[i] && (i == 0 || !resting[i-1]) {
			beats.Put(column-1, "(")
		}
		if resting[i] && (i == len(resting)-1 || !resting[i+1]) {
			beats.Put(column+max(1, utf8.RuneCountInString(paper.Count(m, b.ticks[i]))), ")")
		}
	}
}
