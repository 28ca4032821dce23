package comping

import (
	"math/bits"
	"slices"

	"thirdwise/theory/neck"
)

// What a grip is rated by. A tally counts how often each of these is so.
const (
	fingerDown = iota
	barreLaid
	barreAbove
	fretUp
	fretSpread
	fingersApart
	fingersWide
	openBesideHigh
	openBelowHand
	bassHigh
	unison
	silentBelow
	silentAbove
	silentDamped
	silentBetween
	stringMissing
	toneMissing
	thirdDoubled
	otherDoubled
	colourLow
	gripCostCount
)

// gripCosts holds what each costs. The values are our own: found by a search for
// those under which the grips that books print come out first (grips_test.go).
var gripCosts = tally{
	fingerDown:     10,  // each finger in use
	barreLaid:      52,  // each finger that lies flat
	barreAbove:     23,  // each finger but the index that does
	fretUp:         11,  // each fret of the hand up the neck from the first
	fretSpread:     44,  // each fret of the grip's span beyond three
	fingersApart:   35,  // each two fingers next to each other that stand two frets or more apart
	fingersWide:    7,   // each string from the lowest finger to the highest
	openBesideHigh: 59,  // open strings beside a finger above the third fret, if they are no more than the stopped: they ring in another colour
	openBelowHand:  3,   // each fret that the hand stands above the second, for each open string
	bassHigh:       12,  // each semitone that the lowest note lies above D3: it is no bass there
	unison:         34,  // each string that sounds what another sounds
	silentBelow:    8,   // silent strings below those that sound: one for the first, two more for the second ...
	silentAbove:    53,  // each silent string above them, but for power chords
	silentDamped:   52,  // the string above the lowest silent: the finger that stops the lowest damps it
	silentBetween:  164, // each other silent string between two that sound
	stringMissing:  82,  // each string fewer than four, and than three where the chord has two tones
	toneMissing:    11,  // each of the chord's tones that may go and does
	thirdDoubled:   7,   // each third beyond the first
	otherDoubled:   43,  // each seventh, ninth and so on beyond the first
	colourLow:      36,  // the second lowest note is none of root, third and fifth, and near the bass
}

// A tally counts what a grip is rated by.
type tally [gripCostCount]int

func (t tally) cost() int {
	sum := 0
	for i, n := range t {
		sum += n * gripCosts[i]
	}
	return sum
}

// tally counts what the grip at hand is rated by.
func (s *search) tally(fingers []neck.Stop, so stretch) (t tally) {
	t.countHand(fingers)
	s.countStrings(&t, fingers, so)
	s.countTones(&t, so)
	return t
}

func (t *tally) countHand(fingers []neck.Stop) {
	if len(fingers) == 0 {
		return
	}
	lowest, highest := fingers[0].Fret, fingers[len(fingers)-1].Fret
	t[fingerDown] = len(fingers)
	t[fretUp] = lowest - 1
	t[fretSpread] = max(0, highest-lowest-2)
	left, right := fingers[0].From, fingers[0].From
	for _, a := range fingers {
		left, right = min(left, a.From), max(right, a.From)
	}
	t[fingersWide] = right - left
	for _, a := range fingers {
		if a.From < a.To {
			t[barreLaid]++
			if a.Fret > lowest {
				t[barreAbove]++
			}
		}
		if next, ok := after(a, fingers); ok && max(a.Fret-next.Fret, next.Fret-a.Fret) > 1 {
			t[fingersApart]++
		}
	}
}

// after returns the finger that is next to another toward the highest string, unless
// the other lies across it.
func after(a neck.Stop, fingers []neck.Stop) (next neck.Stop, ok bool) {
	for _, b := range fingers {
		if b.From > a.From && (!ok || b.From < next.From) {
			next, ok = b, true
		}
	}
	return next, ok && next.From > a.To
}

// lastLow is the last fret that sounds like the open strings beside it.
const lastLow = 2

func (s *search) countStrings(t *tally, fingers []neck.Stop, so stretch) {
	below := len(s.grip) - so.played - so.silent - so.silentInside
	t[silentBelow] = below * (below + 1) / 2
	if !s.recipe.power {
		t[silentAbove] = so.silent
	}
	t[stringMissing] = max(0, s.recipe.full-so.played)
	open := 0
	for i, fret := range s.grip[:len(s.grip)-so.silent] {
		switch {
		case fret == 0 && len(fingers) > 0:
			t[openBelowHand] += max(0, fingers[0].Fret-lastLow)
			open++
		case fret == neck.NotPlayed && i == below+1 && s.grip[below] > 0 && !s.recipe.power:
			t[silentDamped]++
		case fret == neck.NotPlayed && i > below:
			t[silentBetween]++
		}
	}
	if len(fingers) > 0 && fingers[len(fingers)-1].Fret > 3 && open > 0 && open <= so.played-open {
		t[openBesideHigh] = 1
	}
}

const (
	shell    = 9  // semitones above the bass from which any of the chord's tones sounds clear: a sixth or seventh
	highBass = 50 // D3: above it the lowest note is no bass
)

func (s *search) countTones(t *tally, so stretch) {
	const root = tones(1)
	r := s.recipe
	colours := ^(root | r.third | r.fifth | r.foreign)
	second := 1 << 10 // the second lowest key
	thirds, others := 0, 0
	sounding := make([]int, 0, neck.MaxStrings)
	for i, fret := range s.grip {
		if fret == neck.NotPlayed {
			continue
		}
		key := s.open(i) + fret
		if key > so.lowest {
			second = min(second, key)
		}
		if slices.Contains(sounding, key) {
			t[unison]++
		}
		sounding = append(sounding, key)
		switch tone := r.of[key%12]; {
		case tone == r.third:
			thirds++
		case tone&colours != 0:
			others++
		}
	}
	t[thirdDoubled] = max(0, thirds-1)
	t[otherDoubled] = others - bits.OnesCount16(uint16(so.seen&colours))
	t[toneMissing] = bits.OnesCount16(uint16(r.mayGo &^ so.seen))
	if r.of[second%12]&colours&^r.suspended != 0 && second-so.lowest < shell {
		t[colourLow] = 1
	}
	if r.bassLowest {
		t[bassHigh] = max(0, so.lowest-highBass)
	}
}
