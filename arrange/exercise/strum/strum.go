// Package strum reads what the right hand does: strums, and patterns of plucked strings.
//
// In goes the text of one setting, marked where it stands; out come patterns, and findings
// about what is none.
package strum

import (
	"fmt"
	"strings"

	"thirdwise/arrange/exercise/said"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
	"thirdwise/theory/remedy"
)

// What the signs are, for whoever wrote another.
const (
	strokeSigns = "use D for a down-stroke, U for an up-stroke, x for a damped one, > before an accent, - for none, | between bars"
	pickSigns   = "use R for the chord's bass string, 1 to 8 for the others, (21) for strings together, - to let ring, | between bars"
)

// signOf is what is written for the signs: capitals or not, arrows, dashes, dots.
var signOf = map[rune]score.StrumSign{
	'D': score.Down, 'd': score.Down, '↓': score.Down,
	'U': score.Up, 'u': score.Up, '↑': score.Up,
	'x': score.Damped, 'X': score.Damped,
	'-': score.Ring, '–': score.Ring, '—': score.Ring, '−': score.Ring, '.': score.Ring, '_': score.Ring,
}

// Read reads patterns of one sign a slot of the bar, or the words down and up in
// its place, a bar line between one bar and the next. One mistake is enough for a strum.
func Read(t source.Text, m meter.Meter) []score.Pattern {
	bars := []score.Pattern{nil}
	accent := false
	add := func(sign score.StrumSign) {
		last := &bars[len(bars)-1]
		*last = append(*last, score.Stroke{Sign: sign, Accent: accent})
		accent = false
	}
	for _, word := range t.Words() {
		switch strings.ToLower(strings.Trim(word.String(), ",")) {
		case "down":
			add(score.Down)
			continue
		case "up":
			add(score.Up)
			continue
		}
		for i := range word.Len() {
			r := word.Rune(i)
			sign, ok := signOf[r]
			switch {
			case r == '|' && !accent:
				bars = append(bars, nil)
			case r == '>' && !accent:
				accent = true
			case ok && !(accent && sign == score.Ring):
				add(sign)
			case ok:
				word.Part(i, i+1).Mistake(accentAlone, accentRemedy)
				return nil
			default:
				wrongSign(word, i, strokeSigns)
				return nil
			}
		}
	}
	if accent {
		t.Mistake(accentAlone, accentRemedy)
		return nil
	}
	return check(t, "strum", bars, m, strokeSigns)
}

// ReadPick reads patterns of plucked strings.
func ReadPick(t source.Text, m meter.Meter) []score.Pattern {
	bars := []score.Pattern{nil}
	var together []int
	open := false
	for _, word := range t.Words() {
		for i := range word.Len() {
			r, last := word.Rune(i), &bars[len(bars)-1]
			str := score.Root
			if r >= '1' && r <= '8' {
				str = int(r - '0')
			}
			switch {
			case r == '|' && !open:
				bars = append(bars, nil)
			case r == '(' && !open:
				open, together = true, nil
			case r == ')' && open && len(together) == 0:
				word.Mistake("these brackets are empty", "write between them the strings that sound together, as in (21)")
				return nil
			case r == ')' && open:
				*last = append(*last, score.Stroke{Sign: score.Pick, Strings: together})
				open, together = false, nil
			case str != score.Root || r == 'R' || r == 'r':
				if open {
					together = append(together, str)
				} else {
					*last = append(*last, score.Stroke{Sign: score.Pick, Strings: []int{str}})
				}
			case signOf[r] == score.Ring && !open:
				*last = append(*last, score.Stroke{Sign: score.Ring})
			default:
				wrongSign(word, i, pickSigns)
				return nil
			}
		}
	}
	if open {
		t.Mistake("a bracket is open", "close it with )")
		return nil
	}
	return check(t, "pick", bars, m, pickSigns)
}

// What is said of an accent without its stroke.
const accentAlone, accentRemedy = "an accent without a stroke", "write the stroke behind it, as in >D"

// wrongSign notes the sign of a word that is none: the whole word where it was
// probably meant for a stroke.
func wrongSign(word source.Text, i int, signs string) {
	if best := said.Nearest(word.String(), []string{"down", "up"}); best != nil && word.Len() > 1 && signs == strokeSigns {
		word.Slip(word.Quoted()+" is not a stroke", remedy.Meant(best...))
		return
	}
	sign := word.Part(i, i+1)
	if i == 0 {
		sign = word
	}
	what := "strum"
	if signs == pickSigns {
		what = "pick"
	}
	sign.Mistake(sign.Quoted()+" is not a sign of a "+what, signs)
}

// check returns the bars of a strum or a pick, but for the empty ones at either
// end that bar lines around it make. It notes one without strokes, and one whose slots
// are not those of the meter: whole parts of a beat, no shorter than a thirty-second note.
func check(t source.Text, what string, bars []score.Pattern, m meter.Meter, signs string) []score.Pattern {
	for len(bars) > 1 && len(bars[0]) == 0 {
		bars = bars[1:]
	}
	for len(bars) > 1 && len(bars[len(bars)-1]) == 0 {
		bars = bars[:len(bars)-1]
	}
	strikes := false
	for _, bar := range bars {
		for _, stroke := range bar {
			strikes = strikes || stroke.Sign != score.Ring
		}
	}
	if !strikes {
		t.Mistake("the "+what+" has no stroke", signs)
		return nil
	}
	for _, bar := range bars {
		if m.Unit > 0 && (len(bar) == 0 || !IsSlot(m, len(bar))) {
			why := remedy.Say(fmt.Sprintf("write one sign for each eighth of the bar, %d, or for each sixteenth, %d", m.Bar()/(meter.Quarter/2), m.Bar()/(meter.Quarter/4)))
			if what == "strum" && len(bars) == 1 {
				why = remedyOf(strings.ReplaceAll(bar.String(), string(score.Ring), ""), m)
			}
			t.Slip(fmt.Sprintf("a %s of %d signs does not divide a bar of %s evenly", what, len(bar), m), why)
			return nil
		}
	}
	return bars
}

// IsSlot reports whether a bar divides into so many slots that a hand can count:
// sixteenths or multiples of them, thirty-seconds, or triplets.
func IsSlot(m meter.Meter, slots int) bool {
	const sixteenth, triplet = meter.Quarter / 4, meter.Quarter / 3
	if m.Bar()%slots != 0 {
		return false
	}
	slot := m.Bar() / slots
	return slot%sixteenth == 0 || slot == sixteenth/2 || m.Unit != 8 && (slot == triplet || slot == triplet/2)
}

// remedyOf lays strokes out in eighths as a hand that goes down on the beat and
// up between would play them, and says so where that fills the bar.
func remedyOf(strokes string, m meter.Meter) remedy.Remedy {
	slots := m.Bar() / (meter.Quarter / 2)
	var signs []string
	accent := ""
	for _, stroke := range strokes {
		if stroke == '>' {
			accent = ">"
			continue
		}
		if (stroke == rune(score.Up)) != (len(signs)%2 == 1) {
			signs = append(signs, string(score.Ring))
		}
		signs = append(signs, accent+string(stroke))
		accent = ""
	}
	if len(signs) > slots || len(signs) < slots-1 {
		return remedy.Say(fmt.Sprintf("write %d signs, one for each eighth, or %d, one for each sixteenth; - where there is no stroke", slots, 2*slots))
	}
	if len(signs) < slots {
		signs = append(signs, string(score.Ring))
	}
	return remedy.Meant(strings.Join(signs, " "))
}

// CheckPlucked notes the string of a pick that the guitar does not have.
func CheckPlucked(t source.Text, bars []score.Pattern, last int) {
	for _, bar := range bars {
		for _, stroke := range bar {
			for _, str := range stroke.Strings {
				if str > last {
					t.Mistake(fmt.Sprintf("the guitar has no string %d", str), fmt.Sprintf("use 1, the highest, to %d, or R for the chord's bass string", last))
					return
				}
			}
		}
	}
}
