package rhythm

import "slices"

// A RepeatedPart is a run of spans that comes several times, each time in the same
// rhythm.
type RepeatedPart struct {
	First   int   // index of the first span, the first time
	Length  int   // spans that come each time
	Times   int   // how often they come in all
	Endings []int // by time, how many spans follow before the part comes again or is over; nil for none
}

// Ending returns how many spans follow the part at a time, counted from 0, before it
// comes again or is over.
func (r RepeatedPart) Ending(time int) int {
	if time >= len(r.Endings) {
		return 0
	}
	return r.Endings[time]
}

// End returns the index of the span behind the part and its endings.
func (r RepeatedPart) End() int {
	end := r.First + r.Length*r.Times
	for _, ending := range r.Endings {
		end += ending
	}
	return end
}

// PhraseBars is how many bars a phrase has, where its section has as many.
const PhraseBars = 4

// Divide divides spans into phrases: a section, or four bars of it where it
// is longer. A bar that would be left over belongs to the phrase before it. A
// repeated part and its endings are divided by themselves, and each time in the same
// way; a short ending goes on with the phrase that leads into it.
func (m Maker) Divide(spans []Span, repeats []RepeatedPart) []Phrase {
	begins := bordersOf(spans, repeats)
	var phrases []Phrase
	section := -1
	var index int
	var begun Phrase // as a repeated part begins, with its section and index
	for first := 0; first < len(spans); {
		end := first + 1
		for end < len(spans) && begins[end] == nothing {
			end++
		}
		switch {
		case begins[first] == partAgain:
			section, index = begun.Section, begun.Index
		case spans[first].Section > 0 || section < 0:
			section, index = max(0, spans[first].Section-1), 0
		}
		if begins[first] == partBegins {
			begun.Section, begun.Index = section, index
		}
		block := m.block(spans, first, end)
		if begins[first] == endingBegins && len(block) == 1 {
			before, after := &phrases[len(phrases)-1], &block[0]
			if own := before.Bars; own+after.Bars <= PhraseBars+1 {
				after.Before, after.Bars = own, own+after.Bars
				index = before.Index
			}
		}
		for _, p := range block {
			p.Section, p.Index = section, index
			phrases = append(phrases, p)
			index++
		}
		first = end
	}
	for _, part := range repeats {
		part.even(phrases, len(spans))
	}
	return phrases
}

// even makes the phrase with which the part ends go alike each time: as long as with the
// first of the endings that go on with it, and like the last time where all spans end with
// the part.
func (r RepeatedPart) even(phrases []Phrase, spans int) {
	var last []*Phrase // each time
	bars := 0
	end := r.First
	for time := range r.Times {
		end += r.Length
		i := slices.IndexFunc(phrases, func(p Phrase) bool { return p.First+p.Spans == end })
		last = append(last, &phrases[i])
		if bars == 0 && i+1 < len(phrases) && phrases[i+1].Before > 0 {
			bars = phrases[i+1].Bars
		}
		end += r.Ending(time)
	}
	for _, p := range last {
		p.Bars, p.Returns = max(p.Bars, bars), end == spans && r.Ending(r.Times-1) == 0
	}
}

// A border says what begins with a span.
type border int

const (
	nothing      border = iota
	blockBegins         // a block of the chart that is divided by itself
	partBegins          // a repeated part
	partAgain           // the same, not for the first time
	endingBegins        // an ending of a repeated part
)

// bordersOf tells what begins with each span.
func bordersOf(spans []Span, repeats []RepeatedPart) map[int]border {
	borders := map[int]border{}
	for i, span := range spans {
		if i == 0 || span.Section > 0 {
			borders[i] = blockBegins
		}
	}
	for _, again := range repeats {
		at := again.First
		for time := range again.Times {
			borders[at] = partAgain
			if time == 0 {
				borders[at] = partBegins
			}
			at += again.Length
			borders[at] = endingBegins // where the ending has no spans, what is next begins here
			at += again.Ending(time)
		}
		borders[at] = blockBegins
	}
	return borders
}

// block divides spans that belong together.
func (m Maker) block(spans []Span, first, end int) []Phrase {
	barOf := func(i int) int { return spans[i].Start / m.Meter.Bar() }
	start, bars := barOf(first), barOf(end-1)-barOf(first)+1
	var phrases []Phrase
	for i := first; i < end; {
		p := Phrase{First: i}
		from := barOf(i) - start - (barOf(i)-start)%PhraseBars
		to := from + PhraseBars
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
