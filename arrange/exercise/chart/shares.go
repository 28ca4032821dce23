package chart

import (
	"fmt"
	"slices"
)

// chords gives the words of a bar their shares of it.
func (r *reader) chords() []Chord {
	if len(r.words) == 1 && r.words[0].String() == "%" {
		return r.barBefore(r.words[0])
	}
	share := r.share()
	var chords []Chord
	for i, w := range r.words {
		switch w.String() {
		case "/":
			if i == 0 {
				r.mistake(w.Text, "no chord stands before this slash in its bar", "begin the bar with the chord that it prolongs")
			}
			if len(chords) > 0 {
				chords[len(chords)-1].Length += share
			}
		case "%":
			r.mistake(w.Text, "% must stand alone in its bar", "write the chords out, or use / to prolong a chord")
		default:
			c := r.chord(w)
			c.Tick, c.Length = i*share, share
			chords = append(chords, c)
		}
	}
	return chords
}

// barBefore repeats the chords of the bar before, at the place of the %.
func (r *reader) barBefore(w sign) []Chord {
	if len(r.bars) == 0 {
		r.mistake(w.Text, "% repeats the bar before, but this is the first", "write its chords")
		return nil
	}
	again := slices.Clone(r.bars[len(r.bars)-1].Chords)
	for i := range again {
		again[i].At = w.Span()
	}
	return again
}

// share returns the ticks of each of the bar's shares.
func (r *reader) share() int {
	shares, ticks := len(r.words), r.barTicks()
	if ticks%shares == 0 {
		return ticks / shares
	}
	fewer, more := shares, shares
	for ticks%fewer != 0 {
		fewer--
	}
	for more < ticks && ticks%more != 0 {
		more++
	}
	r.mistake(r.words[0].Through(r.words[shares-1].Text), fmt.Sprintf("%d shares do not divide a bar of %s into whole ticks", shares, r.meter),
		fmt.Sprintf("use %d or %d, with / to prolong a chord", fewer, more))
	return 0
}

// barTicks returns the length of a bar in ticks, 0 in the zero Meter.
func (r *reader) barTicks() int {
	if r.meter.Unit == 0 {
		return 0
	}
	return r.meter.Bar()
}
