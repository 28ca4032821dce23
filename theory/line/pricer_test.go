package line_test

import (
	"strings"

	"thirdwise/theory"
	"thirdwise/theory/line"
	"thirdwise/theory/line/rhythm"
)

// A pricer adds up what lines of one phrase cost.
type pricer struct {
	maker    line.Maker
	segments []line.Segment
	notes    []rhythm.Note
	stated   map[int]bool // segments whose bar states the phrase's motif or says it again
}

func newPricer(m line.Maker, segments []line.Segment) *pricer {
	var spans []rhythm.Span
	for i, s := range segments {
		last := i+1 == len(segments)
		spans = append(spans, rhythm.Span{Start: s.Start, End: s.End, Bar: s.Bar, Leads: !last || m.Closed, Last: last && !m.Closed})
	}
	p := &pricer{maker: m, segments: segments, stated: map[int]bool{}}
	p.notes = m.Rhythm.Notes(spans, []rhythm.Phrase{{Spans: len(spans), Bars: len(spans)}})
	for _, n := range p.notes {
		p.stated[n.Span] = n.Statement && !p.goesOn(n.Span)
	}
	if m.Closed {
		p.notes = append(p.notes, p.notes[0])
	}
	return p
}

// cheapest tries every line and returns what the best costs.
func (p *pricer) cheapest() int {
	best := 1 << 30
	var steps []line.Step
	var try func()
	try = func() {
		n := len(steps)
		if n == len(p.notes) {
			best = min(best, p.price(steps))
			return
		}
		note := p.notes[n]
		s := p.segments[note.Span]
		for staff := p.maker.Low; staff <= p.maker.High; staff++ {
			step := line.Step{Tick: note.Tick, Length: note.Length, Segment: note.Span, Notes: s.Scale.Third(staff), Role: line.Passing}
			if note.Arrival {
				step.Role = line.Arrival
			}
			if note.Arrival && !beginsWith(s.Chord, step.Notes) || !step.Notes.IsThird() {
				continue
			}
			if p.maker.Closed && n+1 == len(p.notes) && step.Notes != steps[0].Notes {
				continue
			}
			if n > 0 && !note.Arrival {
				reach := 2
				if p.afresh(n) {
					reach = 4
				}
				if distance(staff, steps[n-1].Notes.Staff()) > reach {
					continue
				}
			}
			steps = append(steps, step)
			if p.soFar(steps) < best {
				try()
			}
			steps = steps[:n]
		}
	}
	try()
	return best
}

// afresh reports whether a rest or a long third goes before a note.
func (p *pricer) afresh(n int) bool {
	return p.rested(n) || n > 0 && p.notes[n-1].Length > quarter
}

// rested reports whether a rest goes before a note.
func (p *pricer) rested(n int) bool {
	if n == 0 {
		return false
	}
	until := p.notes[n].Tick
	if p.maker.Closed && n+1 == len(p.notes) {
		until = len(p.segments) * bar
	}
	return p.notes[n-1].Tick+p.notes[n-1].Length < until
}

// restarts reports whether a rest goes before a note, and another upbeat comes behind it.
func (p *pricer) restarts(n int) bool {
	return p.rested(n) && n+1 < len(p.notes) && !p.notes[n+1].Arrival
}

func beginsWith(c theory.Chord, t theory.Third) bool {
	lower, upper := sounds(c, t.Lower.Tone), sounds(c, t.Upper.Tone)
	if !strings.Contains(c.String(), "sus") {
		return lower && upper
	}
	if putsOff(c, t) {
		return false
	}
	rubs := func(tone theory.Tone) bool {
		for _, own := range c.Tones() {
			if d := (tone.Class() - own.Class() + 12) % 12; d == 1 || d == 11 {
				return true
			}
		}
		return false
	}
	return lower && !rubs(t.Upper.Tone) || upper && !rubs(t.Lower.Tone)
}

func putsOff(c theory.Chord, t theory.Third) bool {
	if !strings.Contains(c.String(), "sus4") {
		return false
	}
	for _, p := range []theory.Pitch{t.Lower, t.Upper} {
		if d := (p.Class() - c.Root.Class() + 12) % 12; d == 3 || d == 4 {
			return true
		}
	}
	return false
}

// avoided reports whether a third has what handbooks have one avoid over a chord: a tone
// a semitone above one of its own, over a dominant seventh above its third.
func avoided(c theory.Chord, t theory.Third) bool {
	root, own, above := c.Root.Class(), map[int]bool{}, map[int]bool{}
	for _, tone := range c.Tones() {
		own[tone.Class()], above[(tone.Class()+1)%12] = true, true
	}
	if own[(root+4)%12] && own[(root+10)%12] {
		above = map[int]bool{(root + 5) % 12: true}
	}
	for _, pitch := range []theory.Pitch{t.Lower, t.Upper} {
		if above[pitch.Class()] && !sounds(c, pitch.Tone) {
			return true
		}
	}
	return false
}

// goesOn reports whether a segment has the chord of the one before it.
func (p *pricer) goesOn(segment int) bool {
	return segment > 0 && p.segments[segment-1].Chord == p.segments[segment].Chord
}

// price adds up what a line costs. The first third of a closed one is paid for once.
func (p *pricer) price(steps []line.Step) int {
	return p.soFar(steps) + p.highPoint(steps)
}

// soFar adds up what the beginning of a line costs, but for its high point.
func (p *pricer) soFar(steps []line.Step) int {
	sum := p.moves(steps)
	for i, step := range steps {
		if !p.maker.Closed || i+1 < len(p.notes) {
			sum += p.own(i, step)
		}
	}
	return sum
}

// own is what a third costs, however it is reached.
func (p *pricer) own(i int, step line.Step) int {
	c, k := line.CostOf, p.segments[step.Segment].Chord
	effort, _ := p.maker.Effort(step.Notes)
	sum := c.Hand * effort
	if i == 0 {
		sum += c.Opening * effort
	}
	shared := 0
	for _, pitch := range []theory.Pitch{step.Notes.Lower, step.Notes.Upper} {
		if sounds(k, pitch.Tone) {
			shared++
		}
	}
	strong := step.Tick%(2*quarter) == 0
	if step.Role == line.Arrival || strong {
		sum += c.Far * max(0, distance(step.Notes.Staff(), p.curve(step.Tick))-1)
	}
	if step.Role == line.Arrival {
		return sum + p.arrival(step)
	}
	if putsOff(k, step.Notes) {
		sum += c.Suspended
	}
	onBeat := step.Tick%quarter == 0
	if onBeat {
		sum += c.Loose * (2 - shared)
	}
	hangs := step.Length >= quarter || i+1 < len(p.notes) && p.afresh(i+1)
	if (onBeat || hangs) && avoided(k, step.Notes) {
		sum += c.Avoided
	}
	switch {
	case strong && shared == 0:
		sum += c.ForeignStrong
	case onBeat && shared == 0:
		sum += c.ForeignBeat
	case hangs:
		sum += c.Hanging * (2 - shared)
	}
	return sum
}

func (p *pricer) arrival(step line.Step) int {
	c, k := line.CostOf, p.segments[step.Segment].Chord
	has := func(tone theory.Tone) bool {
		return tone.Class() == step.Notes.Lower.Class() || tone.Class() == step.Notes.Upper.Class()
	}
	sum := 0
	altered, heard := false, false
	for i, tone := range k.Tones() {
		own := i > 3
		for _, t := range p.maker.Key.Tones() {
			own = own || t.Class() == tone.Class()
		}
		if !own {
			altered = true
			heard = heard || has(tone)
		}
	}
	if altered && !heard {
		sum += c.Unaltered
	}
	tones := k.Tones()
	if !has(tones[1]) && !(altered && heard) {
		sum += c.Vague
		if len(tones) == 4 && has(tones[2]) && has(tones[3]) {
			sum += c.Bare
		}
	}
	if step.Notes.Lower.Class() == k.Root.Class() {
		sum += c.Doubled
	}
	last := len(p.segments) - 1
	if step.Segment == last && p.segments[last].Chord.Root == p.maker.Key.Tonic && !has(p.maker.Key.Tonic) {
		sum += c.Home
	}
	return sum
}

// curve returns the staff step where the curve of a question runs: in the middle at
// first, half its swing above that at seven tenths, a fifth at the end.
func (p *pricer) curve(tick int) int {
	at := 100 * tick / (len(p.segments) * bar)
	height := 50 * at / 70
	if at > 70 {
		height = 50 - 30*(at-70)/30
	}
	low, high := 0, p.maker.High-p.maker.Low
	swing := min(4, (high-low)/2-1)
	return p.maker.Low + (100*(low+high)+2*swing*height+100)/200
}

func (p *pricer) moves(steps []line.Step) int {
	c := line.CostOf
	sum, heading, turned := 0, 0, false
	said := motifOf(p)
	arrival := steps[0] // the last one
	for i := 1; i < len(steps); i++ {
		from, to := steps[i-1], steps[i]
		n := to.Notes.Staff() - from.Notes.Staff()
		low, high := to.Notes.Lower.MIDI()-from.Notes.Lower.MIDI(), to.Notes.Upper.MIDI()-from.Notes.Upper.MIDI()
		fromArrival, toArrival := from.Role == line.Arrival, to.Role == line.Arrival
		afresh := p.afresh(i)
		if afresh {
			heading, turned = 0, false
		}
		wasTurned := turned
		turns := n*heading < 0
		if n != 0 {
			heading, turned = n/distance(n, 0), turns
		}
		before := arrival
		if toArrival {
			arrival = to
		}
		over := p.maker.Closed && i+1 == len(p.notes) // back at the beginning, in the next phrase
		if toArrival && !over && to.Notes.Staff() == before.Notes.Staff() {
			sum += c.Stay
			if p.goesOn(to.Segment) {
				sum += c.Stuck
			}
		}
		if !over {
			sum += said.price(i-1, n)
		}
		shared := func(s line.Step) bool {
			k := p.segments[s.Segment].Chord
			return sounds(k, s.Notes.Lower.Tone) || sounds(k, s.Notes.Upper.Tone)
		}
		switch {
		case low == 0 && high == 0:
			switch {
			case toArrival && (fromArrival || afresh):
				sum += c.Same
			case !toArrival && p.restarts(i):
				sum += c.Restart
			default:
				sum += c.Repeat
			}
			continue
		case n == 0:
			sum += c.Inflected
			continue
		case distance(n, 0) == 1:
			if distance(low, 0) == 3 || distance(high, 0) == 3 {
				sum += c.Augmented
			}
		default:
			sum += c.Leap * (distance(n, 0) - 2)
			if distance(n, 0) > 2 && !afresh {
				sum += c.Jump
			}
			if fromArrival && toArrival {
				sum += c.Skip
			} else {
				if toArrival {
					sum += c.Landing
				} else {
					sum += c.Skip
				}
				if !shared(from) || !shared(to) {
					sum += c.LooseSkip
				}
			}
		}
		if turns {
			sum += c.Turn
			if wasTurned {
				sum += c.Zigzag
			}
			if distance(n, 0) > 1 {
				sum += c.Back
			}
		}
	}
	return sum
}

// highPoint is what it costs to come to the phrase's highest third more than once.
func (p *pricer) highPoint(steps []line.Step) int {
	if p.maker.Closed {
		steps = steps[:len(steps)-1]
	}
	highest, times := -1, 0
	for i, step := range steps {
		switch n := step.Notes.Staff(); {
		case n > highest:
			highest, times = n, 1
		case n == highest && steps[i-1].Notes.Staff() != n:
			times++
		}
	}
	if times > 1 {
		return line.CostOf.Plateau
	}
	return 0
}
