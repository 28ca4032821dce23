package line

import "thirdwise/theory/line/rhythm"

// phraseBars is how many bars a phrase has, where its section has as many.
const phraseBars = 4

// divide divides the segments into phrases: a section, or four bars of it where it
// is longer. A bar that would be left over belongs to the phrase before it. A
// repeated part and its endings are divided by themselves, and each time in the same
// way; a short ending goes on with the phrase that leads into it.
func (s *search) divide() []rhythm.Phrase {
	borders := s.borders()
	var phrases []rhythm.Phrase
	section, index, part, joined := -1, 0, 0, 0
	for first := 0; first < len(s.segments); {
		end := first + 1
		for end < len(s.segments) && borders[end] == nothing {
			end++
		}
		switch {
		case borders[first] == partAgain:
			index = part
		case s.segments[first].Section || section < 0:
			section, index = section+1, 0
		}
		if borders[first] != endingBegins {
			part = index
		}
		block := s.block(first, end)
		if borders[first] == endingBegins && len(block) == 1 {
			before, after := &phrases[len(phrases)-1], &block[0]
			if own := before.Bars; own+after.Bars <= phraseBars+1 {
				if joined == 0 { // the first ending says how the part goes each time
					joined = own + after.Bars
				}
				before.Bars, after.Before, after.Bars = joined, own, own+after.Bars
				index = before.Index
			}
		} else if borders[first] == blockBegins {
			joined = 0
		}
		for _, p := range block {
			p.Section, p.Index = section, index
			phrases = append(phrases, p)
			index++
		}
		first = end
	}
	return phrases
}

// A border says what begins with a segment.
type border int

const (
	nothing      border = iota
	blockBegins         // a block of the chart that is divided by itself
	partAgain           // a repeated part, not for the first time
	endingBegins        // an ending of a repeated part
)

// borders tells what begins with each segment.
func (s *search) borders() map[int]border {
	borders := map[int]border{}
	for i, segment := range s.segments {
		if i == 0 || segment.Section {
			borders[i] = blockBegins
		}
	}
	for _, part := range s.Repeats {
		at := part.First
		for time := range part.Times {
			borders[at] = partAgain
			if time == 0 {
				borders[at] = blockBegins
			}
			at += part.Length
			if part.ending(time) > 0 {
				borders[at] = endingBegins
				at += part.ending(time)
			}
		}
		borders[at] = blockBegins
	}
	return borders
}

// block divides segments that belong together.
func (s *search) block(first, end int) []rhythm.Phrase {
	barOf := func(i int) int { return s.segments[i].Start / s.Rhythm.Meter.Bar() }
	start, bars := barOf(first), barOf(end-1)-barOf(first)+1
	var phrases []rhythm.Phrase
	for i := first; i < end; {
		p := rhythm.Phrase{First: i}
		from := barOf(i) - start - (barOf(i)-start)%phraseBars
		to := from + phraseBars
		if bars-to == 1 {
			to = bars
		}
		for ; i < end && barOf(i)-start < to; i++ {
			p.Spans++
		}
		p.Bars = min(to, bars) - (barOf(p.First) - start)
		phrases = append(phrases, p)
	}
	return phrases
}
