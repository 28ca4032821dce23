package room

import (
	"math"

	"thirdwise/synth/exact"
)

// A Space is what a room sounds like.
type Space struct {
	decay float64 // s in which its sound falls by 60 dB
	level float64 // dB: all that comes back from the walls, against the sound itself
	dull  float32 // share of the treble that each way through the room takes, 0 to 1
}

// Small is a furnished room of about four by five metres: our own, by ear.
var Small = Space{decay: 0.4, level: -20, dull: 0.25}

// A Room is the diffuse sound of a space, a network of delay lines that feed each
// other (J.-M. Jot and A. Chaigne, Digital Delay Networks for Designing Artificial
// Reverberators, AES 90th Convention (1991); from memory). The lines of either half
// go to one side each, so that the sides differ, and nothing is lost when they are
// added up. Diffusers before the lines make of each sound a row of them, without
// colour: all-pass filters (M. Schroeder, Natural Sounding Artificial Reverberation, J.
// Audio Eng. Soc. 10 (1962)).
//
//	in ─▶ diffuser ─▶ diffuser ─┬─▶ + ─▶ line 0 ─▶ dull ─┬─▶ left
//	                            ├─▶ + ─▶ line 1 ─▶ dull ─┤
//	                            ┆   ▲                    ┆   ▶ right
//	                            └─▶ + ─▶ line 5 ─▶ dull ─┤
//	                                ╰── each line's own less their mean, twice ◀─╯
type Room struct {
	diffusers [diffusers]delay
	lines     [lines]delay
	net       network
	quiet     int // frames since anything was sent to it
	forgets   int // frames after which all in it is silence
}

// lines is the number of delay lines, and their lengths are in milliseconds: no two
// have a common measure, so that the room does not ring.
const lines = 6

var lineLengths = [lines]float64{11.3, 18.7, 29.3, 14.9, 23.9, 34.7}

// The lengths in milliseconds of the diffusers.
const diffusers = 2

var diffuserLengths = [diffusers]float64{4.1, 6.7}

// chunk is how many frames the room works on at a time, at most.
const chunk = 256

// New returns a room that is silent, at a rate in samples a second.
func New(s Space, rate int) *Room {
	// Whole fours, so that a kernel has whole fours to work on.
	frames := func(ms float64) int { return 4 * int(math.Round(ms/1000*float64(rate)/4)) }
	r := &Room{forgets: 2 * s.Reach(rate)}
	for i, ms := range diffuserLengths {
		r.diffusers[i] = newDelay(frames(ms))
	}
	// The power that comes back to a side, when a sound goes round by round, is that of
	// a geometric series.
	var power float64
	for i, ms := range lineLengths {
		r.lines[i] = newDelay(frames(ms))
		fall := exact.Amplitude(-60 * ms / 1000 / s.decay)
		r.net.feedback[i] = fourTimes(float32(fall))
		power += fall * fall / lines
	}
	r.net.level = fourTimes(float32(exact.Amplitude(s.level) * math.Sqrt((1-power)/(lines/2))))
	r.net.diffusion = fourTimes(diffusion)
	r.net.dull = fourTimes(s.dull)
	r.net.mean = fourTimes(2.0 / lines)
	return r
}

// Reach returns the frames after which nothing is heard of a sound: 120 dB below it.
func (s Space) Reach(rate int) int {
	return int(math.Ceil((120 + s.level) / 60 * s.decay * float64(rate)))
}

// Add adds to left and right what the room answers to some samples of the same length,
// and reports whether it may be heard. It need not know that they are silent, but is
// quicker if it does.
func (r *Room) Add(left, right, sound []float32, silent bool) (heard bool) {
	if !silent {
		r.quiet = 0
	} else if r.quiet += len(sound); r.quiet > r.forgets {
		r.empty()
		return false
	}
	for len(sound) > 0 {
		n := r.next(len(sound))
		r.net.answer(left[:n], right[:n], sound[:n])
		left, right, sound = left[n:], right[n:], sound[n:]
	}
	return true
}

// next moves all delays on by some frames, at most those asked for, and returns how many.
func (r *Room) next(frames int) int {
	frames = min(frames, chunk)
	for i := range r.diffusers {
		frames = min(frames, r.diffusers[i].left())
	}
	for i := range r.lines {
		frames = min(frames, r.lines[i].left())
	}
	for i := range r.diffusers {
		r.net.diffusers[i] = r.diffusers[i].next(frames)
	}
	for i := range r.lines {
		r.net.lines[i] = r.lines[i].next(frames)
	}
	return frames
}

// empty forgets what is left of all sound before its numbers become so small that
// processors take a hundred times as long over them.
func (r *Room) empty() {
	for i := range r.lines {
		clear(r.lines[i].memory)
		r.net.before[i] = 0
	}
	for i := range r.diffusers {
		clear(r.diffusers[i].memory)
	}
}

// A delay holds samples back for as many frames as it has: what goes in takes the
// place of what comes out.
type delay struct {
	memory []float32
	at     int // of the next to come out
}

func newDelay(frames int) delay { return delay{memory: make([]float32, frames)} }

// left returns for how many frames the delay can be read in one piece.
func (d *delay) left() int { return len(d.memory) - d.at }

// next returns the places of the next frames, and moves on.
func (d *delay) next(frames int) []float32 {
	places := d.memory[d.at : d.at+frames]
	if d.at += frames; d.at == len(d.memory) {
		d.at = 0
	}
	return places
}

// diffusion is the share of a sound that a diffuser sends round.
const diffusion = 0.6
