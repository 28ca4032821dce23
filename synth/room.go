package synth

import (
	"math"

	"thirdwise/synth/exact"
)

// A space is what a room sounds like.
type space struct {
	decay float64 // s in which its sound falls by 60 dB
	level float64 // dB: all that comes back from the walls, against the sound itself
	dull  float32 // share of the treble that each way through the room takes, 0 to 1
}

// smallRoom is a furnished room of about four by five metres: our own, by ear.
var smallRoom = space{decay: 0.4, level: -20, dull: 0.25}

// A room is the diffuse sound of a space, a network of delay lines that feed each
// other (J.-M. Jot and A. Chaigne, Digital Delay Networks for Designing Artificial
// Reverberators, AES 90th Convention (1991); from memory). The lines of either half
// go to one side each, so that the sides differ, and nothing is lost when they are
// added up.
type room struct {
	diffusers [2]diffuser
	lines     [lines]delay
	feedback  [lines]float32
	level     float32
	dull      float32
	out       [lines][chunk]float32
	before    [lines]float32 // the sample before out
	sum, in   [chunk]float32
	quiet     int // frames since anything was sent to it
	forgets   int // frames after which all in it is silence
}

// lines is the number of delay lines, and their lengths are in milliseconds: no two
// have a common measure, so that the room does not ring.
const lines = 6

var lineLengths = [lines]float64{11.3, 18.7, 29.3, 14.9, 23.9, 34.7}

// The lengths in milliseconds of the diffusers before the lines.
var diffuserLengths = [2]float64{4.1, 6.7}

// chunk is how many frames the room works on at a time, fewer than any delay has at
// any rate.
const chunk = 160

// newRoom returns a room that is silent.
func newRoom(s space, rate int) *room {
	frames := func(ms float64) int { return int(math.Round(ms / 1000 * float64(rate))) }
	r := &room{dull: s.dull, forgets: 2 * s.reach(rate)}
	for i, ms := range diffuserLengths {
		r.diffusers[i].delay = newDelay(frames(ms))
	}
	// The power that comes back to a side, when a sound goes round by round, is that of
	// a geometric series.
	var power float64
	for i, ms := range lineLengths {
		r.lines[i] = newDelay(frames(ms))
		fall := exact.Amplitude(-60 * ms / 1000 / s.decay)
		r.feedback[i] = float32(fall)
		power += fall * fall / lines
	}
	r.level = float32(exact.Amplitude(s.level) * math.Sqrt((1-power)/(lines/2)))
	return r
}

// reach returns the frames after which nothing is heard of a sound: 120 dB below it.
func (s space) reach(rate int) int {
	return int(math.Ceil((120 + s.level) / 60 * s.decay * float64(rate)))
}

// add adds to left and right, each times a gain, what the room answers to some samples
// of the same length. It need not know that they are silent, but is quicker if it does.
func (r *room) add(left, right, sound []float32, gain float32, silent bool) {
	if !silent {
		r.quiet = 0
	} else if r.quiet += len(sound); r.quiet > r.forgets {
		r.empty()
		return
	}
	for len(sound) > 0 {
		n := min(len(sound), chunk)
		r.addChunk(left[:n], right[:n], sound[:n], gain*r.level)
		left, right, sound = left[n:], right[n:], sound[n:]
	}
}

// empty forgets what is left of all sound before its numbers become so small that
// processors take a hundred times as long over them.
func (r *room) empty() {
	for i := range r.lines {
		clear(r.lines[i].memory)
		r.before[i] = 0
	}
	for i := range r.diffusers {
		clear(r.diffusers[i].memory)
	}
}

func (r *room) addChunk(left, right, sound []float32, gain float32) {
	n := len(sound)
	in, sum := r.in[:n], r.sum[:n]
	copy(in, sound)
	for i := range r.diffusers {
		r.diffusers[i].diffuse(in)
	}
	clear(sum)
	for i := range r.lines {
		out, late := r.out[i][:n], r.lines[i].read(n)
		// Half of what dullness takes from a sample goes to the one after it.
		for j, x := range late {
			out[j] = x + float32(r.dull*(r.before[i]-x))
			r.before[i] = x
		}
		addScaled(sum, out, 2.0/lines)
		side := left
		if i >= lines/2 {
			side = right
		}
		if i%(lines/2) == 2 {
			addScaled(side, out, -gain)
		} else {
			addScaled(side, out, gain)
		}
	}
	for i := range r.lines {
		next := r.lines[i].write(n)
		clear(next)
		addScaled(next, r.out[i][:n], r.feedback[i])
		addScaled(next, sum, -r.feedback[i])
		addScaled(next, in, 1)
	}
}

// A delay holds samples back for some frames, at least as many as a chunk has.
type delay struct {
	memory []float32
	frames int
	at     int
}

func newDelay(frames int) delay {
	return delay{memory: make([]float32, frames+16*chunk), frames: frames}
}

// read returns the samples that come out next, n of them; write the place for those
// that go in at the same time, and it moves on.
func (d *delay) read(n int) []float32 { return d.memory[d.at : d.at+n] }

func (d *delay) write(n int) []float32 {
	if d.at+d.frames+n > len(d.memory) {
		copy(d.memory, d.memory[d.at:d.at+d.frames])
		d.at = 0
	}
	place := d.memory[d.at+d.frames:][:n]
	d.at += n
	return place
}

// A diffuser makes of each sound a row of them, without colour: an all-pass filter
// (M. Schroeder, Natural Sounding Artificial Reverberation, J. Audio Eng. Soc. 10
// (1962)).
type diffuser struct {
	delay
	held [chunk]float32
}

// diffuse does so in place.
func (d *diffuser) diffuse(samples []float32) {
	const share = 0.6
	n := len(samples)
	late := d.held[:n]
	copy(late, d.read(n))
	addScaled(samples, late, share) // what goes in
	copy(d.write(n), samples)
	addScaled(late, samples, -share)
	copy(samples, late)
}
