package system

import (
	"math"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/staff"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// Horizontal lengths in staff spaces.
const (
	clearance    = 0.4  // between what two events need
	barPadding   = 1.1  // between a bar line and the first event
	endPadding   = 0.6  // between the last event and its bar line, beside the clearance
	repeatWidth  = 1.75 // dots and thick line of a repeat sign
	finalWidth   = 1.0  // of the final bar line
	doubleWidth  = 0.5  // between the two lines of a double bar line
	tight        = 0.7  // the stretch of a dense row
	quarterSpace = 4.0  // of a quarter note at its natural width
)

// naturalSpace returns how much room an event of a length has in a row that is
// neither loose nor tight. Twice the length has about one and a half times the
// room, as handbooks advise. What is to be filled in has room for eighths.
func (v Staves) naturalSpace(ticks int) float64 {
	const eighth = meter.Quarter / 2
	if v == FillIn {
		return Both.naturalSpace(eighth) * float64(ticks) / eighth
	}
	return quarterSpace * math.Pow(float64(ticks)/meter.Quarter, 0.58)
}

// A bar is a measure on its way to the page: what its events ask for in width.
type bar struct {
	*staff.Measure
	bass *staff.Measure // what the bass plays, on its own staff; nil where none is printed
	end  barEnd
	gaps []gap   // from each event to the next, the last to the bar line
	lead float64 // from the bar line to the first event
}

// A gap is the room from one event to the next.
type gap struct {
	least, natural float64
}

// at returns the gap's width at a stretch of the row.
func (g gap) at(stretch float64) float64 { return max(g.least, g.natural*stretch) }

// width returns the bar's width at a stretch of the row.
func (b *bar) width(stretch float64) float64 {
	sum := b.lead
	for _, g := range b.gaps {
		sum += g.at(stretch)
	}
	return sum
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
	case measures[i].RepeatTimes != 0:
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

// newBar works out what a measure with an end asks for on some staves; bass is nil where
// none is printed, finger is the size of fingers' numbers.
func newBar(s *score.Score, v Staves, m, bass *paper.Measure, end barEnd, finger float64) bar {
	b := bar{Measure: staff.Of(m, paper.ClefOf(s.Neck)), end: end, lead: barPadding}
	left := 0.0 // of what stands left of the first notes
	if bass != nil {
		b.bass = staff.Of(bass, paper.BassClef)
		left = b.bass.Figures[0].Left * staff.BassSize
	}
	b.makeRoomForFrets(finger)
	if m.RepeatOpens {
		b.lead += repeatWidth
	}
	b.lead += max(left, b.Figures[0].Left)
	for i := range m.Events {
		e := &m.Events[i]
		g := gap{natural: v.naturalSpace(e.Length), least: b.Figures[i].Right + clearance}
		if e.TiedTo {
			g.least = max(g.least, staff.TieRoom(e))
		}
		if i+1 < len(m.Events) {
			g.least += b.Figures[i+1].Left
		} else {
			g.least += end.width() + endPadding
			g.natural += end.width()
		}
		b.gaps = append(b.gaps, g)
	}
	b.makeRoomForSymbols(s, v)
	b.makeRoomForBass()
	return b
}

// width returns what a bar line needs to its left beside a thin one.
func (e barEnd) width() float64 {
	return [...]float64{plainEnd: 0, doubleEnd: doubleWidth, openEnd: thickBar, repeatEnd: repeatWidth, finalEnd: finalWidth}[e]
}

// makeRoomForSymbols widens the gaps under a chord symbol that is wider than
// they are. Where chords stand alone their symbols are as high as a repeat sign's dots.
func (b *bar) makeRoomForSymbols(s *score.Score, v Staves) {
	const between, beforeBarLine = 0.9, 0.4
	for i, span := range b.Chords {
		need := spanWidth(s, span) + between
		if i == len(b.Chords)-1 {
			need += beforeBarLine - between
			if v == Chords {
				need += b.end.width()
			}
		}
		start := span.Tick - b.Tick
		b.makeRoom(start, start+span.Length, need)
	}
}

// makeRoomForBass widens the gaps over notes of the bass that need more.
func (b *bar) makeRoomForBass() {
	if b.bass == nil {
		return
	}
	for i := range b.bass.Events {
		e, f := &b.bass.Events[i], b.bass.Figures[i]
		need := f.Right + clearance
		if e.TiedTo {
			need = max(need, staff.TieRoom(e))
		}
		if i+1 < len(b.bass.Events) {
			need += b.bass.Figures[i+1].Left
		} else {
			need += b.end.width() + endPadding
		}
		b.makeRoom(e.Tick, e.End(), need*staff.BassSize)
	}
}

// makeRoom widens the gaps from one tick of the bar to another to a width together.
func (b *bar) makeRoom(from, to int, need float64) {
	under := func(j int) float64 { // the part of the event's gap that lies there
		e := &b.Events[j]
		return float64(max(0, min(e.End(), to)-max(e.Tick, from))) / float64(e.Length)
	}
	least, room := 0.0, 0.0
	for j, g := range b.gaps {
		least += g.least * under(j)
		room += g.at(tight) * under(j)
	}
	if least >= need {
		return
	}
	for j, g := range b.gaps {
		if under(j) > 0 {
			b.gaps[j].least = max(g.least, g.at(tight)*need/room)
		}
	}
}
