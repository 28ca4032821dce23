package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thirdwise/theory/meter"
)

// chords gives the words of a bar their shares of it.
func (r *reader) chords() []Chord {
	if len(r.words) == 1 && r.words[0].String() == "%" {
		return r.barBefore(r.words[0])
	}
	lengths := r.lengths()
	tick := 0
	var chords []Chord
	for i, w := range r.words {
		switch w.String() {
		case "/":
			if i == 0 {
				r.mistake(w.Text, "no chord stands before this slash in its bar", "begin the bar with the chord that it prolongs")
			}
			if len(chords) > 0 {
				chords[len(chords)-1].Length += lengths[i]
			}
		case "%":
			r.mistake(w.Text, "% must stand alone in its bar", "write the chords out, or use / to prolong a chord")
		default:
			c := r.chord(w)
			c.Tick, c.Length = tick, lengths[i]
			chords = append(chords, c)
		}
		tick += lengths[i]
	}
	return chords
}

// barBefore repeats the chords of the bar before, at the place of the %.
func (r *reader) barBefore(w sign) []Chord {
	before := len(r.bars) - 1
	if n := len(r.endings.begin); n > 0 && r.endings.begin[n-1].bar == len(r.bars) {
		before = r.endings.begin[0].bar - 1 // what is heard before an ending is what all of them follow
	}
	if before < 0 {
		r.mistake(w.Text, "% repeats the bar before, but this is the first", "write its chords")
		return nil
	}
	again := slices.Clone(r.bars[before].Chords)
	for i := range again {
		again[i].At = w.Span()
	}
	return again
}

// lengths returns the ticks of each word of the bar: equal shares where they can be
// counted, and what [reader.onBeats] says where chords alone stand in a bar that they
// divide oddly.
func (r *reader) lengths() []int {
	n := len(r.words)
	if r.meter.Unit == 0 {
		return make([]int, n)
	}
	counted := r.counted(n)
	if !counted || r.acrossBeats(n) {
		if beats := r.onBeats(); beats != nil {
			return beats
		}
	}
	if counted {
		return slices.Repeat([]int{r.meter.Bar() / n}, n)
	}
	whole := r.words[0].Through(r.words[n-1].Text)
	r.mistake(whole, fmt.Sprintf("%d signs do not divide a bar of %s evenly", n, r.meter), "write "+either(r.nearCounts(n))+", with / to prolong a chord")
	return make([]int, n)
}

// nearCounts returns how many signs would do in place of n: the nearest below, if the
// chords among them have room there, and the nearest above.
func (r *reader) nearCounts(n int) (counts []int) {
	chords := 0
	for _, w := range r.words {
		if w.String() != "/" {
			chords++
		}
	}
	below, above, most := n-1, n+1, r.meter.Bar()/sixteenth
	for !r.counted(below) {
		below--
	}
	for above <= most && !r.counted(above) {
		above++
	}
	if below >= chords || above > most {
		counts = append(counts, below)
	}
	if above <= most {
		counts = append(counts, above)
	}
	return counts
}

// either lists one number or two as a choice.
func either(counts []int) string {
	if len(counts) == 1 {
		return fmt.Sprint(counts[0])
	}
	return fmt.Sprintf("%d or %d", counts[0], counts[1])
}

// The shortest shares.
const (
	eighth    = meter.Quarter / 2
	sixteenth = meter.Quarter / 4
	triplet   = meter.Quarter / 3 // an eighth of a triplet
)

// counted reports whether a player can count so many equal shares of a bar: eighths
// or multiples of them, sixteenths, or triplets where the beat is simple. Where the
// beat is not, or a bar falls into unequal groups, shares longer than a beat begin on
// beats.
func (r *reader) counted(shares int) bool {
	bar := r.meter.Bar()
	if bar%shares != 0 {
		return false
	}
	share := bar / shares
	switch {
	case share == sixteenth, share == triplet && r.meter.Unit != 8:
		return true
	case share%eighth != 0:
		return false
	case share < r.meter.Beat() || evenGroups(r.meter) && !r.meter.Compound():
		return true
	}
	starts := r.meter.BeatStarts()
	for tick := share; tick < bar; tick += share {
		if !slices.Contains(starts, tick) {
			return false
		}
	}
	return true
}

// acrossBeats reports whether equal shares of a bar neither are made of beats nor divide
// them, as two in 3/4 and three in 6/8. They can be counted, but two chords in a bar of a
// waltz are two beats of one and one of the other (common practice).
func (r *reader) acrossBeats(shares int) bool {
	share, beat := r.meter.Bar()/shares, r.meter.Beat()
	return shares > 1 && share%beat != 0 && beat%share != 0
}

// evenGroups reports whether all groups of a bar are of one length.
func evenGroups(m meter.Meter) bool {
	groups := m.Groups()
	return !slices.ContainsFunc(groups, func(units int) bool { return units != groups[0] })
}

// onBeats sets chords on the beats of the bar, or between them where they are more, and
// notes how. It returns nil where there are signs other than chords, or too many.
func (r *reader) onBeats() []int {
	unit, n := min(r.meter.UnitTicks(), meter.Quarter), len(r.words)
	units := r.meter.Bar() / unit
	if n > units || slices.ContainsFunc(r.words, func(w sign) bool { return w.String() == "/" || w.String() == "%" }) {
		return nil
	}
	lengths := r.divided(n, unit)
	signs, where, tick := r.meter.Beat(), "on its beats", 0
	if r.meter.Uneven() {
		signs = unit
	}
	for _, length := range lengths {
		if !slices.Contains(r.meter.BeatStarts(), tick) {
			signs, where = unit, "on and between its beats"
		}
		tick += length
	}
	written := "|"
	for i, w := range r.words {
		written += " " + w.String() + strings.Repeat(" /", lengths[i]/signs-1)
	}
	whole := r.words[0].Through(r.words[n-1].Text)
	whole.Note(fmt.Sprintf("%d chords in a bar of %s stand %s, as in %s |", n, r.meter, where, written))
	return lengths
}

// divided returns the ticks of so many chords in a bar, whole units, as musicians divide
// it (common practice): as many chords as can be begin with the groups of the meter,
// their lengths are as even as that allows, and the earlier ones are the longer.
func (r *reader) divided(n, unit int) []int {
	strong := r.meter.Strong()
	var best, lengths []int
	least := math.MaxInt
	var divide func(tick int)
	divide = func(tick int) {
		left := n - len(lengths)
		if left == 0 {
			if cost := unevenness(lengths, strong, r.meter.Bar()); cost < least {
				best, least = slices.Clone(lengths), cost
			}
			return
		}
		longest := r.meter.Bar() - tick - (left-1)*unit
		shortest := unit
		if left == 1 {
			shortest = longest
		}
		for length := longest; length >= shortest; length -= unit {
			lengths = append(lengths, length)
			divide(tick + length)
			lengths = lengths[:len(lengths)-1]
		}
	}
	divide(0)
	return best
}

// unevenness rates lengths that fill a bar: first by how many begin with no group of the
// meter, then by how much they differ.
func unevenness(lengths, strong []int, bar int) (cost int) {
	tick := 0
	for _, length := range lengths {
		if !slices.Contains(strong, tick) {
			cost += bar * bar
		}
		cost += length * length
		tick += length
	}
	return cost
}
