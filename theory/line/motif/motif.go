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
type Motif struct {
	moves    [Moves]int8 // staff steps, those that have been stated
	stated   int8        // how many have been
	said     bool        // the bar has said one that goes anywhere,
	mirrored bool        // and the other way
}

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

// farthest is how many staff steps a move has at most; whatever is more counts as much.
const farthest = 3

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
		m.said, m.mirrored = false, false
	}
	steps = max(-farthest, min(farthest, steps))
	switch {
	case p.States > 0:
		m.moves[m.stated] = int8(steps)
		m.stated++
	case p.Says > 0 && p.Says <= int(m.stated):
		like, m = m.say(int(m.moves[p.Says-1]), steps)
	}
	if p.Ends {
		m = Motif{}
	}
	return like, m
}

// say returns how a move is like one that has been stated, and the motif after it.
func (m Motif) say(stated, steps int) (Likeness, Motif) {
	along := stated * steps // positive where both go the same way, 0 where one stays
	if !m.said {            // the first that goes anywhere says which way up it is
		m.said, m.mirrored = along != 0, along < 0
		if m.mirrored {
			return Mirrored, m
		}
	}
	if m.mirrored {
		steps, along = -steps, -along
	}
	switch {
	case stated == steps:
		return Alike, m
	case along > 0:
		return Fitted, m
	}
	return Unlike, m
}

// A Note is what the motif asks of a phrase's notes.
type Note struct {
	Bar    int  // the tick with which the bar begins in which its chord does
	Offset int  // ticks behind that, 0 where it comes before it
	States bool // its bar states the motif, or says it again
}

// Places returns the places of a phrase's notes. The motif is what the first bar states.
func Places(notes []Note) []Place {
	places := make([]Place, len(notes))
	stated := map[int]int{} // the motif's moves by the offsets at which they begin
	var first int           // the bar that states it
	var last *Place         // that says it again
	behind := places
	for i, n := range notes {
		if !n.States {
			continue
		}
		if len(stated) == 0 {
			first = n.Bar
		}
		p := &places[i]
		if n.Bar != first {
			p.Begins = notes[i-1].Bar != n.Bar
			if p.Says = stated[n.Offset]; p.Says > 0 {
				last, behind = p, places[i+1:]
			}
		} else if len(stated) < Moves {
			p.States = len(stated) + 1
			stated[n.Offset] = p.States
		}
	}
	clear(behind)
	if last != nil {
		last.Ends = true
	}
	return places
}
