package pluck

import (
	"math"
	"math/cmplx"
	"slices"
)

// Strike returns the samples of a note from its beginning until it is inaudible, at
// most frames. Full scale is about that of a note at full velocity.
func (modes Modes) Strike(frames, rate int) []float32 {
	modes = modes.audible(rate)
	if len(modes) == 0 {
		return nil
	}
	hertz := float64(rate)
	out := make([]float32, min(frames, frameCount(modes[0].life(), hertz)))
	oscillators := make([]oscillator, 0, len(modes)+width)
	for _, m := range modes {
		oscillators = append(oscillators, oscillate(m.amplitude, m.pole(), hertz))
	}
	oscillators = padded(oscillators)

	var block [256]float64
	live := len(modes)
	for at := 0; at < len(out); at += len(block) {
		for live > 0 && modes[live-1].life()*hertz < float64(at) {
			live--
		}
		clear(block[:])
		ring(block[:], oscillators[:roundUp(live)])
		for i := range out[at:min(at+len(block), len(out))] {
			out[at+i] = float32(block[i])
		}
	}
	return out
}

// The damping by a finger, our own, by ear: a note has lost 60 dB after about
// 90 ms, its high modes after less.
const (
	fingerDecay  = 75.0  // 1/s
	fingerTreble = 0.035 // 1/s more for each Hz
	touch        = 64    // frames; the finger comes down in eight of them
	touches      = 8
)

// Damp returns the samples of a note from the frame on at which a finger ends it:
// each mode decays faster, and faster still the more the finger presses.
func (modes Modes) Damp(release, rate int) []float32 {
	hertz := float64(rate)
	type damped struct {
		mode
		state complex128
	}
	var live []damped
	longest := 0.0
	for _, m := range modes {
		state := m.amplitude * cmplx.Exp(m.pole()*complex(float64(release)/hertz, 0))
		left := mode{m.frequency, m.decay + finger(m, touches), state}.life()
		if left > 0 {
			live = append(live, damped{m, state})
			longest = max(longest, left)
		}
	}
	frames := touches*touch + frameCount(longest, hertz)
	frames = min(frames, EndingFrames(rate))
	sum := make([]float64, frames)
	oscillators := make([]oscillator, 0, len(live)+width)
	for press, at := 1, 0; at < frames; press++ {
		span := touch
		if press >= touches {
			press, span = touches, frames-at
		}
		oscillators = oscillators[:0]
		for i, m := range live {
			pole := m.pole() - complex(finger(m.mode, press), 0)
			oscillators = append(oscillators, oscillate(m.state, pole, hertz))
			live[i].state *= cmplx.Exp(pole * complex(float64(span)/hertz, 0))
		}
		oscillators = padded(oscillators)
		ring(sum[at:min(at+span, frames)], oscillators)
		at += span
	}
	out := make([]float32, frames)
	for i, x := range sum {
		out[i] = float32(x)
	}
	return out
}

// finger returns what a finger adds to a mode's decay, in 1/s, pressing in one of
// so many touches.
func finger(m mode, press int) float64 {
	return (fingerDecay + fingerTreble*m.frequency) * float64(press) / touches
}

// EndingFrames returns the longest that an ending takes at a rate.
func EndingFrames(rate int) int { return rate / 5 }

// audible returns the modes that can be heard, the one that lasts longest first.
func (modes Modes) audible(rate int) Modes {
	heard := slices.DeleteFunc(slices.Clone(modes), func(m mode) bool {
		return m.life() == 0 || m.frequency > highest*float64(rate)
	})
	slices.SortStableFunc(heard, func(a, b mode) int {
		switch la, lb := a.life(), b.life(); {
		case la > lb:
			return -1
		case la < lb:
			return 1
		}
		return 0
	})
	return heard
}

// padded returns oscillators with silent ones added up to a multiple of width.
func padded(o []oscillator) []oscillator {
	for len(o)%width != 0 {
		o = append(o, oscillator{})
	}
	return o
}

func roundUp(n int) int { return (n + width - 1) / width * width }

func frameCount(seconds, hertz float64) int { return int(math.Ceil(seconds * hertz)) }
