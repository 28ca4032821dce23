package sheet

import (
	"math"

	"thirdwise/arrange"
	"thirdwise/arrange/paper"
)

// Horizontal lengths in staff spaces.
const (
	headWidth    = 1.18 // a black notehead
	clearance    = 0.4  // between what two events need
	barPadding   = 1.1  // between a bar line and the first event
	repeatWidth  = 1.5  // dots and thick line of a repeat sign
	finalWidth   = 1.0  // of the final bar line
	dotGap       = 0.45 // between a head and its dot
	dotWidth     = 0.35
	signGap      = 0.2 // between an accidental and what is right of it
	doubleWidth  = 0.5 // between the two lines of a double bar line
	tight        = 0.7 // the stretch of a dense line
	roomy        = 0.9 // and the least of a line that may have a larger staff
	quarterSpace = 4.0 // of a quarter note at its natural width
)

// naturalSpace returns how much room an event of a length has in a line that is
// neither loose nor tight. Twice the length has about one and a half times the
// room, as handbooks advise.
func naturalSpace(ticks int) float64 {
	return quarterSpace * math.Pow(float64(ticks)/arrange.Quarter, 0.58)
}

// A bar is a measure on its way to the page: what its events ask for in width.
type bar struct {
	*paper.Measure
	end    barEnd
	voices []voice // of the events
	gaps   []gap   // from each event to the next, the last to the bar line
	lead   float64 // from the bar line to the first event
}

// A gap is the room from one event to the next.
type gap struct {
	least, natural float64
}

// at returns the gap's width at a stretch of the line.
func (g gap) at(stretch float64) float64 { return max(g.least, g.natural*stretch) }

// width returns the bar's width at a stretch of the line.
func (b *bar) width(stretch float64) float64 {
	sum := b.lead
	for _, g := range b.gaps {
		sum += g.at(stretch)
	}
	return sum
}

// barsOf works out what the measures of a notation ask for.
func barsOf(n *paper.Notation) []bar {
	bars := make([]bar, len(n.Measures))
	for i := range bars {
		bars[i] = newBar(&n.Measures[i], endOf(n.Measures, i))
	}
	return bars
}

// A barEnd is how a bar ends: the bar line behind it.
type barEnd int

const (
	plainEnd  barEnd = iota
	doubleEnd        // another section begins
	openEnd          // a repeat opens
	repeatEnd        // a repeat closes
	finalEnd         // of the piece
)

// endOf returns how a measure ends.
func endOf(measures []paper.Measure, i int) barEnd {
	switch {
	case measures[i].RepeatTimes > 0:
		return repeatEnd
	case i == len(measures)-1:
		return finalEnd
	case measures[i+1].RepeatOpens:
		return openEnd
	case measures[i].SectionEnds:
		return doubleEnd
	}
	return plainEnd
}

// newBar works out what a measure with an end asks for.
func newBar(m *paper.Measure, end barEnd) bar {
	b := bar{Measure: m, end: end, lead: barPadding}
	b.voices = voicesOf(m)
	if m.RepeatOpens {
		b.lead += repeatWidth
	}
	b.lead += b.voices[0].left
	for i := range m.Events {
		e := &m.Events[i]
		g := gap{natural: naturalSpace(e.Length), least: b.voices[i].right + clearance}
		if e.TiedTo {
			g.least = max(g.least, headGlyph(e.Value).Width()+2*tieGap+shortestTie)
		}
		if i+1 < len(m.Events) {
			g.least += b.voices[i+1].left
		} else {
			g.least += end.width()
			g.natural += end.width()
		}
		b.gaps = append(b.gaps, g)
	}
	b.makeRoomForSymbols()
	return b
}

// width returns what a bar line needs to its left beside a thin one.
func (e barEnd) width() float64 {
	return [...]float64{plainEnd: 0, doubleEnd: doubleWidth, openEnd: thickBar, repeatEnd: repeatWidth, finalEnd: finalWidth}[e]
}

// makeRoomForSymbols widens the gaps under a chord symbol that is wider than
// they are.
func (b *bar) makeRoomForSymbols() {
	const between, beforeBarLine = 0.9, 0.4
	for i, span := range b.Chords {
		start := span.Tick - b.Tick
		under := func(j int) float64 { // the part of the event's gap that lies under the symbol
			e := &b.Events[j]
			ticks := min(e.End(), start+span.Length) - max(e.Tick, start)
			return float64(max(0, ticks)) / float64(e.Length)
		}
		need := symbolWidth(span) + between
		if i == len(b.Chords)-1 {
			need += beforeBarLine - between
		}
		least, room := 0.0, 0.0
		for j, g := range b.gaps {
			least += g.least * under(j)
			room += g.at(tight) * under(j)
		}
		if least >= need {
			continue
		}
		for j, g := range b.gaps {
			if under(j) > 0 {
				b.gaps[j].least = max(g.least, g.at(tight)*need/room)
			}
		}
	}
}

// A row is bars that stand side by side, and how far they are stretched.
type row struct {
	first, last int // indexes of bars
	stretch     float64
}

// What a division into lines costs. Lines should be about evenly full, four bars
// long if that fits, and begin where a section begins.
const (
	tightCost   = 6.0 // for each doubling of density, squared, below the natural width
	looseCost   = 1.0 // and above it
	notFourCost = 0.5 // each bar more or less than four, squared
	lonelyCost  = 3.0 // a line of one bar
	insideCost  = 2.0 // a section begins inside a line
	endingCost  = 1.5 // an ending is broken
)

// breakLines divides bars into lines: a shortest path over all breaks, as for
// the lines of a paragraph. room(i) is the width that bars have in a line that
// begins with bar i; thrift is what each line costs beside. ok is false where a bar
// alone is too wide.
func breakLines(bars []bar, thrift float64, room func(first int) float64) (lines []row, ok bool) {
	n := len(bars)
	cost := make([]float64, n+1) // of the best division of bars i to n-1
	next := make([]int, n+1)
	for i := n - 1; i >= 0; i-- {
		cost[i] = math.Inf(1)
		least, natural := 0.0, 0.0
		penalty := 0.0
		for j := i; j < n; j++ {
			least += bars[j].width(0)
			natural += bars[j].width(1)
			if least > room(i) {
				break
			}
			if j > i && bars[j].Section != "" {
				penalty += insideCost
			}
			c := thrift + penalty + lineCost(bars, i, j, room(i)/natural) + cost[j+1]
			if c < cost[i] {
				cost[i], next[i] = c, j+1
			}
		}
		if math.IsInf(cost[i], 1) {
			return nil, false
		}
	}
	for i := 0; i < n; i = next[i] {
		lines = append(lines, row{first: i, last: next[i] - 1})
	}
	stretchLines(bars, lines, room)
	return lines, true
}

func lineCost(bars []bar, first, last int, fill float64) float64 {
	density := math.Log2(fill)
	cost := looseCost * density * density
	count, final := last-first+1, last == len(bars)-1
	switch {
	case density < 0:
		cost = tightCost * density * density
	case final && len(bars) > count:
		cost /= 4 // the last line may stay open
	}
	if len(bars) > 4 {
		cost += notFourCost * float64((count-4)*(count-4))
	}
	if count == 1 && len(bars) > 1 {
		cost += lonelyCost
	}
	if e := bars[last].Ending; e != nil && !e.Ends {
		cost += endingCost
	}
	return cost
}

// stretchLines stretches each line to its room. The last one stays shorter where
// it would be much looser than the others, and then so much shorter that it is
// seen to be meant.
func stretchLines(bars []bar, lines []row, room func(first int) float64) {
	const loosest, looser, shorter = 2.6, 1.35, 0.85
	for i := range lines {
		l := &lines[i]
		l.stretch = stretchTo(bars[l.first:l.last+1], room(l.first))
	}
	others, last := lines[:len(lines)-1], &lines[len(lines)-1]
	most := loosest
	if len(others) > 0 {
		most = looser * meanStretch(others)
	}
	if widthOf(bars[last.first:last.last+1], most) < shorter*room(last.first) {
		last.stretch = most
	}
}

func meanStretch(lines []row) float64 {
	sum := 0.0
	for _, l := range lines {
		sum += l.stretch
	}
	return sum / float64(len(lines))
}

// widthOf returns the width of bars side by side at a stretch.
func widthOf(bars []bar, stretch float64) (sum float64) {
	for i := range bars {
		sum += bars[i].width(stretch)
	}
	return sum
}

// stretchTo returns the stretch at which bars have a width together.
func stretchTo(bars []bar, width float64) float64 {
	low, high := 0.0, 1.0
	for widthOf(bars, high) < width && high < 1e3 {
		high *= 2
	}
	for range 40 {
		middle := (low + high) / 2
		if widthOf(bars, middle) < width {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}
