package neck

import "slices"

// Fingers tells how the hand stops a grip.
type Fingers struct {
	// Of is the finger on each string, the lowest string first: 1 the index to
	// 4 the little finger, 0 where none stops the string.
	Of     []int
	Barres []Barre // at most two
}

// A Barre is one finger that lies across several strings at one fret. Strings
// are counted as in [Place], so From, where its tip is, is the greater.
type Barre struct {
	Finger, Fret int
	From, To     int
}

// Fingers returns how a hand stops the grip; ok is false where it cannot. A hand
// has four fingers and reaches four frets, five from the seventh fret up. The
// index may lie across the lowest fret in use, from the lowest string that is
// stopped or to the highest; another finger may lie across up to four
// neighbouring strings, the highest that sound. A finger that lies flat touches
// every string from its tip to the highest, so none of those can sound below it.
func (g Grip) Fingers() (f Fingers, ok bool) {
	h, ok := hold(g)
	if !ok {
		return Fingers{}, false
	}
	f.Of = make([]int, len(g))
	for _, s := range h.stops[:h.count] {
		for i := s.From; i <= s.To; i++ {
			if g[i] == s.Fret {
				f.Of[i] = s.Finger
			}
		}
		if s.From < s.To {
			f.Barres = append(f.Barres, Barre{Finger: s.Finger, Fret: s.Fret, From: stringAt(s.From, len(g)), To: stringAt(s.To, len(g))})
		}
	}
	return f, true
}

// Reach returns how many frets above its lowest one a hand stops: four frets in
// all low on the neck, five where the frets lie closer.
func Reach(fret int) int {
	if fret < 7 {
		return 3
	}
	return 4
}

// A Stop is one finger at one fret, across the strings from one index into a grip
// to another.
type Stop struct {
	Fret, From, To, Finger int
}

// Stops returns the fingers that stop the grip, the lowest fret first and at one
// fret the lowest string first; ok is false where no hand can, see [Grip.Fingers].
func (g Grip) Stops() (fingers []Stop, ok bool) {
	h, ok := hold(g)
	return h.stops[:h.count], ok
}

// A held grip is the fingers that stop it, the lowest fret first and at one fret
// the lowest string first.
type held struct {
	stops [4]Stop
	count int
}

// hold finds the fingers for a grip, with no more barres than it needs.
func hold(g Grip) (h held, ok bool) {
	lowest, highest, stopped := g.Stopped()
	if stopped == 0 {
		return h, true
	}
	if highest-lowest > Reach(lowest) {
		return h, false
	}

	last := lastPlayed(g)
	index, flat := indexBarre(g, lowest, last)
	if flat && stopped <= 4 && !comesNaturally(g, index, last, highest > lowest) {
		flat = false
	}
	partial := Stop{From: len(g)}
	fingers := stopped
	if flat {
		fingers -= countOf(g[index.From:index.To+1], lowest) - 1
	}
	if fingers > 4 {
		var ok bool
		if partial, ok = partialBarre(g, last); !ok || flat && partial.Fret == lowest {
			return h, false
		}
		if fingers -= partial.To - partial.From; fingers > 4 {
			return h, false
		}
	}

	if flat {
		h.add(index)
	}
	for i, fret := range g {
		switch {
		case fret <= 0, flat && fret == lowest:
		case i < partial.From:
			h.add(Stop{Fret: fret, From: i, To: i})
		case i == partial.From:
			h.add(partial)
		}
	}
	h.number(!flat && slices.Contains(g, 0))
	return h, true
}

// add puts a stop behind those at its fret or below it.
func (h *held) add(s Stop) {
	i := h.count
	for ; i > 0 && h.stops[i-1].Fret > s.Fret; i-- {
		h.stops[i] = h.stops[i-1]
	}
	h.stops[i] = s
	h.count++
}

// number gives each stop its finger: one to a fret where they suffice, counted
// from the lowest fret in use; but one or two fingertips among open strings in the
// first frets take the finger of the fret, as books print Em and A7. A barre does not:
// A6, x02222, is the index's.
func (h *held) number(tipsAmongOpen bool) {
	base := h.stops[0].Fret
	if tipsAmongOpen && h.count <= 2 && h.stops[h.count-1].Fret <= 3 {
		base = 1
	}
	finger := 0
	for i := range h.stops[:h.count] {
		s := &h.stops[i]
		finger = min(max(finger+1, 1+s.Fret-base), 5-h.count+i)
		s.Finger = finger
	}
}

func lastPlayed(g Grip) int {
	last := len(g) - 1
	for g[last] == NotPlayed {
		last--
	}
	return last
}

// indexBarre returns the index finger across all strings at the lowest fret, if
// there are two or more, from the lowest string that is stopped or to the highest,
// and no open string sounds beyond its tip.
func indexBarre(g Grip, lowest, last int) (s Stop, ok bool) {
	s = Stop{Fret: lowest, From: slices.Index(g, lowest), To: last}
	for g[s.To] != lowest {
		s.To--
	}
	inTheMiddle := s.To < last && slices.Max(g[:s.From+1]) > lowest
	return s, s.From < s.To && !inTheMiddle && !slices.Contains(g[s.From:], 0)
}

// comesNaturally reports whether players lay the index across a grip that four
// fingers could stop one by one: where it covers the highest two strings that
// sound, with others above it, or four.
func comesNaturally(g Grip, index Stop, last int, others bool) bool {
	if index.To != last || g[last-1] != index.Fret {
		return false
	}
	return others || countOf(g[index.From:], index.Fret) > 3
}

// partialBarre returns a finger across those of the highest strings that sound
// at one fret side by side, up to four; ok is false where that is none.
func partialBarre(g Grip, last int) (s Stop, ok bool) {
	s = Stop{Fret: g[last], From: last, To: last}
	for s.From > max(0, last-3) && g[s.From-1] == s.Fret {
		s.From--
	}
	return s, s.Fret > 0
}

func countOf(frets []int, fret int) int {
	n := 0
	for _, f := range frets {
		if f == fret {
			n++
		}
	}
	return n
}
