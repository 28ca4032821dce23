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
	net     network
	quiet   int       // frames since anything was sent to it
	forgets int       // frames after which all in it is silence
	silence []float32 // what is sent to it then
}

// The delays of a network are its diffusers, then its lines. Their lengths are in
// milliseconds: no two have a common measure, so that the room does not ring.
const (
	diffusers = 2
	lines     = 6
	delays    = diffusers + lines
)

var delayLengths = [delays]float64{4.1, 6.7, 11.3, 18.7, 29.3, 14.9, 23.9, 34.7}

// New returns a room that is silent, at a rate in samples a second of at most 48,000.
func New(s Space, rate int) *Room {
	r := &Room{forgets: 2 * s.Reach(rate)}
	// The power that comes back to a side, when a sound goes round by round, is that of
	// a geometric series.
	var power float64
	for i, ms := range delayLengths {
		// Whole fours, so that a kernel seldom meets less.
		length := 4 * int(math.Round(ms/1000*float64(rate)/4))
		r.net.from[i] = ring - length
		if i >= diffusers {
			fall := exact.Amplitude(-60 * ms / 1000 / s.decay)
			r.net.feedback[i-diffusers] = float32(fall)
			power += fall * fall / lines
		}
	}
	r.net.level = float32(exact.Amplitude(s.level) * math.Sqrt((1-power)/(lines/2)))
	r.net.diffusion, r.net.dull, r.net.mean = diffusion, s.dull, 2.0/lines
	return r
}

// Reach returns the frames after which nothing is heard of a sound: 120 dB below it.
func (s Space) Reach(rate int) int {
	return int(math.Ceil((120 + s.level) / 60 * s.decay * float64(rate)))
}

// Add adds to left and right what the room answers to a sound of the same length.
func (r *Room) Add(left, right, sound []float32) {
	r.quiet = 0
	r.answer(left, right, sound)
}

// RingOn adds to left and right, of the same length, what the room still answers while
// nothing sounds in it, and reports whether that may be heard.
func (r *Room) RingOn(left, right []float32) (heard bool) {
	if r.quiet += len(left); r.quiet > r.forgets {
		r.empty()
		return false
	}
	if len(r.silence) < len(left) {
		r.silence = make([]float32, len(left))
	}
	r.answer(left, right, r.silence[:len(left)])
	return true
}

// answer adds to left and right what the network answers to a sound.
func (r *Room) answer(left, right, sound []float32) {
	for len(sound) > 0 {
		n := r.net.reachable(len(sound))
		r.net.answer(left[:n], right[:n], sound[:n])
		left, right, sound = left[n:], right[n:], sound[n:]
	}
}

// empty forgets what is left of all sound before its numbers become so small that
// processors take a hundred times as long over them.
func (r *Room) empty() { clear(r.net.memory[:]) }

// diffusion is the share of a sound that a diffuser sends round.
const diffusion = 0.6
