package neck

import "math/bits"

// What a grip is rated by. A tally counts how often each of these is so.
const (
	fingerDown = iota
	barreLaid
	fretUp
	fretSpread
	fingersApart
	openBesideHigh
	silentBelow
	silentAbove
	silentBetween
	stringMissing
	toneMissing
	thirdDoubled
	otherDoubled
	thirdMuddy
	colourLow
	gripCostCount
)

// gripCosts holds what each costs. The values are our own: found by a search for
// those under which the grips that beginners' books print come out first.
var gripCosts = tally{
	fingerDown:     4,  // each finger in use
	barreLaid:      12, // each finger that lies flat
	fretUp:         5,  // each fret of the hand up the neck from the first
	fretSpread:     12, // each fret of the grip's span beyond three
	fingersApart:   12, // each two fingers on neighbouring strings two frets or more apart
	openBesideHigh: 30, // each open string beside a finger above the third fret: it rings in another colour
	silentBelow:    4,  // silent strings below those that sound: one for the first, two more for the second ...
	silentAbove:    16, // each silent string above them
	silentBetween:  80, // each silent string between two that sound
	stringMissing:  35, // each string fewer than four, and than three where the chord has two tones
	toneMissing:    2,  // each of the chord's tones that may go and does
	thirdDoubled:   2,  // each third beyond the first
	otherDoubled:   2,  // each seventh, ninth and so on beyond the first
	thirdMuddy:     9,  // the two lowest notes lie at most a third apart and begin below C3
	colourLow:      13, // the second lowest note is none of root, third and fifth
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
func (s *search) tally(h held, so stretch) (t tally) {
	t.countHand(h)
	t.countStrings(len(s.grip), s.recipe.full, so)
	s.countTones(&t, so)
	for _, fret := range s.grip {
		if fret == 0 && h.count > 0 && h.stops[h.count-1].fret > 3 {
			t[openBesideHigh]++
		}
	}
	return t
}

func (t *tally) countHand(h held) {
	if h.count == 0 {
		return
	}
	lowest, highest := h.stops[0].fret, h.stops[h.count-1].fret
	t[fingerDown] = h.count
	t[fretUp] = lowest - 1
	t[fretSpread] = max(0, highest-lowest-2)
	for i, a := range h.stops[:h.count] {
		if a.from < a.to {
			t[barreLaid]++
		}
		for _, b := range h.stops[:i] {
			if (a.from-b.to == 1 || b.from-a.to == 1) && a.fret-b.fret > 1 {
				t[fingersApart]++
			}
		}
	}
}

func (t *tally) countStrings(all, full int, so stretch) {
	below := all - so.played - so.silent - so.silentInside
	t[silentBelow] = below * (below + 1) / 2
	t[silentAbove] = so.silent
	t[silentBetween] = so.silentInside
	t[stringMissing] = max(0, full-so.played)
}

func (s *search) countTones(t *tally, so stretch) {
	const root = tones(1)
	r := s.recipe
	colours := ^(root | r.third | r.fifth | r.foreign)
	second := 1 << 10 // the second lowest key
	thirds, others := 0, 0
	for i, fret := range s.grip {
		if fret == NotPlayed {
			continue
		}
		key := s.neck.openKey(stringAt(i, len(s.grip))) + fret
		if key > so.lowest {
			second = min(second, key)
		}
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
	if second-so.lowest <= 4 && so.lowest < muddyBelow {
		t[thirdMuddy] = 1
	}
	if r.of[second%12]&colours != 0 {
		t[colourLow] = 1
	}
}
