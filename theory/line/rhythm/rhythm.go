// Package rhythm makes the rhythm of a line of thirds: in which slots of a bar a
// third begins, where it is held, and where the line rests.
//
// In go the stretches of time in which the chords sound, gathered into phrases, and
// what is asked for: a grid, a density, or a rhythm written out. Out come notes
// without pitches. Which thirds they are is the business of package line.
//
// A phrase of four bars in eighths at a density of 50 %, as it is made:
//
//	bar         1                 2                 3                 4
//	part        statement         statement         drive             lead
//	figure      upbeat            upbeat            upbeat            late
//	            x - - . x x x x   x - - . x x x x   x - - . x x x x   x - - - . . x x
//
// A form says which part each bar of a phrase plays; a style says by which figure.
// A figure is an order in which the slots between two arrivals join in as density
// grows. So a rhythm is stated and stated again, drives towards the phrase's end and
// breathes there, and a higher density only ever adds notes.
package rhythm

import (
	"slices"

	"thirdwise/theory/meter"
)

// A Span is a stretch of a chart in which one chord sounds.
type Span struct {
	Start, End int  // ticks
	Bar        int  // index of its bar as the chart writes it; repeats share it
	Leads      bool // another chord follows at once, and the line leads there
	Section    int  // the section of the chart that begins here, counted from 1; one that comes again has its number again; 0 for none
	Last       bool // nothing follows this time, though the span leads on at others
}

// A Phrase is a run of spans that is heard as one thing, with a breath at its end.
type Phrase struct {
	First, Spans int  // index of its first span, and how many it has
	Bars         int  // how many bars it is long, 1 to 5, with those that stand elsewhere
	Before       int  // how many of them go before its first span, as where this is an ending
	Index        int  // counted from the beginning of its section; odd ones answer
	Section      int  // counted from 0, as the spans do
	Returns      bool // it comes again at the end, where it leads back; up to its last arrival it goes as there
}

// A Note is a third whose pitches are still open.
type Note struct {
	Tick, Length int  // it may end before the next begins: the line rests
	Span         int  // index of the span to whose chord it belongs
	Arrival      bool // the first of its span; one that is pushed begins before it
	Statement    bool // its bar states the phrase's motif, says it again, or drives on with it
}

// A Sign is what a written rhythm says of a slot.
type Sign byte

// The signs.
const (
	Begin Sign = 'x' // a third begins
	Hold  Sign = '-' // what sounds goes on
	Rest  Sign = '.' // nothing sounds
)

// A Maker makes rhythms.
type Maker struct {
	Meter   meter.Meter
	Grid    int // distance of the slots in ticks; it begins anew in each bar
	Density int // per cent of a phrase's slots between arrivals that move, 0 to 100
	// Push makes the arrivals in the second and the fourth bar of a phrase come
	// an eighth early.
	Push bool
	// Style chooses among the styles of making rhythms; any number does.
	Style int
	// Written holds the rhythms of bars that are written out, by the bar's index
	// in the chart, one sign a slot; the signs divide the bar evenly. All other
	// bars are made.
	Written map[int][]Sign
}

// eighth is the length of an eighth note in ticks.
const eighth = meter.Quarter / 2

// Notes returns the notes of all spans, rising in ticks. Each made span begins
// with an arrival. Phrases are such as [Maker.Divide] makes, and hold every span.
func (m Maker) Notes(spans []Span, phrases []Phrase) []Note {
	var notes []Note
	for _, p := range phrases {
		moving := m.moving(spans, p)
		for i := p.First; i < p.First+p.Spans; i++ {
			s := spans[i]
			if signs, ok := m.Written[s.Bar]; ok {
				notes = m.follow(notes, spans, i, signs)
				continue
			}
			notes = append(notes, Note{Tick: s.Start, Span: i, Arrival: true})
			for _, tick := range moving[i-p.First] {
				if !s.Last {
					notes = append(notes, Note{Tick: tick, Span: i})
				}
			}
		}
	}
	if m.Push {
		notes = m.push(notes, spans, phrases)
	}
	m.setLengths(notes, spans, phrases)
	next := 0
	for _, p := range phrases {
		for ; next < len(notes) && notes[next].Span < p.First+p.Spans; next++ {
			what := m.partOf(spans, p, notes[next].Span)
			notes[next].Statement = what == statement || what == drive
		}
	}
	return notes
}

// follow writes the notes of one span in a bar whose rhythm is written out. A chord
// that begins where the rhythm holds has its arrival all the same, unless a third
// that began a slot earlier, an eighth at most, is tied over: then that one is the
// arrival. Where the rhythm rests as the chord begins, the arrival comes late.
func (m Maker) follow(notes []Note, spans []Span, span int, signs []Sign) []Note {
	s := spans[span]
	bar, step := s.Start-s.Start%m.Meter.Bar(), m.Meter.Bar()/len(signs)
	arrived := false
	for i, sign := range signs {
		tick := bar + i*step
		switch {
		case tick+step <= s.Start || tick >= s.End:
			continue
		case tick < s.Start: // the chord begins within the slot
			tick = s.Start
			if sign != Rest {
				sign = Begin
			}
		case tick == s.Start && sign == Hold:
			if m.tiesOver(notes, spans, span, step) {
				notes[len(notes)-1].Span, notes[len(notes)-1].Arrival = span, true
				arrived = true
				continue
			}
			sign = Begin
		}
		if sign == Begin {
			notes = append(notes, Note{Tick: tick, Span: span, Arrival: !arrived})
			arrived = true
		}
	}
	return notes
}

// tiesOver reports whether the note before a span can be its arrival, begun early.
func (m Maker) tiesOver(notes []Note, spans []Span, span, step int) bool {
	if len(notes) == 0 || step > eighth {
		return false
	}
	last := notes[len(notes)-1]
	return last.Span == span-1 && !last.Arrival && spans[last.Span].Leads && last.Tick+step >= spans[span].Start
}

// push moves arrivals an eighth forward: those of the second and the fourth bar of
// each phrase, and of every other one behind those. The slots that they pass over
// are theirs.
func (m Maker) push(notes []Note, spans []Span, phrases []Phrase) []Note {
	pushed := map[int]bool{}
	for _, p := range phrases {
		for i := p.First + 1; i < p.First+p.Spans; i++ {
			s := spans[i]
			bars := s.Start/m.Meter.Bar() - spans[p.First].Start/m.Meter.Bar()
			_, written := m.Written[s.Bar]
			_, after := m.Written[spans[i-1].Bar]
			long := s.Start-spans[i-1].Start > 2*eighth
			if !written && !after && s.Start%m.Meter.Bar() == 0 && bars%2 == 1 && spans[i-1].Leads && long && m.Grid <= eighth {
				pushed[i] = true
			}
		}
	}
	return slices.DeleteFunc(pushArrivals(notes, pushed), func(n Note) bool {
		s := spans[n.Span]
		return !n.Arrival && pushed[n.Span+1] && n.Tick >= s.End-eighth
	})
}

func pushArrivals(notes []Note, pushed map[int]bool) []Note {
	for i := range notes {
		if notes[i].Arrival && pushed[notes[i].Span] {
			notes[i].Tick -= eighth
		}
	}
	return notes
}

// A slot is a place in which a third can begin between two arrivals.
type slot struct {
	tick   int
	index  int // counted from the arrival, which is 0
	count  int // of the slots up to the next arrival, the arrival's own among them
	onBeat bool
	// beatBefore is whether the slot before it is on a beat.
	beatBefore bool
	between    bool // it is a sixteenth between two eighths
	middle     bool // it is the middle one of a dotted beat's three eighths
	lilts      bool // it is in the last of a dotted beat's three eighths
	dotted     bool // it is one of the sixteenths of dotted beats
	halfway    int  // index of the first beat halfway to the next arrival or behind that
}

// slots returns the slots of a span but for its first. They follow the bar's grid;
// where the span does not begin and end on it, the span is halved until its parts
// are as short as the grid's.
func (m Maker) slots(s Span) []slot {
	first, step := s.Start-s.Start%m.Meter.Bar(), m.Grid
	if (s.Start-first)%m.Grid != 0 || ((s.End-first)%m.Grid != 0 && s.End%m.Meter.Bar() != 0) {
		first, step = s.Start, s.End-s.Start
		for 2*step > 3*m.Grid && step%2 == 0 {
			step /= 2
		}
	}
	beats := m.Meter.BeatStarts()
	dotted := m.Meter.Beat() == 3*eighth
	var all []slot
	for tick := first; tick < s.End; tick += step {
		if tick > s.Start {
			in := tick % m.Meter.Bar()
			all = append(all, slot{
				tick: tick, index: len(all) + 1, onBeat: slices.Contains(beats, in),
				between: step == eighth/2 && in%eighth != 0,
				middle:  step == eighth && dotted && in%m.Meter.Beat() == eighth,
				lilts:   dotted && in%m.Meter.Beat() >= 2*eighth,
				dotted:  dotted && step == eighth/2,
			})
		}
	}
	halfway := slices.IndexFunc(all, func(s slot) bool { return s.onBeat && 2*s.index > len(all) }) + 1
	for i := range all {
		all[i].count = len(all) + 1
		all[i].halfway = halfway
		all[i].beatBefore = i > 0 && all[i-1].onBeat
	}
	return all
}

// Slots returns the ticks of a span between its arrival and the next in which a
// line can move.
func (m Maker) Slots(s Span) []int {
	var ticks []int
	for _, one := range m.slots(s) {
		ticks = append(ticks, one.tick)
	}
	return ticks
}
