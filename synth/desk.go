package synth

import (
	"math"

	"thirdwise/arrange"
)

// A seat is where a part sits: its instrument, its gain, and its place in the
// stereo image from −1 on the left to 1 on the right. The values are our own, by
// ear.
type seat struct {
	instrument instrument
	gain       float32
	pan        float64
}

var seats = [...]seat{
	arrange.Click:      {clickBar, 0.5, 0},
	arrange.Chords:     {chordsGuitar, 0.4, -0.3},
	arrange.GuideUpper: {guideGuitar, 0.8, 0.3},
	arrange.GuideLower: {guideGuitar, 0.8, 0.3},
	arrange.BassPart:   {bassGuitar, 0.5, 0},
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

// A desk sets the parts of one mix in the stereo image and in the room.
type desk struct {
	parts       []arrange.Part
	left, right [len(seats)]float32 // gains
	gain        float32             // of the room
	reach       int                 // frames that the room looks back
	delays      [2][echoes]int
	gains       [2][echoes]float32
	send        []float32 // reach frames of the past, then the block at hand
}

// newDesk returns the desk of a mix. The room may be nil.
func newDesk(m arrange.Mix, space *room, gain float32, rate int) *desk {
	d := &desk{parts: m.Parts()}
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
			d.delays[side][i] = int(math.Round(e.seconds * float64(rate)))
			d.gains[side][i] = gain * e.gain
			d.reach = max(d.reach, d.delays[side][i])
		}
	}
	d.send = make([]float32, d.reach)
	return d
}

// enter fills the room with what sounds in it before a frame of a roll.
func (d *desk) enter(r *roll, frame int) {
	if d.reach == 0 {
		return
	}
	past := d.send[:d.reach]
	clear(past)
	part := make([]float32, d.reach)
	for _, p := range d.parts {
		r.mix(part, p, frame-d.reach)
		add(past, part, 0, 1)
	}
}

// mix fills left and right with the mix of the parts' next samples, slices of the
// same length.
func (d *desk) mix(left, right []float32, parts *[len(seats)][]float32) {
	clear(left)
	clear(right)
	for _, p := range d.parts {
		spread(left, right, parts[p], d.left[p], d.right[p])
	}
	if d.reach == 0 {
		return
	}
	n := len(left)
	d.send = append(d.send[:d.reach], make([]float32, n)...)
	now := d.send[d.reach:]
	for _, p := range d.parts {
		add(now, parts[p], 0, 1)
	}
	reflect(left, d.send, d.delays[0], d.gains[0], d.reach)
	reflect(right, d.send, d.delays[1], d.gains[1], d.reach)
	copy(d.send, d.send[n:])
}

// bound returns a magnitude that no sample of the mix passes, nor the wave between
// them, where none of a part's samples passes its own.
func (d *desk) bound(parts *[len(seats)]float32) float32 {
	var left, right, all float32
	for _, p := range d.parts {
		left += d.left[p] * parts[p]
		right += d.right[p] * parts[p]
		all += parts[p]
	}
	var echoLeft, echoRight float32
	for i := range echoes {
		echoLeft += d.gains[0][i]
		echoRight += d.gains[1][i]
	}
	return peakGain * max(left+all*echoLeft, right+all*echoRight)
}

// spread adds samples to both sides, each with its gain.
func spread(left, right, samples []float32, gainLeft, gainRight float32) {
	left, right = left[:len(samples)], right[:len(samples)]
	for i, x := range samples {
		left[i] += gainLeft * x
		right[i] += gainRight * x
	}
}

// reflect adds the reflections of what was sent to one side.
func reflect(dst, send []float32, delays [echoes]int, gains [echoes]float32, reach int) {
	n := len(dst)
	s0 := send[reach-delays[0]:][:n]
	s1 := send[reach-delays[1]:][:n]
	s2 := send[reach-delays[2]:][:n]
	s3 := send[reach-delays[3]:][:n]
	g0, g1, g2, g3 := gains[0], gains[1], gains[2], gains[3]
	for i := range dst {
		dst[i] += (g0*s0[i] + g1*s1[i]) + (g2*s2[i] + g3*s3[i])
	}
}
