package line

import (
	"thirdwise/theory"
	"thirdwise/theory/line/harmony"
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
	avoided   bool // it has a note that handbooks have one avoid over the chord
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
		if r.ok && harmony.Arrives(s.Chord, r.notes) {
			st.arrivals = append(st.arrivals, len(st.rungs)-1)
		}
	}
	return st
}

// fixed makes a station of a segment that has no other third than a written one.
func (l ladder) fixed(s Segment, notes theory.Third) *station {
	st := &station{}
	for staff := l.low; staff <= l.high; staff++ {
		var r voicing
		if staff == notes.Staff() {
			r = l.voicing(s, notes)
			st.arrivals = append(st.arrivals, len(st.rungs))
		}
		st.rungs = append(st.rungs, r)
	}
	return st
}

func (l ladder) voicing(s Segment, notes theory.Third) voicing {
	r := voicing{notes: notes, ok: notes.IsThird()}
	if l.maker.Effort != nil {
		effort, playable := l.maker.Effort(notes)
		r.ok = r.ok && playable
		r.effort = effort
	}
	r.shared, r.tonic = harmony.Shared(s.Chord, notes), notes.Has(l.maker.Key.Tonic)
	r.suspended, r.avoided = harmony.PutsOff(s.Chord, notes), harmony.Avoided(s.Chord, notes)
	r.arrival = arrivalCost(s.Chord, l.maker.Key.Scale(), notes)
	return r
}

// arrivalCost is what it costs to begin a chord on a third, in a key's scale.
func arrivalCost(c theory.Chord, key theory.Scale, t theory.Third) (cost int) {
	altered, heard := false, false
	tones := c.Tones()
	for _, tone := range tones[:min(4, len(tones))] { // a ninth and what lies above it can come later
		if !key.Sounds(tone) {
			altered = true
			heard = heard || t.Has(tone)
		}
	}
	if altered && !heard {
		cost += costOf.Unaltered
	}
	if !t.Has(tones[1]) && !(altered && heard) { // the third, or what stands for it
		cost += costOf.Vague
		if len(tones) > 3 && t.Has(c.Fifth()) && t.Has(tones[3]) {
			cost += costOf.Bare
		}
	}
	if t.Lower.Class() == c.Root.Class() {
		cost += costOf.Doubled
	}
	return cost
}
