package comping

import (
	"cmp"
	"slices"

	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// Grips returns the ways to play a chord with one hand, the best first: those
// that a beginner's book prints, where the tuning has them. Frets are counted
// from the capo and go up to where shapes come again an octave higher.
//
// Each grip can be held (see [neck.Grip.Stops]) and sounds all of the chord's tones
// and no others; a perfect fifth may go, and so may a major ninth below an
// eleventh or a thirteenth. The chord's bass lies lowest, unless it is the root
// and all strings lie so high that none is heard as a bass. At most one string
// between two that sound is silent. Where no grip is all of that, more strings
// may be silent; then, if the chord has four tones or a bass of its own, the root
// may go; and only then another tone may lie lowest. Where a neck still has none,
// as one with few strings may, the result is empty.
func Grips(n neck.Neck, c theory.Chord) []neck.Grip {
	found := rated(n, c)
	all := make([]neck.Grip, len(found))
	for i, r := range found {
		all[i] = r.Grip
	}
	return all
}

// A ratedGrip is a grip with what it costs; see gripCosts.
type ratedGrip struct {
	neck.Grip
	cost int
	hand int // the lowest fret stopped, 0 where none is
}

// rated returns the grips of a chord, the best first.
func rated(n neck.Neck, c theory.Chord) []ratedGrip {
	for _, r := range recipes(n, c) {
		s := search{neck: n, recipe: r, grip: make(neck.Grip, n.Strings())}
		if s.run(); len(s.found) == 0 {
			continue
		}
		slices.SortFunc(s.found, func(a, b ratedGrip) int {
			return cmp.Or(cmp.Compare(a.cost, b.cost), slices.Compare(a.Grip, b.Grip))
		})
		return s.found
	}
	return nil
}

// tones is a set of a chord's tones: bit i is the i-th of the chord's formula.
type tones uint16

// A recipe says which tones a grip of a chord holds.
type recipe struct {
	of           [12]tones // the tone that a pitch class is, 0 for none of them
	need         tones
	mayGo        tones // need not be there
	third, fifth tones // empty where the chord has none
	suspended    tones // what is in the third's place, empty in most chords
	foreign      tones // a bass that is not one of the chord's tones
	bass         int   // pitch class
	bassLowest   bool
	silentInside int  // how many strings between two that sound may be silent
	full         int  // how many strings make a full sound
	power        bool // a power chord, which is played on the low strings alone
}

// majorNinth may go where an eleventh or a thirteenth gives the chord its colour,
// as the perfect fifth always may (common practice).
var majorNinth = theory.Interval{Steps: 8, Semitones: 14}

// fifthMayGo reports whether a chord is still told without its perfect fifth: where
// a third tells it, or where it has tones enough.
func fifthMayGo(q theory.Quality) bool {
	all := len(q.Intervals())
	return all > 2 && q.Third() != 0 || all > 4
}

// recipes returns what to try for a chord, one after the other until a grip is
// found.
func recipes(n neck.Neck, c theory.Chord) []recipe {
	steps := c.Quality.Intervals()
	r := recipe{bass: c.Bass.Class(), silentInside: 1, full: min(4, len(steps)+1), power: len(steps) == 2}
	r.bassLowest = hasBass(n) || c.Bass != c.Root
	highest := steps[len(steps)-1].Steps
	for i, step := range steps {
		tone := tones(1) << i
		r.of[(c.Root.Class()+step.Semitones)%12] = tone
		switch step.Steps {
		case 2:
			r.third = tone
		case 1, 3:
			r.suspended |= tone
		case 4:
			r.fifth = tone
		}
		if step == theory.PerfectFifth && fifthMayGo(c.Quality) || step == majorNinth && highest > step.Steps {
			r.mayGo |= tone
		} else {
			r.need |= tone
		}
	}
	if r.of[r.bass] == 0 {
		r.foreign = tones(1) << len(steps)
		r.of[r.bass] = r.foreign
		r.need |= r.foreign
	}

	apart := r
	apart.silentInside = n.Strings()
	rootless := apart
	if len(steps) > 3 || r.foreign != 0 {
		rootless.need &^= 1
	}
	upside := rootless
	upside.bassLowest = false
	upside.need &^= r.foreign
	return []recipe{r, apart, rootless, upside}
}

// hasBass reports whether the strings reach so low that the lowest note of a chord
// is heard as its bass. From G3 up, on ukulele and mandolin, chords are played in
// any inversion (common practice).
func hasBass(n neck.Neck) bool {
	const g3 = 55
	for _, open := range n.Tuning {
		if open.MIDI() < g3 {
			return true
		}
	}
	return false
}

// A search goes through the strings from the lowest up, once for each fret at
// which the hand can stand, and keeps the grips that follow its recipe.
type search struct {
	neck   neck.Neck
	recipe recipe
	grip   neck.Grip // the strings so far
	found  []ratedGrip

	hand       int // the lowest fret stopped
	choices    [neck.MaxStrings][]choice
	bassBeyond [neck.MaxStrings + 1]int // the lowest key at which the bass can sound on this string or a higher one
}

// A choice is one fret of one string that sounds a tone of the chord.
type choice struct {
	fret, key int
	tone      tones
}

// A stretch of strings is what a search knows about those it has gone through.
type stretch struct {
	seen         tones
	lowest       int // key, 0 before the first string that sounds
	played       int
	silentInside int
	silent       int  // strings since the last that sounds
	stopped      bool // whether the hand's own fret is in use
}

// highestHand is the fret from which shapes come again an octave higher.
const highestHand = 12

func (s *search) run() {
	for s.hand = 1; s.hand <= min(highestHand, s.neck.LastFret()); s.hand++ {
		s.list()
		s.string(0, stretch{})
	}
}

// list finds the choices on each string for the hand where it is.
func (s *search) list() {
	all := s.neck.Strings()
	s.bassBeyond[all] = 1 << 10
	for i := all - 1; i >= 0; i-- {
		open := s.open(i)
		s.choices[i] = s.choices[i][:0]
		s.bassBeyond[i] = s.bassBeyond[i+1]
		for fret := 0; fret <= min(s.hand+neck.Reach(s.hand), s.neck.LastFret()); fret++ {
			if fret == 0 || fret >= s.hand {
				s.choose(i, fret, open+fret)
			}
		}
	}
}

func (s *search) choose(i, fret, key int) {
	tone := s.recipe.of[key%12]
	if tone == 0 {
		return
	}
	s.choices[i] = append(s.choices[i], choice{fret, key, tone})
	if key%12 == s.recipe.bass {
		s.bassBeyond[i] = min(s.bassBeyond[i], key)
	}
}

// open returns the MIDI key of the i-th string from the lowest, with no finger on it.
func (s *search) open(i int) int { return s.neck.Tuning[i].MIDI() + s.neck.Capo }

// string tries the i-th string, silent and with each of its choices.
func (s *search) string(i int, so stretch) {
	if s.recipe.bassLowest && so.played > 0 && so.lowest%12 != s.recipe.bass && s.bassBeyond[i] > so.lowest {
		return
	}
	if i == len(s.grip) {
		s.keep(so)
		return
	}

	s.grip[i] = neck.NotPlayed
	silent := so
	if so.played > 0 {
		silent.silent++
	}
	s.string(i+1, silent)

	if so.silentInside += so.silent; so.silentInside > s.recipe.silentInside {
		return
	}
	so.silent = 0
	so.played++
	for _, c := range s.choices[i] {
		if c.tone&s.recipe.foreign&so.seen != 0 {
			continue
		}
		s.grip[i] = c.fret
		with := so
		with.seen |= c.tone
		with.stopped = so.stopped || c.fret == s.hand
		if so.played == 1 || c.key < so.lowest {
			with.lowest = c.key
		}
		s.string(i+1, with)
	}
}

// fewest is how many strings sound at least: fewer are no chord to strum.
const fewest = 3

// keep takes the grip into those found if it follows the recipe and can be held.
// A grip without a finger belongs to the hand at fret 1.
func (s *search) keep(so stretch) {
	switch {
	case so.played < fewest, so.seen&s.recipe.need != s.recipe.need:
		return
	case !so.stopped && (s.hand > 1 || slices.Max(s.grip) > 0):
		return
	}
	fingers, ok := s.grip.Stops()
	if !ok {
		return
	}
	lowest, _, _ := s.grip.Stopped()
	s.found = append(s.found, ratedGrip{slices.Clone(s.grip), s.tally(fingers, so).cost(), lowest})
}
