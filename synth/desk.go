package synth

import (
	"math"

	"thirdwise/arrange/score"
	"thirdwise/synth/pluck"
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
}

// A desk sets the parts of one mix in the stereo image and in the room.
type desk struct {
	parts       []score.Part
	left, right [len(seats)]float32 // gains
	gain        float32             // of the room
	room        *room               // nil where there is none
	send        []float32           // what goes to the room
}

// newDesk returns the desk of a mix. The space may be nil.
func newDesk(m score.Mix, around *space, gain float32, rate int) *desk {
	d := &desk{parts: m.Parts(), gain: gain}
	for _, p := range d.parts {
		// Equal power: both sides of a part in the middle are 3 dB down.
		angle := (seats[p].pan + 1) * math.Pi / 4
		d.left[p] = gain * float32(math.Cos(angle))
		d.right[p] = gain * float32(math.Sin(angle))
	}
	if around != nil {
		d.room = newRoom(*around, rate)
	}
	return d
}

// mix fills left and right with the mix of the parts' next samples, slices of the
// same length, nil where a part is silent. The click has no room around it, so that
// it stays clear.
func (d *desk) mix(left, right []float32, parts *[len(seats)][]float32) {
	clear(left)
	clear(right)
	d.send = resized(d.send, len(left))
	clear(d.send)
	silent := true
	for _, p := range d.parts {
		part := parts[p]
		if part == nil {
			continue
		}
		addScaled(left, part, d.left[p])
		addScaled(right, part, d.right[p])
		if d.room != nil && p != score.Click {
			addScaled(d.send, part, 1)
			silent = false
		}
	}
	if d.room != nil {
		d.room.add(left, right, d.send, d.gain, silent)
	}
}
