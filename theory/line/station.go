package line

import (
	"thirdwise/theory"
)

// A station is a chord with its scale: every third that can sound over it.
type station struct {
	rungs    []voicing // from the ladder's lowest up, one a staff step
	arrivals []int     // indices of the rungs with which the chord can begin
}

// A voicing is what can sound on one rung: a third of the scale over the chord.
type voicing struct {
	notes     theory.Third
	ok        bool // it is a third, and can be played
	effort    int  // the hand's
	shared    int  // how many of its notes are the chord's: 0, 1 or 2
	suspended bool // it has the third that the chord puts off
	arrival   int  // what it costs as an arrival
	tonic     bool // it has the key's tonic
}

// A ladder says which thirds there are to choose among.
type ladder struct {
	low, high int // staff steps, what is written included
	maker     Maker
}

// station makes the station of a segment.
func (l ladder) station(s Segment) *station {
	st := &station{}
	for staff := l.low; staff <= l.high; staff++ {
		r := l.voicing(s, s.Scale.Third(staff))
		r.ok = r.ok && staff >= l.maker.Low && staff <= l.maker.High
		st.rungs = append(st.rungs, r)
		if r.ok && arrives(s.Chord, r.notes) {
			st.arrivals = append(st.arrivals, len(st.rungs)-1)
		}
	}
	return st
}

// fixed makes a station of a segment that has no other third than a written one.
func (l ladder) fixed(s Segment, notes theory.Third) *station {
	at := notes.Staff() - l.low
	st := &station{rungs: make([]voicing, l.high-l.low+1), arrivals: []int{at}}
	st.rungs[at] = l.voicing(s, notes)
	return st
}

func (l ladder) voicing(s Segment, notes theory.Third) voicing {
	r := voicing{notes: notes, ok: notes.IsThird()}
	if l.maker.Effort != nil {
		effort, playable := l.maker.Effort(notes)
		r.ok = r.ok && playable
		r.effort = effort
	}
	for _, p := range [2]theory.Pitch{notes.Lower, notes.Upper} {
		if sounds(s.Chord, p.Tone) {
			r.shared++
		}
		r.tonic = r.tonic || p.Class() == l.maker.Key.Tonic.Class()
	}
	r.suspended = putsOff(s.Chord, notes)
	r.arrival = arrivalCost(s.Chord, l.maker.Key.Scale(), notes)
	return r
}

// sounds reports whether a tone, however spelled, is one of a chord's.
func sounds(c theory.Chord, t theory.Tone) bool {
	for _, own := range c.Tones() {
		if own.Class() == t.Class() {
			return true
		}
	}
	return false
}

// arrivalCost is what it costs to begin a chord on a third, in a key's scale.
func arrivalCost(c theory.Chord, key theory.Scale, t theory.Third) int {
	has := func(tone theory.Tone) bool {
		return t.Lower.Class() == tone.Class() || t.Upper.Class() == tone.Class()
	}
	altered, heard := false, false
	for _, tone := range c.Tones() {
		if !inScale(key, tone) {
			altered = true
			heard = heard || has(tone)
		}
	}
	cost := 0
	if altered && !heard {
		cost += costOf.Unaltered
	}
	tones := c.Tones()
	if telling := tones[min(1, len(tones)-1)]; !has(telling) && !(altered && heard) {
		cost += costOf.Vague
		if len(tones) > 3 && has(c.Fifth()) && has(tones[3]) {
			cost += costOf.Bare
		}
	}
	return cost
}

// inScale reports whether a tone, however spelled, is one of a scale's.
func inScale(s theory.Scale, t theory.Tone) bool {
	for l := theory.C; l <= theory.B; l++ {
		if s.Tone(l).Class() == t.Class() {
			return true
		}
	}
	return false
}

// arrives reports whether a chord can begin with a third: both notes are the
// chord's. A chord that has no third of its own (Csus4, C5) begins with one that
// shares a note with it and rubs against none.
func arrives(c theory.Chord, t theory.Third) bool {
	lower, upper := sounds(c, t.Lower.Tone), sounds(c, t.Upper.Tone)
	if hasOwnThird(c) {
		return lower && upper
	}
	if putsOff(c, t) {
		return false
	}
	return lower && !rubs(c, t.Upper.Tone) || upper && !rubs(c, t.Lower.Tone)
}

// hasOwnThird reports whether a chord has the third above its root.
func hasOwnThird(c theory.Chord) bool {
	for _, i := range c.Quality.Intervals() {
		if i.Steps == 2 {
			return true
		}
	}
	return false
}

// putsOff reports whether a chord sustains its fourth, and notes have the third in
// whose place it stands.
func putsOff(c theory.Chord, t theory.Third) bool {
	fourth := false
	for _, i := range c.Quality.Intervals() {
		fourth = fourth || i.Steps == 3
	}
	if !fourth || hasOwnThird(c) {
		return false
	}
	for _, p := range [2]theory.Pitch{t.Lower, t.Upper} {
		if above := (p.Class() - c.Root.Class() + 12) % 12; above == 3 || above == 4 {
			return true
		}
	}
	return false
}

// rubs reports whether a tone lies a semitone from one of a chord's.
func rubs(c theory.Chord, t theory.Tone) bool {
	for _, own := range c.Tones() {
		if d := distance(t.Class(), own.Class()); d == 1 || d == 11 {
			return true
		}
	}
	return false
}
