package synth

import (
	"math"
	"slices"

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

// echoes is how many early reflections of the room each side hears.
const echoes = 4

// A room is early reflections, the same for all parts: seconds and gains.
type room struct {
	left, right [echoes]echo
}

type echo struct {
	seconds float64
	gain    float32
}

// smallRoom is a room of about four by five metres with wooden walls: our own,
// by ear. No two delays have a common measure, so the reflections do not ring.
var smallRoom = room{
	left:  [echoes]echo{{0.0073, 0.20}, {0.0131, 0.16}, {0.0209, 0.12}, {0.0317, 0.08}},
	right: [echoes]echo{{0.0083, 0.20}, {0.0117, 0.16}, {0.0227, 0.12}, {0.0289, 0.08}},
}

// reach returns how many frames the room looks back at a rate, 0 where there is no
// room.
func (r *room) reach(rate int) int {
	longest := 0
	if r != nil {
		for _, row := range [2][echoes]echo{r.left, r.right} {
			for _, e := range row {
				longest = max(longest, e.frames(rate))
			}
		}
	}
	return longest
}

func (e echo) frames(rate int) int { return int(math.Round(e.seconds * float64(rate))) }

// A desk sets the parts of one mix in the stereo image and in the room.
type desk struct {
	parts       []score.Part
	left, right [len(seats)]float32 // gains
	reach       int                 // frames that the room looks back
	delays      [2][echoes]int
	gains       [2][echoes]float32
	send        []float32 // reach frames of the past, then the block at hand
}

// newDesk returns the desk of a mix. The room may be nil.
func newDesk(m score.Mix, space *room, gain float32, rate int) *desk {
	d := &desk{parts: m.Parts(), reach: space.reach(rate)}
	for _, p := range d.parts {
		// Equal power: both sides of a part in the middle are 3 dB down.
		angle := (seats[p].pan + 1) * math.Pi / 4
		d.left[p] = gain * float32(math.Cos(angle))
		d.right[p] = gain * float32(math.Sin(angle))
	}
	if space == nil {
		return d
	}
	for side, row := range [2][echoes]echo{space.left, space.right} {
		for i, e := range row {
			d.delays[side][i] = e.frames(rate)
			d.gains[side][i] = gain * e.gain
		}
	}
	d.send = make([]float32, d.reach)
	return d
}

// mix fills left and right with the mix of the parts' next samples, slices of the
// same length, nil where a part is silent.
func (d *desk) mix(left, right []float32, parts *[len(seats)][]float32) {
	clear(left)
	clear(right)
	d.send = slices.Grow(d.send[:d.reach], len(left))[:d.reach+len(left)]
	now := d.send[d.reach:]
	clear(now)
	for _, p := range d.parts {
		if part := parts[p]; part != nil {
			addScaled(left, part, d.left[p])
			addScaled(right, part, d.right[p])
			addScaled(now, part, 1)
		}
	}
	if d.reach == 0 {
		return
	}
	for i := range echoes {
		addScaled(left, d.send[d.reach-d.delays[0][i]:][:len(left)], d.gains[0][i])
		addScaled(right, d.send[d.reach-d.delays[1][i]:][:len(right)], d.gains[1][i])
	}
	copy(d.send, d.send[len(left):])
}
