package synth

import (
	"math"
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth/pluck"
	"thirdwise/synth/room"
)

// A seat is where a part sits: its instrument, its gain, and its place in the
// stereo image from −1 on the left to 1 on the right. The values are our own, by
// ear: the guide's two voices together are about 2 LU louder than the chords, and
// a stroke of the click peaks about 8 dB below the full mix.
type seat struct {
	instrument pluck.Instrument
	gain       float32
	pan        float64
}

var seats = [...]seat{
	score.Click:      {pluck.ClickBar, 1.5, 0},
	score.Chords:     {pluck.ChordsGuitar, 0.55, -0.3},
	score.GuideUpper: {pluck.GuideGuitar, 0.88, 0.3},
	score.GuideLower: {pluck.GuideGuitar, 0.88, 0.3},
	score.Bass:       {pluck.BassGuitar, 1.1, 0},
	score.Groove:     {pluck.ShakerForth, 1.1, 0.15},
}

// A desk sets the parts of one mix in the stereo image and in the room: it is the sum
// of the mix's stems.
type desk struct{ stems []*stem }

// newDesk returns the desk of a mix. The space may be nil.
func newDesk(m score.Mix, around *room.Space, rate int) *desk {
	d := new(desk)
	for _, parts := range stemsOf(m) {
		d.stems = append(d.stems, newStem(parts, around, rate))
	}
	return d
}

// stemsOf divides the parts of a mix into stems: the click, what accompanies the guide,
// and the guide. Mixes of one performance share them, and a mix is the same samples
// whatever others are made.
func stemsOf(m score.Mix) [][]score.Part {
	var stems [3][]score.Part
	for _, p := range m.Parts() {
		in := &stems[1]
		switch p {
		case score.Click:
			in = &stems[0]
		case score.GuideUpper, score.GuideLower:
			in = &stems[2]
		}
		*in = append(*in, p)
	}
	return slices.DeleteFunc(stems[:], func(parts []score.Part) bool { return len(parts) == 0 })
}

// A stem is some parts of a mix, set in the stereo image and in the room together.
type stem struct {
	parts       []score.Part
	left, right [len(seats)]float32 // gains
	room        *room.Room          // nil where there is none
	place       []float32           // the sum of parts that sit in one place
	send        []float32           // what goes to the room
}

// newStem returns a stem. The click has no room around it, so that it stays clear.
func newStem(parts []score.Part, around *room.Space, rate int) *stem {
	s := &stem{parts: parts}
	for _, p := range parts {
		// Equal power: both sides of a part in the middle are 3 dB down.
		angle := (seats[p].pan + 1) * math.Pi / 4
		s.left[p] = float32(math.Cos(angle))
		s.right[p] = float32(math.Sin(angle))
	}
	if around != nil && !slices.Contains(parts, score.Click) {
		s.room = room.New(*around, rate)
	}
	return s
}

// parts returns the parts of all stems.
func (d *desk) parts() []score.Part {
	var parts []score.Part
	for _, s := range d.stems {
		parts = append(parts, s.parts...)
	}
	return parts
}

// mix fills left and right with the mix of the parts' next samples, slices of the
// same length, nil where a part is silent.
func (d *desk) mix(left, right []float32, parts *[len(seats)][]float32) {
	clear(left)
	clear(right)
	for _, s := range d.stems {
		s.add(left, right, parts)
	}
}

// add adds to left and right the stem of the parts' next samples, and reports whether
// it is heard. Parts that sit in one place are added up first.
func (s *stem) add(left, right []float32, parts *[len(seats)][]float32) (heard bool) {
	var sounding [][]float32 // one a place
	for i := 0; i < len(s.parts); {
		first := s.parts[i]
		sum, own := parts[first], false
		for i++; i < len(s.parts) && seats[s.parts[i]].pan == seats[first].pan; i++ {
			switch next := parts[s.parts[i]]; {
			case next == nil:
			case sum == nil:
				sum = next
			default:
				if !own {
					s.place, own = append(s.place[:0], sum...), true
					sum = s.place
				}
				addScaled(sum, next, 1)
			}
		}
		if sum != nil {
			spread(left, right, sum, s.left[first], s.right[first])
			sounding = append(sounding, sum)
		}
	}
	if s.room == nil {
		return len(sounding) > 0
	}
	if len(sounding) == 1 {
		return s.room.Add(left, right, sounding[0], false)
	}
	s.send = resized(s.send, len(left))
	clear(s.send)
	for _, part := range sounding {
		addScaled(s.send, part, 1)
	}
	return s.room.Add(left, right, s.send, len(sounding) == 0)
}
