package chart

import "fmt"

// endings is the state of reading the endings of a repeat.
//
//	|: C | F |1. G :|2. C |
//	         begin    begin
//	              closed
type endings struct {
	begin  []beginning
	closed bool // a :| has closed the last of them, and no other has begun
}

// A beginning is the sign with which an ending begins, and the bar that follows it.
type beginning struct {
	sign
	bar int
}

// times returns the times of the ending that is being read, nil outside of one.
func (e endings) times() []int {
	if len(e.begin) == 0 || e.closed {
		return nil
	}
	return e.begin[len(e.begin)-1].sign.times
}

// begun reports whether an ending has begun of which a bar is yet to come, bar by
// number of those read.
func (e endings) begun(bars int) bool {
	n := len(e.begin)
	return n > 0 && !e.closed && e.begin[n-1].bar == bars
}

// last returns the last time through the repeat for which there is an ending.
func (e endings) last() int {
	if len(e.begin) == 0 {
		return 0
	}
	times := e.begin[len(e.begin)-1].sign.times
	return times[len(times)-1]
}

// ending takes the times of the ending that begins with the next bar.
func (r *reader) ending(s sign) {
	wanted := r.endings.last() + 1
	switch {
	case len(r.words) > 0:
		r.mistake(s.Text, "an ending begins within a bar", "close the bar before it with |")
		return
	case r.opening == nil:
		r.mistake(s.Text, "this ending belongs to no repeat", "write |: before the bar that the repeat goes back to")
		return
	case r.endings.begun(len(r.bars)):
		r.mistake(r.endings.begin[len(r.endings.begin)-1].Text, "this ending has no bars", "write its chords")
	case len(r.bars) == r.opened:
		r.mistake(s.Text, "no bar stands before this ending in its repeat", "write what is played each time between |: and the ending")
	case wanted > 1 && !r.endings.closed:
		r.mistake(s.Text, "the ending before this one does not go back", "write :| at its end")
	case !follow(s.times, wanted):
		r.mistake(s.Text, fmt.Sprintf("the times of this ending should begin with %d", wanted), "number endings in their order, as in 1. and 2. or 1.-3. and 4.")
	}
	r.endings.begin = append(r.endings.begin, beginning{s, len(r.bars)})
	r.endings.closed = false
}

// follow reports whether the times are a number and those after it.
func follow(times []int, from int) bool {
	for i, time := range times {
		if time != from+i {
			return false
		}
	}
	return true
}

// closeEnding closes the ending that is being read with a :|.
func (r *reader) closeEnding(s sign) {
	switch {
	case r.endings.begun(len(r.bars)):
		r.mistake(s.Text, "this ending has no bars", "write its chords")
	case r.endings.closed:
		r.mistake(s.Text, "this repeat has no beginning", "write |: before the bar it goes back to")
	}
	r.endings.closed = true
}

// finishEndings ends the repeat that has endings, if one is being read. The last of
// them is as long as the longest before it, unless a sign has ended it earlier.
func (r *reader) finishEndings() {
	begin := r.endings.begin
	if len(begin) == 0 {
		return
	}
	last := begin[len(begin)-1]
	switch {
	case len(begin) == 1:
		r.mistake(last.Text, "the repeat has one ending only", "write :| after it, and |2. before what is played the last time")
	case last.bar == len(r.bars):
		r.mistake(last.Text, "this ending has no bars", "write its chords")
	}
	longest := 0
	for i, next := range begin[1:] {
		length := next.bar - begin[i].bar
		if length == 0 {
			continue // a mistake that has been named
		}
		longest = max(longest, length)
		r.bars[next.bar-1].RepeatTimes = r.endings.last()
		r.count((len(begin[i].times)-1)*length, begin[i].sign)
	}
	if !r.endings.closed {
		for i := last.bar + longest; i < len(r.bars); i++ {
			r.bars[i].Ending = nil
		}
	}
	r.count((r.endings.last()-1)*(begin[0].bar-r.opened), last.sign)
	r.opening, r.endings = nil, endings{}
}
