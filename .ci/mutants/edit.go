package main

import (
	"cmp"
	"slices"
)

// An edit replaces some bytes of a text.
type edit struct {
	at, width int
	text      string
	closes    bool // an insertion that belongs to what ends here
}

// applied returns a text with edits, which are in the order in which the syntax
// tree's nodes are met. What closes a node stands before what opens the next, and
// what closes an inner node before what closes the one around it.
func applied(text []byte, edits []edit) []byte {
	var openings, closings []edit
	for _, e := range edits {
		if e.closes {
			closings = append(closings, e)
		} else {
			openings = append(openings, e)
		}
	}
	slices.Reverse(closings)
	ordered := append(closings, openings...)
	slices.SortStableFunc(ordered, func(a, b edit) int { return cmp.Compare(a.at, b.at) })
	var result []byte
	from := 0
	for _, e := range ordered {
		result = append(append(result, text[from:e.at]...), e.text...)
		from = e.at + e.width
	}
	return append(result, text[from:]...)
}
