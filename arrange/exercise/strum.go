package exercise

import (
	"fmt"
	"strings"

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

// signOf is what is written for the signs: capitals or not, arrows, dashes, dots.
var signOf = map[rune]StrumSign{
	'D': Down, 'd': Down, '↓': Down,
	'U': Up, 'u': Up, '↑': Up,
	'-': Ring, '–': Ring, '—': Ring, '−': Ring, '.': Ring, '_': Ring,
}

// readStrum reads one sign a slot of the bar, or the words down and up in its place.
// One mistake is enough for a strum.
func readStrum(t source.Text, m meter.Meter) []StrumSign {
	var strum []StrumSign
	for _, word := range t.Words() {
		switch strings.ToLower(strings.Trim(word.String(), ",")) {
		case "down":
			strum = append(strum, Down)
			continue
		case "up":
			strum = append(strum, Up)
			continue
		}
		for i := range word.Len() {
			if word.Rune(i) == '|' { // nothing new begins with the bar
				continue
			}
			sign, ok := signOf[word.Rune(i)]
			if !ok {
				wrongSign(word, i)
				return nil
			}
			strum = append(strum, sign)
		}
	}
	checkStrum(t, strum, m)
	return strum
}

// wrongSign notes the sign of a word that is none: the whole word where it was
// probably meant for one.
func wrongSign(word source.Text, i int) {
	if best := nearest(word.String(), []string{"down", "up"}); best != "" && word.Len() > 1 {
		word.Mistake(word.Quoted()+" is not a stroke", "did you mean "+best+"?")
		return
	}
	sign := word.Part(i, i+1)
	if i == 0 {
		sign = word
	}
	sign.Mistake(sign.Quoted()+" is not a sign of a strum", strumSigns)
}

// checkStrum notes a strum without strokes, and one whose slots are not those of
// the meter: whole parts of a beat, no shorter than a thirty-second note.
func checkStrum(t source.Text, strum []StrumSign, m meter.Meter) {
	strokes := strings.ReplaceAll(string(strum), string(Ring), "")
	switch {
	case strokes == "":
		t.Mistake("the strum has no stroke", strumSigns)
	case m.Unit > 0 && !isSlot(m, len(strum)):
		t.Mistake(fmt.Sprintf("a strum of %d signs does not divide a bar of %s evenly", len(strum), m), strumRemedy(strokes, m))
	}
}

// isSlot reports whether a bar divides into so many slots that a hand can count:
// sixteenths or multiples of them, thirty-seconds, or triplets.
func isSlot(m meter.Meter, slots int) bool {
	const sixteenth, triplet = meter.Quarter / 4, meter.Quarter / 3
	if m.Bar()%slots != 0 {
		return false
	}
	slot := m.Bar() / slots
	return slot%sixteenth == 0 || slot == sixteenth/2 || m.Unit != 8 && (slot == triplet || slot == triplet/2)
}

// strumRemedy lays strokes out in eighths as a hand that goes down on the beat and
// up between would play them, and says so where that fills the bar.
func strumRemedy(strokes string, m meter.Meter) string {
	slots := m.Bar() / (meter.Quarter / 2)
	var signs []string
	for _, stroke := range strokes {
		if (stroke == rune(Up)) != (len(signs)%2 == 1) {
			signs = append(signs, string(Ring))
		}
		signs = append(signs, string(stroke))
	}
	if len(signs) > slots || len(signs) < slots-1 {
		return fmt.Sprintf("write %d signs, one for each eighth, or %d, one for each sixteenth; - where there is no stroke", slots, 2*slots)
	}
	if len(signs) < slots {
		signs = append(signs, string(Ring))
	}
	return "did you mean " + strings.Join(signs, " ") + "?"
}
