package motif_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/theory/line/motif"
)

// said tells how moves are like those that are stated: a letter each.
func said(stated, again []int) string {
	var m motif.Motif
	for i, steps := range stated {
		_, m = m.Move(motif.Place{States: i + 1}, steps)
	}
	var letters strings.Builder
	for i, steps := range again {
		var like motif.Likeness
		like, m = m.Move(motif.Place{Says: i + 1, Begins: i == 0}, steps)
		letters.WriteByte("=~<!"[like])
	}
	return letters.String()
}

// = is a move like the one that was stated, ~ the first that goes the other way, < one that
// goes its way, but not as far, and ! any other.
func TestABarSaysTheMotifAgain(t *testing.T) {
	for _, c := range []struct {
		name          string
		stated, again []int
		want          string
	}{
		{"elsewhere on the ladder", []int{2, 1, 1, -1}, []int{2, 1, 1, -1}, "===="},
		{"upside down", []int{2, 1, 1, -1}, []int{-2, -1, -1, 1}, "~==="},
		{"fitted to the chord", []int{2, 1, 1, -1}, []int{1, 1, 2, -2}, "<=<<"},
		{"fitted and upside down", []int{2, 1, 1, -1}, []int{-1, -1, -2, 2}, "~=<<"},
		{"lost", []int{2, 1, 1, -1}, []int{2, -1, 1, 1}, "=!=!"},
		{"upside down, and lost", []int{2, 1, 1, -1}, []int{-2, 1, -1, -1}, "~!=!"},
		{"staying where that stayed", []int{0, 1}, []int{0, 1}, "=="},
		{"going where that stayed", []int{0, 1}, []int{1, -1}, "!~"},
		{"staying where that went", []int{1, 1}, []int{0, -1}, "!~"},
		{"however far it leaps", []int{3, -4}, []int{5, -3}, "=="},
		{"a leap for a skip", []int{2, -3}, []int{3, -2}, "<<"},
		{"no farther than it went", []int{1, 1}, []int{1, 1, -1, 2}, "===="},
	} {
		assert.Equal(t, c.want, said(c.stated, c.again), c.name)
	}
}

// Each bar says it the way up that it will, and where it has been said for the last time
// nothing is left of it.
func TestEachBarSaysTheMotifAnew(t *testing.T) {
	var m motif.Motif
	_, m = m.Move(motif.Place{States: 1}, 1)
	_, m = m.Move(motif.Place{States: 2}, -2)
	stated := m
	for _, first := range []int{-1, 1, -1} {
		like, said := m.Move(motif.Place{Says: 1, Begins: true}, first)
		assert.Equal(t, map[int]motif.Likeness{1: motif.Alike, -1: motif.Mirrored}[first], like)
		like, m = said.Move(motif.Place{Says: 2}, -2*first)
		assert.Equal(t, motif.Alike, like)
		_, begun := m.Move(motif.Place{Begins: true}, 1)
		assert.Equal(t, stated, begun)
	}
	like, m := m.Move(motif.Place{Says: 1, Begins: true, Ends: true}, 2)
	assert.Equal(t, motif.Fitted, like)
	assert.Zero(t, m)
}

// Notes are written as their bar and their offset in it; behind + they state the motif.
// Places are the number of a move that is stated, or in parentheses of one that is said
// again; | begins a bar that says it again, and . ends it all.
func TestNotesThatBeginAlikeSayTheMotifAgain(t *testing.T) {
	for _, c := range []struct{ name, notes, want string }{
		{"the same rhythm twice", "+00 +03 +04 +10 +13 +14 20", "1 2 3 |(1) (2) (3). -"},
		{"another rhythm", "+00 +03 +04 +10 +12 +14 20", "1 2 3 |(1) - (3). -"},
		{"another end", "+00 +03 +04 +10 +13 +15 20", "1 2 3 |(1) (2). - -"},
		{"another beginning", "+01 +03 +10 +13 20", "1 2 |- (2). -"},
		{"a bar between", "+00 +03 10 13 +20 +23 30", "1 2 - - |(1) (2). -"},
		{"another bar that states, and says nothing of it", "+00 +03 +10 +21", "1 2 |(1). -"},
		{"a bar alone", "+00 +03 10 13", "- - - -"},
		{"no bar that states", "00 03 10 13", "- - - -"},
		{"more than it has moves", "+00 +01 +02 +03 +04 +05 +06 +10 +14 +15 +16 20", "1 2 3 4 - - - |(1). - - - -"},
	} {
		var notes []motif.Note
		for _, text := range strings.Fields(c.notes) {
			states := strings.HasPrefix(text, "+")
			text = strings.TrimPrefix(text, "+")
			notes = append(notes, motif.Note{Bar: int(text[0] - '0'), Offset: int(text[1] - '0'), States: states})
		}
		var places []string
		for _, p := range motif.Places(notes) {
			text := "-"
			switch {
			case p.States > 0:
				text = string(rune('0' + p.States))
			case p.Says > 0:
				text = "(" + string(rune('0'+p.Says)) + ")"
			}
			if p.Begins {
				text = "|" + text
			}
			if p.Ends {
				text += "."
			}
			places = append(places, text)
		}
		assert.Equal(t, c.want, strings.Join(places, " "), c.name)
	}
}
