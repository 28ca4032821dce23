package neck

import (
	"fmt"
	"strconv"
)

// A Position is the stretch of frets in which the hand stays.
type Position struct {
	kind positionKind
	fret int
}

type positionKind int

const (
	lowest positionKind = iota
	open
	free
	at
)

// Lowest is the zero Position: none was asked for, and the lowest one in which
// the line can be played is to be found.
var Lowest = Position{}

// Open is the open position, frets 0 to 4.
var Open = Position{kind: open}

// Free is the whole neck.
var Free = Position{kind: free}

// At is the position in which the first finger stands at a fret, 1 or higher.
func At(fret int) Position { return Position{kind: at, fret: fret} }

// Span is how many frets above its lowest a position reaches: four fingers and
// one fret of reach, N to N+4.
const Span = 4

// Fret returns the fret at which the first finger stands; ok is false for Open,
// Free and Lowest, which have none.
func (p Position) Fret() (fret int, ok bool) { return p.fret, p.kind == at }

// hand returns the fret at which the first finger stands, 1 in Open.
func (p Position) hand() int { return max(1, p.fret) }

// ParsePosition reads a position as an exercise writes it: open, free, or the
// fret, from 1 up, at which the first finger stands. [Neck.CheckPosition] tells
// whether it lies on a neck.
func ParsePosition(s string) (Position, error) {
	switch s {
	case "open":
		return Open, nil
	case "free":
		return Free, nil
	}
	fret, err := strconv.Atoi(s)
	if err != nil {
		return Lowest, fmt.Errorf("position %q; open, free or a fret number was expected", s)
	}
	p := At(fret)
	return p, Neck{}.CheckPosition(p)
}

// CheckPosition returns an error where the position is off the neck: where its
// frets, counted from the capo, would begin below 1 or end beyond the last.
func (n Neck) CheckPosition(p Position) error {
	if fret, ok := p.Fret(); ok && (fret < 1 || fret+Span > n.LastFret()) {
		return fmt.Errorf("position %d is off the neck; open, free or a fret from 1 to %d was expected", fret, n.LastFret()-Span)
	}
	return nil
}

// Candidates returns the positions to try where none was asked for, from the
// lowest up: open, then 1, 2 and so on to the last that fits on the neck.
func (n Neck) Candidates() []Position {
	all := []Position{Open}
	for fret := 1; fret+Span <= n.LastFret(); fret++ {
		all = append(all, At(fret))
	}
	return all
}

// Name says the position in words: "open position", "position 5", "the whole
// neck", and "the lowest position" for the zero Position.
func (p Position) Name() string {
	switch p.kind {
	case open:
		return "open position"
	case free:
		return "the whole neck"
	case at:
		return "position " + p.String()
	}
	return "the lowest position"
}

// String prints the position as an exercise writes it: "open", "free", "5"; and
// "lowest" for the zero Position.
func (p Position) String() string {
	switch p.kind {
	case open:
		return "open"
	case free:
		return "free"
	case at:
		return fmt.Sprint(p.fret)
	}
	return "lowest"
}
