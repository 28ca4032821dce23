// Package motif holds what a phrase states and how its later bars say it again: the
// moves with which its first bar begins, and whether those of another bar are the same
// ones elsewhere on the ladder. It is pure.
//
//	stated            in sequence       upside down       as far as the chord lets it
//	      B–D               C–E         E–G                     C–E
//	    A–C               B–D             D–F                 B–D
//	  G–B               A–C                 C–E             G–B
//	E–G               F–A                     A–C         E–G
//	  +2 +1 +1          +2 +1 +1          -1 -1 -2          +2 +2 +1
//
// A listener knows a motif by its rhythm and by the way that it goes (common practice).
// So moves are compared that begin at the same place in their bars.
package motif

// A Motif is the moves that have been stated, and how the bar that is played says them
// again. The zero value states nothing.
type Motif int32

// A Likeness says how a move is like the one that it says again.
type Likeness int

// The likenesses.
const (
	Alike    Likeness = iota // it is the same, or there is nothing to be like
	Mirrored                 // it is the first of its bar, and goes the other way
	Fitted                   // it goes the same way, but not as far
	Unlike
)

// Moves is how many moves a motif has at most: what goes on behind them is no beginning.
const Moves = 4

// A motif's moves stand in three bits each, the first the lowest, as their steps and
// farthest+1, or 0 for none. Two bits above them tell how the bar says them again.
const (
	bits     = 3
	farthest = 3 // staff steps; whatever is more counts as much
	said     = 1 << (Moves * bits)
	mirrored = said << 1
)

// A Place says what the move from a note does for the motif. The zero value does nothing.
type Place struct {
	States, Says int  // which of the motif's moves it states, or says again; counted from 1, 0 for none
	Begins       bool // its bar begins to say the motif again
	Ends         bool // no later move says the motif again
}

// Move returns how a move of so many staff steps is like the one that it says again, and
// the motif after it.
func (m Motif) Move(p Place, steps int) (Likeness, Motif) {
	like := Alike
	if p.Begins {
		m &^= said | mirrored
	}
	steps = max(-farthest, min(farthest, steps))
	switch {
	case p.States > 0:
		m |= Motif(steps+farthest+1) << (bits * (p.States - 1))
	case p.Says > 0:
		like, m = m.say(p.Says, steps)
	}
	if p.Ends {
		m = 0
	}
	return like, m
}

// say returns how a move is like one that has been stated, and the motif after it.
func (m Motif) say(move, steps int) (Likeness, Motif) {
	known := int(m>>(bits*(move-1))) & (1<<bits - 1)
	if known == 0 {
		return Alike, m
	}
	stated := known - farthest - 1
	against := stated*steps < 0
	if m&said == 0 && stated*steps != 0 { // the first that goes anywhere says which way up it is
		m |= said
		if against {
			return Mirrored, m | mirrored
		}
	}
	if m&mirrored != 0 {
		steps = -steps
	}
	switch {
	case stated == steps:
		return Alike, m
	case stated*steps > 0:
		return Fitted, m
	}
	return Unlike, m
}

// A Note is what the motif asks of a phrase's notes.
type Note struct {
	Bar    int  // the one in which its chord begins
	Offset int  // ticks behind that bar's beginning, 0 where it comes before it
	States bool // its bar states the motif, or says it again
}

// Places returns the places of a phrase's notes. The motif is what the first bar states.
func Places(notes []Note) []Place {
	places := make([]Place, len(notes))
	stated := map[int]int{} // the motif's moves by the offsets at which they begin
	first, ends := -1, -1   // the bar that states it, the last note that says it again
	for i, n := range notes {
		if !n.States {
			continue
		}
		if first < 0 {
			first = n.Bar
		}
		p := &places[i]
		if n.Bar != first {
			p.Begins = notes[i-1].Bar != n.Bar
			if p.Says = stated[n.Offset]; p.Says > 0 {
				ends = i
			}
		} else if len(stated) < Moves {
			p.States = len(stated) + 1
			stated[n.Offset] = p.States
		}
	}
	if ends < 0 {
		return make([]Place, len(notes))
	}
	places[ends].Ends = true
	clear(places[ends+1:])
	return places
}
