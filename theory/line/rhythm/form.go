package rhythm

import (
	"cmp"
	"slices"
)

// A part is what a bar does in its phrase.
type part int

const (
	statement part = iota // says the phrase's rhythm
	variation             // says it otherwise
	drive                 // moves more, towards the end
	lead                  // ends the phrase with a breath and leads on into the next
	breath                // ends the phrase and breathes
	parts
)

// shares says how much a part moves, in per cent of what the phrase does.
var shares = [parts]int{
	statement: 100,
	variation: 100,
	drive:     125, // common practice: acceleration into the cadence
	lead:      50,  // a breath is heard only where little else is
	breath:    50,
}

// forms says which parts the bars of a phrase play, by the number of its bars from
// 1 to 5. Common practice: of two phrases the first asks and goes on, the second
// begins like it, goes elsewhere, and closes.
var forms = [][][]part{
	{ // question
		{lead},
		{statement, lead},
		{statement, statement, lead},
		{statement, statement, drive, lead},
		{statement, statement, variation, drive, lead},
	},
	{ // answer
		{breath},
		{variation, breath},
		{statement, variation, breath},
		{statement, variation, drive, breath},
		{statement, variation, statement, drive, breath},
	},
}

// A figure is an order in which slots join in, the one with the greatest weight
// first.
type figure func(slot) int

// late has the slots nearest to the next arrival: what goes before them is a breath.
// Sixteenths that would come alone, after a long rest, are a scramble (common practice):
// those between two eighths join in later.
func late(s slot) int {
	if s.between {
		return s.index - s.count/2
	}
	return s.index
}

// run has them too: the line runs into the next arrival. Of a dotted beat's three
// eighths it leaves a quarter and an eighth to lilt.
func run(s slot) int {
	if s.middle {
		return s.index - s.count/2
	}
	return late(s)
}

// upbeat has the beat before the next arrival, what goes before that beat, and only
// then what lies behind it: the line lands on the beat and steps on from there.
func upbeat(s slot) int {
	if s.index+1 == s.count && s.count > 4 && !s.onBeat && s.beatBefore {
		return 2*s.index - 5 // behind the two before it
	}
	return 2 * run(s)
}

// walk has the beats, the latest first, and then runs into the next arrival.
func walk(s slot) int {
	if s.onBeat {
		return s.index + s.count
	}
	return run(s)
}

// threes has every third slot, which goes against the beat where the beat divides
// by two, and then those nearest to the next arrival. Where there is no room for
// two threes and more, it has the middle; sixteenths, which would halve dotted beats, lilt.
func threes(s slot) int {
	switch {
	case s.count <= 6:
		return middle(s)
	case s.dotted:
		return lilt(s)
	case s.index%3 == 0:
		return 2*s.count - s.index
	}
	return s.index
}

// lilt has the dotted beats, the last eighth of each, and then that in two, the latest
// first: a quarter and an eighth, as in a jig, or two sixteenths (common practice).
func lilt(s slot) int {
	switch {
	case s.onBeat:
		return 4*s.count + s.index
	case s.lilts && !s.between:
		return 3*s.count + s.index
	case s.lilts:
		return 2*s.count + s.index
	}
	return run(s)
}

// press has the beat halfway to the next arrival and the slot before it, and then runs:
// it moves where others breathe. Where there is no room for that, it runs alone.
func press(s slot) int {
	switch {
	case s.count <= 4:
		return run(s)
	case s.index+1 == s.halfway && !s.between:
		return 4 * s.count
	case s.index == s.halfway:
		return 3 * s.count
	}
	return run(s)
}

// middle has the slots halfway to the next arrival: the line moves and comes to
// rest again. Of two as near the middle, the one on a beat comes first. Sixteenths
// between two eighths join in later.
func middle(s slot) int {
	weight := -max(2*s.index-s.count, s.count-2*s.index)
	if s.onBeat {
		weight++
	}
	if s.between {
		weight -= s.count / 2
	}
	if s.count > 4 && 4*s.index <= s.count {
		weight-- // an arrival wants to sound
	}
	return weight
}

// styles says by which figure each part goes. Sections take them in turn,
// and one that comes again comes in its own.
var styles = [...][parts]figure{
	{statement: upbeat, variation: threes, drive: upbeat, lead: late, breath: middle},
	{statement: threes, variation: upbeat, drive: upbeat, lead: late, breath: middle},
	{statement: press, variation: threes, drive: upbeat, lead: late, breath: middle},
	{statement: middle, variation: walk, drive: upbeat, lead: late, breath: middle},
}

// partOf returns the part that a span plays in a phrase.
func (m Maker) partOf(spans []Span, p Phrase, span int) part {
	bar := p.Before + spans[span].Start/m.Meter.Bar() - spans[p.First].Start/m.Meter.Bar()
	what := forms[p.Index%len(forms)][p.Bars-1][bar]
	end := p.First + p.Spans
	if what == breath && (end == len(spans) || p.Returns && span+1 < end) {
		return lead // back to the beginning
	}
	return what
}

// ends reports whether a part ends a phrase.
func (p part) ends() bool { return p == lead || p == breath }

// figureOf returns the figure by which a part of a phrase goes.
func (m Maker) figureOf(p Phrase, what part) figure {
	return styles[(m.Style+p.Section)%len(styles)][what]
}

// moving returns the ticks in which a phrase moves behind each of its spans'
// arrivals. Of all its slots density says how many do; they are shared out among
// the spans one by one, each to the span that then has least for its share (the
// method of Webster, as seats are shared out among parties), so that more of them
// never take one away.
func (m Maker) moving(spans []Span, p Phrase) [][]int {
	ranked := make([][]slot, p.Spans)
	weights := make([]int, p.Spans)
	all := 0
	for i := range ranked {
		s := spans[p.First+i]
		_, written := m.Written[s.Bar]
		if written || !s.Leads {
			continue
		}
		slots := m.slots(s)
		what := m.partOf(spans, p, p.First+i)
		weights[i] = shares[what] * len(slots)
		if what.ends() && i+1 < len(ranked) {
			weights[i] *= 2 // the phrase breathes behind its last chord alone
		}
		order := m.figureOf(p, what)
		slices.SortStableFunc(slots, func(a, b slot) int { return cmp.Compare(order(b), order(a)) })
		ranked[i] = slots
		all += len(slots)
	}
	moving := make([][]int, p.Spans)
	for range (m.Density*all + 50) / 100 {
		next := -1
		for i, slots := range ranked {
			if len(moving[i]) == len(slots) {
				continue
			}
			if next < 0 || (2*len(moving[i])+1)*weights[next] < (2*len(moving[next])+1)*weights[i] {
				next = i
			}
		}
		moving[next] = append(moving[next], ranked[next][len(moving[next])].tick)
	}
	for _, ticks := range moving {
		slices.Sort(ticks)
	}
	return moving
}
