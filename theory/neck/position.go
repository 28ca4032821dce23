package neck

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"thirdwise/theory"
	"thirdwise/theory/remedy"
)

// A Position is the stretch of frets in which the hand stays.
type Position struct {
	kind positionKind
	fret int
}

type positionKind int

const (
	lowestKind positionKind = iota
	openKind
	freeKind
	atKind
)

// Lowest is the zero Position: none was asked for, and the lowest one in which
// the line has room is to be found.
var Lowest = Position{}

// Open is the open position, frets 0 to 4.
var Open = Position{kind: openKind}

// Free is the whole neck.
var Free = Position{kind: freeKind}

// At is the position in which the first finger stands at a fret, 1 or higher.
func At(fret int) Position { return Position{kind: atKind, fret: fret} }

// Span is how many frets above its lowest a position reaches: four fingers and
// one fret of reach, N to N+4.
const Span = 4

// Fret returns the fret at which the first finger stands; ok is false for Open,
// Free and Lowest, which have none.
func (p Position) Fret() (fret int, ok bool) { return p.fret, p.kind == atKind }

// hand returns the fret at which the first finger stands, 1 in Open.
func (p Position) hand() int { return max(1, p.fret) }

// romans are how positions are numbered in print, from the first (common practice).
var romans = [...]string{"I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII", "XIII", "XIV", "XV", "XVI", "XVII", "XVIII", "XIX", "XX"}

// ParsePosition reads a position as an exercise writes it: open, free, or the
// fret, from 1 up, at which the first finger stands; 5th, "position 5", "fret 5" and
// V are read too. [Neck.CheckPosition] tells whether it lies on a neck. The error says
// what to write.
func ParsePosition(s string) (Position, error) {
	word := strings.ToLower(strings.TrimSpace(s))
	for _, said := range [...]string{"position", "fret"} {
		word = strings.TrimSpace(strings.TrimPrefix(strings.TrimSuffix(word, said), said))
	}
	switch word {
	case "open":
		return Open, nil
	case "free", "the whole neck", "whole neck":
		return Free, nil
	}
	for _, ordinal := range [...]string{"st", "nd", "rd", "th"} {
		word = strings.TrimSuffix(word, ordinal)
	}
	if roman := slices.Index(romans[:], strings.ToUpper(word)); roman >= 0 {
		word = strconv.Itoa(roman + 1)
	}
	fret, err := strconv.Atoi(word)
	if err != nil {
		return Lowest, remedy.Errorf(remedy.Say("use open, free or the fret at which the first finger stands, as in 5"), "%s is not a position", theory.Quoted(s))
	}
	p := At(fret)
	return p, Neck{}.CheckPosition(p)
}

// MarshalText writes the position as [Position.String] does; the zero Position is
// the empty text.
func (p Position) MarshalText() ([]byte, error) {
	if p == Lowest {
		return nil, nil
	}
	return []byte(p.String()), nil
}

// UnmarshalText reads a position as [ParsePosition] does; an empty text is the zero
// Position.
func (p *Position) UnmarshalText(text []byte) (err error) {
	*p = Lowest
	if len(text) > 0 {
		*p, err = ParsePosition(string(text))
	}
	return err
}

// CheckPosition returns an error where the position is off the neck: where its
// frets, counted from the capo, would begin below 1 or end beyond the last.
func (n Neck) CheckPosition(p Position) error {
	if fret, ok := p.Fret(); ok && (fret < 1 || fret+Span > n.LastFret()) {
		counted := ""
		if n.Capo > 0 {
			counted = ", counted from the capo"
		}
		return remedy.Errorf(remedy.Say(fmt.Sprintf("use open, free or a fret from 1 to %d%s", n.LastFret()-Span, counted)), "position %d is off the neck", fret)
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
	case openKind:
		return "open position"
	case freeKind:
		return "the whole neck"
	case atKind:
		return "position " + p.String()
	}
	return "the lowest position"
}

// String prints the position as an exercise writes it: "open", "free", "5"; and
// "lowest" for the zero Position.
func (p Position) String() string {
	switch p.kind {
	case openKind:
		return "open"
	case freeKind:
		return "free"
	case atKind:
		return fmt.Sprint(p.fret)
	}
	return "lowest"
}
