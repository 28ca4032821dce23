package synth

import (
	"math"
	"slices"

	"thirdwise/arrange"
)

// A seat is where a part sits: its instrument, its gain, and its place in the
// stereo image from −1 on the left to 1 on the right. The values are our own, by
// ear: the guide's two voices together are about 2 LU louder than the chords, and
// a stroke of the click peaks about 8 dB below the full mix.
type seat struct {
	instrument instrument
	gain       float32
	pan        float64
}

var seats = [...]seat{
	arrange.Click:      {clickBar, 1.5, 0},
	arrange.Chords:     {chordsGuitar, 0.55, -0.3},
	arrange.GuideUpper: {guideGuitar, 0.88, 0.3},
	arrange.GuideLower: {guideGuitar, 0.88, 0.3},
	arrange.Bass:       {bassGuitar, 1.1, 0},
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
	parts       []arrange.Part
	left, right [len(seats)]float32 // gains
	reach       int                 // frames that the room looks back
	delays      [2][echoes]int
	gains       [2][echoes]float32
	send        []float32 // reach frames of the past, then the block at hand
}

// newDesk returns the desk of a mix. The room may be nil.
func newDesk(m arrange.Mix, space *room, gain float32, rate int) *desk {
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
	sounding := slices.DeleteFunc(slices.Clone(d.parts), func(p arrange.Part) bool { return parts[p] == nil })
	for ; len(sounding) > 1; sounding = sounding[2:] {
		p, q := sounding[0], sounding[1]
		spreadTwo(left, right, now, parts[p], parts[q], [4]float32{d.left[p], d.left[q], d.right[p], d.right[q]})
	}
	for _, p := range sounding {
		spread(left, right, now, parts[p], [2]float32{d.left[p], d.right[p]})
	}
	if d.reach == 0 {
		return
	}
	reflect(left, d.send, d.delays[0], d.gains[0], d.reach)
	reflect(right, d.send, d.delays[1], d.gains[1], d.reach)
	copy(d.send, d.send[len(left):])
}

// spread adds a part to both sides, each with its gain, and to what the room is
// sent.
func spread(left, right, send, part []float32, gains [2]float32) {
	left, right, send = left[:len(part)], right[:len(part)], send[:len(part)]
	toLeft, toRight := gains[0], gains[1]
	for i, x := range part {
		left[i] += toLeft * x
		right[i] += toRight * x
		send[i] += x
	}
}

// spreadTwo is spread for two parts, in less time than it takes twice: the gains
// are those of both on the left, then on the right.
func spreadTwo(left, right, send, one, two []float32, gains [4]float32) {
	n := len(one)
	left, right, send, two = left[:n], right[:n], send[:n], two[:n]
	oneLeft, twoLeft, oneRight, twoRight := gains[0], gains[1], gains[2], gains[3]
	for i, x := range one {
		y := two[i]
		left[i] += oneLeft*x + twoLeft*y
		right[i] += oneRight*x + twoRight*y
		send[i] += x + y
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
