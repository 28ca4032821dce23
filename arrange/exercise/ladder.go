package exercise

import (
	"fmt"
	"regexp"
	"strconv"

	"thirdwise/arrange/exercise/source"
	"thirdwise/theory/neck"
)

// A Ladder says that the exercise is no song but the key's own thirds, from the tonic's
// up to the highest in reach, down to the lowest, and home.
type Ladder struct {
	Along  Along
	Upper  int // the strings, where it goes along a pair: Upper 2 and Lower 3
	Lower  int
	Triads bool // over each degree's own triad, and not over the tonic's
	Grid   bool // a third in every slot of the line's grid, and not on every beat
	At     source.Span
}

// Along says along what a ladder goes.
type Along int

// The ways of a ladder.
const (
	NoLadder     Along = iota
	AlongStrings       // two neighbouring strings
	AlongPosition
	AlongNeck // all of it
)

// Way names along what the ladder goes as exercises do: "2-3", "position", "free". It
// is "" where there is none.
func (l Ladder) Way() string {
	switch l.Along {
	case AlongStrings:
		return fmt.Sprintf("%d-%d", l.Upper, l.Lower)
	case AlongPosition:
		return "position"
	case AlongNeck:
		return "free"
	}
	return ""
}

var stringPair = regexp.MustCompile(`^(\d+)\s*(?:-|–|and|,|/)\s*(\d+)$`)

// readLadder reads along what a ladder goes.
func readLadder(t source.Text, n neck.Neck) Ladder {
	if two := stringPair.FindStringSubmatch(t.String()); two != nil {
		a, _ := strconv.Atoi(two[1])
		b, _ := strconv.Atoi(two[2])
		l := Ladder{Along: AlongStrings, Upper: min(a, b), Lower: max(a, b), At: t.Span()}
		if l.Upper < 1 || l.Lower != l.Upper+1 || l.Lower > n.Strings() {
			t.Mistake(t.Quoted()+" is not a pair of neighbouring strings", fmt.Sprintf("use two from 1, the highest, to %d, as in 2-3", n.Strings()))
		}
		return l
	}
	if _, err := strconv.Atoi(t.String()); err == nil {
		t.Mistake("a ladder has two strings for its thirds", "write a pair of neighbouring strings such as 2-3, position or free")
		return Ladder{}
	}
	i, _ := choose(t, "a way that a ladder can go", []string{"position", "free"}, map[string]string{
		"in position": "position", "neck": "free", "whole neck": "free",
	})
	return Ladder{Along: AlongPosition + Along(i), At: t.Span()}
}

// readLadderChords reads whether each degree has its own triad.
func readLadderChords(t source.Text) bool {
	i, _ := choose(t, "a choice of chords for a ladder", []string{"tonic", "triads"}, map[string]string{
		"one": "tonic", "degrees": "triads", "all": "triads", "own": "triads",
	})
	return i == 1
}

// checkLadder notes what a ladder cannot have.
func checkLadder(all, line settings) {
	if _, ok := all["ladder"]; !ok {
		if chords, ok := all["ladder-chords"]; ok {
			chords.Mistake("ladder-chords without a ladder", "add a line such as ladder: position")
		}
		return
	}
	if written, ok := all["chart"]; ok {
		written.Mistake("an exercise has a chart or a ladder, not both", "take one of them out")
	}
	for _, name := range []string{"density", "own", "push", "variant"} {
		if written, ok := line[name]; ok {
			written.Mistake(fmt.Sprintf("a ladder has no %s: its thirds follow one another", name), "take the line out; a rhythm or a grid says when they come")
		}
	}
}
