package exercise

import (
	"fmt"

	"thirdwise/arrange/exercise/source"
	"thirdwise/theory/meter"
)

// A StrumSign is one slot of a strumming pattern.
type StrumSign byte

// The signs of a strumming pattern.
const (
	Down StrumSign = 'D'
	Up   StrumSign = 'U'
	Ring StrumSign = '-' // no stroke; what sounds rings on
)

// strumSigns says which signs there are.
const strumSigns = "use D for a down-stroke, U for an up-stroke, - for none"

// readStrum reads one sign a slot of the bar.
func readStrum(t source.Text, m meter.Meter) []StrumSign {
	var strum []StrumSign
	strokes, understood := 0, true
	for _, word := range t.Words() {
		for i := range word.Len() {
			switch r := word.Rune(i); r {
			case rune(Down), rune(Up):
				strokes++
				strum = append(strum, StrumSign(r))
			case rune(Ring):
				strum = append(strum, Ring)
			default:
				word.Part(i, i+1).Mistake(source.Quoted(string(r))+" is not a sign of a strum", strumSigns)
				understood = false
			}
		}
	}
	switch {
	case !understood:
	case strokes == 0:
		t.Mistake("the strum has no stroke", strumSigns)
	case len(strum) > maxStrum, m.Unit > 0 && m.Bar()%len(strum) != 0:
		t.Mistake(fmt.Sprintf("a strum of %d signs does not divide a bar of %s evenly", len(strum), m),
			"write one sign a slot, with the same number of slots for each beat")
	}
	return strum
}
