package chart

import (
	"fmt"
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
// counted, and whole beats where chords alone stand in a bar that they divide oddly.
func (r *reader) lengths() []int {
	n := len(r.words)
	counted := r.meter.Unit == 0 || r.counted(n)
	if !counted || r.meter.Unit != 0 && r.acrossBeats(n) {
		if beats := r.onBeats(); beats != nil {
			return beats
		}
	}
	if counted {
		return slices.Repeat([]int{r.barTicks() / n}, n)
	}
	var counts []int // of words that would do, the nearest below and above
	for i := n - 1; i > 0 && len(counts) == 0; i-- {
		if r.counted(i) {
			counts = append(counts, i)
		}
	}
	for i := n + 1; i <= r.barTicks()/sixteenth; i++ {
		if r.counted(i) {
			counts = append(counts, i)
			break
		}
	}
	whole := r.words[0].Through(r.words[n-1].Text)
	r.mistake(whole, fmt.Sprintf("%d signs do not divide a bar of %s evenly", n, r.meter), "write "+either(counts)+", with / to prolong a chord")
	return make([]int, n)
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

// acrossBeats reports whether equal shares of a bar are longer than a beat and begin
// between beats, as two do in 3/4. They can be counted, but two chords in a bar of a
// waltz are two beats of one and one of the other (common practice).
func (r *reader) acrossBeats(shares int) bool {
	share, beat := r.barTicks()/shares, r.meter.Beat()
	return shares > 1 && share > beat && share%beat != 0
}

// evenGroups reports whether all groups of a bar are of one length.
func evenGroups(m meter.Meter) bool {
	groups := m.Groups()
	return !slices.ContainsFunc(groups, func(units int) bool { return units != groups[0] })
}

// onBeats sets chords on the beats of the bar, the earlier ones longer, and notes
// how. It returns nil where there are signs other than chords, or more than beats.
func (r *reader) onBeats() []int {
	starts, n := r.meter.BeatStarts(), len(r.words)
	if n > len(starts) || slices.ContainsFunc(r.words, func(w sign) bool { return w.String() == "/" || w.String() == "%" }) {
		return nil
	}
	if groups := r.meter.Strong(); n <= len(groups) && !evenGroups(r.meter) {
		starts = groups
	}
	ends := append(slices.Clone(starts[1:]), r.meter.Bar())
	lengths := make([]int, n)
	written := "|"
	beat := 0
	for i, w := range r.words {
		beats := (len(starts) - beat + n - i - 1) / (n - i)
		lengths[i] = ends[beat+beats-1] - starts[beat]
		beat += beats
		written += " " + w.String() + strings.Repeat(" /", lengths[i]/r.signTicks()-1)
	}
	whole := r.words[0].Through(r.words[n-1].Text)
	whole.Note(fmt.Sprintf("%d chords in a bar of %s stand on its beats, as in %s |", n, r.meter, written))
	return lengths
}

// signTicks returns the length of one sign where a bar is written with one for each
// beat, or for each eighth where its beats are of two lengths.
func (r *reader) signTicks() int {
	if r.meter.Uneven() {
		return eighth
	}
	return r.meter.Beat()
}

// barTicks returns the length of a bar in ticks, 0 in the zero Meter.
func (r *reader) barTicks() int {
	if r.meter.Unit == 0 {
		return 0
	}
	return r.meter.Bar()
}
