// Package desk sets parts in the stereo image and in the room: samples of parts go in,
// those of a mix come out. A mix is the sum of its stems:
//
//	click   chords bass groove   what chords yield   guide
//	  │            │                     │             │
//	  │           room                   │            room
//	  └──────┬─────┘                     │             │
//	      backing ───────────────────────┴─────────────┴──▶ full
//
// What a note is and when it sounds is the business of package synth.
package desk

import (
	"math"
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth/mixing"
	"thirdwise/synth/pluck"
	"thirdwise/synth/room"
)

// A Seat is where a part sits: its instrument, its gain, and its place in the
// stereo image from −1 on the left to 1 on the right. The values are our own, by
// ear: the guide's two voices together are about 2 LU louder than the chords, and
// a stroke of the click peaks about 8 dB below the full mix.
type Seat struct {
	Instrument pluck.Instrument // of the groove and the click, one of several
	Gain       float32
	pan        float64
}

var seats = [Parts]Seat{
	score.Click:      {pluck.ClickBar, 1.5, 0},
	score.Chords:     {pluck.ChordsGuitar, 0.55, -0.3},
	score.GuideUpper: {pluck.GuideGuitar, 0.88, 0.3},
	score.GuideLower: {pluck.GuideGuitar, 0.88, 0.3},
	score.Bass:       {pluck.BassGuitar, 1.1, 0},
	score.Groove:     {pluck.ShakerForth, 1.1, 0.15},
	Yielded:          {pluck.ChordsGuitar, 0.55, -0.3},
}

// SeatOf returns where a part sits.
func SeatOf(p score.Part) Seat { return seats[p] }

// Yielded is what the chords yield to the guide, where it begins the same note: a part
// beside the score's, which takes away from them. So the chords themselves are the same
// whatever the line does.
const Yielded = score.Groove + 1

// Parts is how many parts there are.
const Parts = Yielded + 1

// Samples is something of each part, mostly its next samples: slices of the same length,
// nil where a part is silent.
type Samples [Parts][]float32

// PartsOf returns the parts of a mix, and what its chords yield.
func PartsOf(m score.Mix) []score.Part {
	parts := slices.Clone(m.Parts())
	if slices.Contains(parts, score.Chords) {
		parts = append(parts, Yielded)
	}
	return parts
}

// A Desk sets the parts of one mix in the stereo image and in the room: it is the sum
// of the mix's stems.
type Desk struct{ Stems []*Stem }

// New returns the desk of a mix, at a rate in samples a second. The space may be nil.
func New(m score.Mix, around *room.Space, rate int) *Desk {
	d := new(Desk)
	for _, parts := range StemsOf(m) {
		d.Stems = append(d.Stems, NewStem(parts, around, rate))
	}
	return d
}

// StemsOf divides the parts of a mix into stems: the click, what accompanies the guide,
// what that yields, and the guide. Mixes of one performance share them, and a mix is the
// same samples whatever others are made.
func StemsOf(m score.Mix) [][]score.Part {
	var stems [4][]score.Part
	for _, p := range PartsOf(m) {
		in := &stems[1]
		switch p {
		case score.Click:
			in = &stems[0]
		case Yielded:
			in = &stems[2]
		case score.GuideUpper, score.GuideLower:
			in = &stems[3]
		}
		*in = append(*in, p)
	}
	return slices.DeleteFunc(stems[:], func(parts []score.Part) bool { return len(parts) == 0 })
}

// BackingStems is of how many stems what accompanies the guide is the sum, before it
// yields: the first of every mix that is backed.
const BackingStems = 2

// Backed reports whether a mix has all that accompanies the guide.
func Backed(m score.Mix) bool {
	return !slices.ContainsFunc(score.Backing.Parts(), func(p score.Part) bool { return !slices.Contains(m.Parts(), p) })
}

// A Stem is some parts of a mix, set in the stereo image and in the room together.
type Stem struct {
	Parts []score.Part

	left, right [Parts]float32 // gains
	room        *room.Room     // nil where there is none
	place       []float32      // the sum of parts that sit in one place
	send        []float32      // what goes to the room
}

// NewStem returns a stem, at a rate in samples a second. The click has no room around it,
// so that it stays clear; what is yielded needs none, so far is the room's answer below
// the guide.
func NewStem(parts []score.Part, around *room.Space, rate int) *Stem {
	s := &Stem{Parts: parts}
	for _, p := range parts {
		// Equal power: both sides of a part in the middle are 3 dB down.
		angle := (seats[p].pan + 1) * math.Pi / 4
		s.left[p] = float32(math.Cos(angle))
		s.right[p] = float32(math.Sin(angle))
	}
	if around != nil && !slices.Contains(parts, score.Click) && !slices.Contains(parts, Yielded) {
		s.room = room.New(*around, rate)
	}
	return s
}

// Parts returns the parts of all stems.
func (d *Desk) Parts() []score.Part {
	var parts []score.Part
	for _, s := range d.Stems {
		parts = append(parts, s.Parts...)
	}
	return parts
}

// Mix fills left and right with the mix of the parts' next samples.
func (d *Desk) Mix(left, right []float32, parts *Samples) {
	clear(left)
	clear(right)
	for _, s := range d.Stems {
		s.Add(left, right, parts)
	}
}

// Set fills left and right with the stem of the parts' next samples, and reports whether
// it is heard.
func (s *Stem) Set(left, right []float32, parts *Samples) (heard bool) {
	places := s.places(parts)
	if len(places) == 0 {
		clear(left)
		clear(right)
	}
	for i, p := range places {
		if i == 0 {
			mixing.Place(left, right, p.sum, s.left[p.of], s.right[p.of])
		} else {
			mixing.Spread(left, right, p.sum, s.left[p.of], s.right[p.of])
		}
	}
	return s.answer(left, right, places)
}

// Add adds the same to left and right.
func (s *Stem) Add(left, right []float32, parts *Samples) {
	places := s.places(parts)
	for _, p := range places {
		mixing.Spread(left, right, p.sum, s.left[p.of], s.right[p.of])
	}
	s.answer(left, right, places)
}

// A place is the sum of those of a stem's parts that sit in one place and sound.
type place struct {
	of  score.Part // the first of them
	sum []float32
}

// places returns the places of a stem in which something sounds.
func (s *Stem) places(parts *Samples) (sounding []place) {
	for i := 0; i < len(s.Parts); {
		first := s.Parts[i]
		sum, own := parts[first], false
		for i++; i < len(s.Parts) && seats[s.Parts[i]].pan == seats[first].pan; i++ {
			switch next := parts[s.Parts[i]]; {
			case next == nil:
			case sum == nil:
				sum = next
			case own:
				mixing.Add(sum, next, 1)
			default:
				s.place = resized(s.place, len(next))
				mixing.Sum(s.place, sum, next)
				sum, own = s.place, true
			}
		}
		if sum != nil {
			sounding = append(sounding, place{first, sum})
		}
	}
	return sounding
}

// answer adds what the room answers to what sounds in some places, and reports whether
// any of it all is heard.
func (s *Stem) answer(left, right []float32, places []place) (heard bool) {
	switch {
	case s.room == nil:
		return len(places) > 0
	case len(places) == 0:
		return s.room.RingOn(left, right)
	case len(places) == 1:
		s.room.Add(left, right, places[0].sum)
		return true
	}
	s.send = resized(s.send, len(left))
	mixing.Sum(s.send, places[0].sum, places[1].sum)
	for _, p := range places[2:] {
		mixing.Add(s.send, p.sum, 1)
	}
	s.room.Add(left, right, s.send)
	return true
}

// resized returns a slice of some length, in the memory of another where that is
// enough; what it holds is left open.
func resized(s []float32, length int) []float32 { return slices.Grow(s[:0], length)[:length] }

// Bound returns what no true peak of the mix passes in a span, given the parts' own
// bounds and the room left out.
func (d *Desk) Bound(parts *Samples, span int) float32 {
	var left, right float32
	for _, s := range d.Stems {
		if s.Parts[0] == Yielded {
			continue // it makes chords quieter
		}
		l, r := s.Bound(parts, span)
		left, right = left+l, right+r
	}
	return max(left, right)
}

// Bound is the same of either side of a stem.
func (s *Stem) Bound(parts *Samples, span int) (left, right float32) {
	for _, p := range s.Parts {
		left += s.left[p] * parts[p][span]
		right += s.right[p] * parts[p][span]
	}
	return left, right
}
