package paper

import (
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// whole is the length of a whole note in ticks.
const whole = 4 * meter.Quarter

// A division is a stretch of a bar and the parts into which the meter divides
// it: a bar into halves or beats, a compound beat into three eighths. What has
// no parts named divides by two.
type division struct {
	start, end int // ticks from the start of the bar
	parts      []division
	dotted     bool // it is, or is made of, compound beats
}

// divisionOf returns a bar with its divisions: the groups of its beats, two halves where there
// are four, and the beats (common practice).
func divisionOf(m meter.Meter) division {
	beats := m.Bar() / m.Beat()
	groups := []int{beats}
	switch {
	case m.Unit == 4:
		groups = m.Groups()
	case beats == 4:
		groups = []int{2, 2}
	}
	bar := division{end: m.Bar(), dotted: m.Compound()}
	if m.Uneven() {
		bar.parts = unevenBeats(m)
		return bar
	}
	at := 0
	for _, n := range groups {
		group := division{start: at, end: at + n*m.Beat(), dotted: m.Compound()}
		for ; at < group.end; at += m.Beat() {
			beat := division{start: at, end: at + m.Beat(), dotted: m.Compound()}
			if m.Compound() {
				beat.parts = equalParts(beat, 3)
			}
			group.parts = append(group.parts, beat)
		}
		bar.parts = append(bar.parts, group)
	}
	if len(groups) == 1 {
		bar.parts = bar.parts[0].parts
	}
	return bar
}

// unevenBeats returns the beats of a bar such as that of 7/8, of two eighths or
// three.
func unevenBeats(m meter.Meter) []division {
	var beats []division
	at := 0
	for _, units := range m.Groups() {
		beat := division{start: at, end: at + units*m.UnitTicks(), dotted: units == 3}
		beat.parts = equalParts(beat, units)
		beats = append(beats, beat)
		at = beat.end
	}
	return beats
}

func (d division) length() int { return d.end - d.start }

// split returns the division's parts, named or halves. It returns nil where
// halves would not be whole ticks.
func (d division) split() []division {
	if d.parts != nil || d.length()%2 != 0 {
		return d.parts
	}
	return equalParts(d, 2)
}

func equalParts(d division, n int) []division {
	parts := make([]division, n)
	for i := range parts {
		parts[i] = division{start: d.start + i*d.length()/n, end: d.start + (i+1)*d.length()/n}
	}
	return parts
}

// A unit is a stretch of a bar that is written in one way: plainly, or as a
// tuplet.
type unit struct {
	start, end     int
	within         division // what the notes must show: the bar's divisions, or the tuplet's
	actual, normal int      // 3 and 2 for a triplet; 0 for plain
	counted        Value    // of the notes that a tuplet counts
}

// finest is the shortest plain value in ticks, a 128th. Every start and end
// that is no multiple of it needs a tuplet.
const finest = whole / 128

// unitsOf divides a bar into units, so that every start and end of a stretch can
// be written. Where tuplets touch, what is plain between them is empty.
func unitsOf(m meter.Meter, line []score.Stretch) []unit {
	borders := []int{0}
	for _, s := range line {
		borders = append(borders, s.End)
	}
	bar := divisionOf(m)
	tuplets, _ := fitTuplets(bar, borders)
	var units []unit
	at := 0
	for _, t := range tuplets {
		units = append(units, unit{start: at, end: t.start, within: bar}, t)
		at = t.end
	}
	return append(units, unit{start: at, end: bar.end, within: bar})
}

// fitTuplets finds the tuplets that a division of a bar needs: one over the
// whole of it, or those of its parts, whichever is easier to read. The cost
// counts the signs, and a small one more for each that the tuplet itself
// divides further.
func fitTuplets(d division, borders []int) (best []unit, cost int) {
	plain := true
	inside := []int{}
	for _, b := range borders {
		if b > d.start && b < d.end {
			inside = append(inside, b)
			plain = plain && b%finest == 0
		}
	}
	if plain {
		return nil, 0
	}
	own, ok := tupletOver(d, inside)
	if ok {
		best = []unit{own}
		step := d.length() / own.actual
		cost = 1 + max(0, own.actual-3)
		last := d.start
		for _, b := range append(inside, d.end) {
			cost++
			if (b-last)%step != 0 || (last-d.start)%step != 0 {
				cost++
			}
			last = b
		}
	}
	if d.length() <= meter.Quarter/4 && ok {
		return best, cost
	}
	var parts []unit
	sum := 0
	for _, part := range d.split() {
		tuplets, c := fitTuplets(part, borders)
		parts = append(parts, tuplets...)
		sum += c
	}
	// As easy to read, the shorter one wins, down to the beat.
	if !ok || parts != nil && sum < cost || d.parts != nil && sum == cost {
		return parts, sum
	}
	return best, cost
}

// tupletOver returns the simplest tuplet over a division in which every border
// can be written: as many equal parts as there must be, each divided by two as
// often as need be.
func tupletOver(d division, borders []int) (unit, bool) {
	step := d.length()
	for _, b := range borders {
		step = CommonStep(step, b-d.start)
	}
	n := d.length() / step
	for n%2 == 0 {
		n /= 2
	}
	counted, ok := countedValue(d.length(), n)
	if !ok {
		return unit{}, false
	}
	return unit{
		start: d.start, end: d.end,
		within: division{start: d.start, end: d.end, parts: equalParts(d, n)},
		actual: n, normal: d.length() * int(counted) / whole, counted: counted,
	}, true
}

// countedValue returns the note value that n notes in the time of length ticks
// are written in: the shortest that is longer than each of them and goes
// evenly into the length, so that three in the time of a half are quarters. If
// there is none, it is the longest that is shorter.
func countedValue(length, n int) (v Value, ok bool) {
	for ticks := finest; length%ticks == 0; ticks *= 2 {
		v, ok = Value(whole/ticks), true
		if ticks*n >= length {
			break
		}
	}
	return v, ok
}

// CommonStep returns the longest step in ticks that goes evenly into two
// stretches.
func CommonStep(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// A piece is a stretch that one note or rest can show.
type piece struct {
	start, end int
	value      Value
	dots       int
}

// pieces divides a stretch of the unit, sounding or silent, into what single
// notes or rests can show without hiding the beat.
func (u unit) pieces(start, end int, rest bool) []piece {
	return u.cut(u.within, start, end, rest)
}

func (u unit) cut(d division, start, end int, rest bool) []piece {
	parts := d.split()
	value, dots, single := u.value(end - start)
	if single && (parts == nil || d.shows(parts, start, end, rest)) {
		return []piece{{start, end, value, dots}}
	}
	border := 0
	for _, p := range parts {
		switch {
		case start >= p.start && end <= p.end:
			return u.cut(p, start, end, rest)
		case p.end <= start || p.end >= end:
			continue
		}
		_, _, single := u.value(p.end - start)
		if border == 0 || single && d.shows(parts, start, p.end, rest) {
			border = p.end
		}
	}
	if border == 0 { // parts are gone: shorter than any value that a chart can ask for
		return []piece{{start, end, value, dots}}
	}
	return append(u.cut(d, start, border, rest), u.cut(d, border, end, rest)...)
}

// shows reports whether one sign from start to end leaves the division's parts
// in sight, where it is longer than a part. Rests must fill the division, or
// begin a compound beat or a tuplet. Notes may be syncopated as far as readers
// are used to: quarter, half, quarter in 4/4, and what is like it.
func (d division) shows(parts []division, start, end int, rest bool) bool {
	onBorder := func(tick int) bool {
		for _, p := range parts {
			if tick == p.start {
				return true
			}
		}
		return tick == d.end
	}
	halves := len(parts) == 2
	switch {
	case start == d.start && end == d.end:
		return true
	case rest:
		small := !halves && (d.dotted != parts[0].dotted || d.length() <= meter.Quarter)
		return small && start == d.start && onBorder(end)
	case parts[0].dotted:
		return !halves && onBorder(start) && onBorder(end)
	case halves && parts[0].length() == parts[1].length():
		quarter := d.length() / 4
		return start == d.start || end == d.end || start == d.start+quarter && end == d.end-quarter
	case halves:
		return false
	case d.dotted && end == d.end && start < parts[2].start:
		return true // the second of two dotted eighths
	}
	return onBorder(start)
}

// value returns the note value that lasts so many ticks in the unit, and its
// dots; ok is false where none does. Two dots are left to ties.
func (u unit) value(ticks int) (v Value, dots int, ok bool) {
	num, den := ticks, whole
	if u.actual > 0 {
		num, den = ticks*u.actual, whole*u.normal
	}
	g := CommonStep(num, den)
	num, den = num/g, den/g
	halved := den&(den-1) == 0 // a whole note, as often as need be
	if num == 3 && den > 1 {
		return Value(den / 2), 1, halved
	}
	return Value(den), 0, num == 1 && halved
}
