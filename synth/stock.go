package synth

import (
	"cmp"
	"maps"
	"math"
	"math/cmplx"
	"slices"
	"sync"
)

// A sound is all that decides how a note sounds, but for its loudness and its
// end.
type sound struct {
	instrument instrument
	key, fret  int8 // of a click: 0
	layer      int8 // the velocity in eighths of its range, which sets the colour
}

// An instrument is what a sound is made on.
type instrument int8

const (
	clickBar instrument = iota
	clickBarAccent
	chordsGuitar
	guideGuitar
	bassGuitar
)

// layers is in how many steps a note's colour follows its velocity. Its loudness
// follows in every step.
const layers = 8

// compare orders sounds.
func (s sound) compare(t sound) int {
	return cmp.Or(cmp.Compare(s.instrument, t.instrument), cmp.Compare(s.key, t.key),
		cmp.Compare(s.fret, t.fret), cmp.Compare(s.layer, t.layer))
}

// modes returns the modes of the sound.
func (s sound) modes(rate int) []mode {
	velocity := (int(s.layer)*2 + 1) * 128 / (2 * layers)
	switch s.instrument {
	case clickBar:
		return clickModes(clickPitch, velocity, rate)
	case clickBarAccent:
		return clickModes(accentPitch, velocity, rate)
	}
	return voices[s.instrument].modes(int(s.key), int(s.fret), velocity, rate)
}

// A take is the samples of a sound, or of its ending, made once.
type take struct {
	samples []float32
	crest   []float32 // the true peak of each crestSpan of samples, or a bound of it
	modes   []mode    // of a sound; nil for an ending
}

// A stock keeps takes, so that each is made once for all tempos, passes and mixes
// of a kit. It holds at most about limit bytes: then the take that has waited
// longest is dropped, and made again, the same, when it is needed.
type stock struct {
	rate    int
	limit   int
	longest map[sound]int     // frames that any note of the sound lasts, its ending left out
	endings map[stockKey]bool // of all notes

	mu      sync.Mutex
	entries map[stockKey]*stockEntry
	bytes   int
	clock   int
}

type stockKey struct {
	sound
	release int32 // frame at which the ending begins; 0 for the sound itself
}

type stockEntry struct {
	once sync.Once
	take *take
	used int
}

const stockLimit = 48 << 20

func newStock(rate int) *stock {
	return &stock{
		rate:    rate,
		limit:   stockLimit,
		longest: make(map[sound]int),
		endings: make(map[stockKey]bool),
		entries: make(map[stockKey]*stockEntry),
	}
}

// expect tells the stock of a note that a finger ends some frames after its start.
// All notes are told before any take is asked for.
func (s *stock) expect(of sound, release int) {
	s.longest[of] = max(s.longest[of], release)
	s.endings[stockKey{of, int32(release)}] = true
}

// sound returns the samples of a sound that is not ended before any of its notes
// are.
func (s *stock) sound(of sound) *take {
	return s.get(stockKey{sound: of}, func() *take {
		modes := of.modes(s.rate)
		return newTake(strike(modes, s.longest[of], s.rate), modes)
	})
}

// ending returns the samples of a sound from the frame on at which a finger ends
// it.
func (s *stock) ending(of sound, release int) *take {
	return s.get(stockKey{of, int32(release)}, func() *take {
		return newTake(damp(s.sound(of).modes, release, s.rate), nil)
	})
}

// fill makes the takes of the notes that it was told of, as many as there is room
// for, on all processors: the sounds first, which tell how their endings begin.
func (s *stock) fill() {
	sounds := slices.SortedFunc(maps.Keys(s.longest), sound.compare)
	concurrently(len(sounds), func(i int) {
		if !s.isFull() {
			s.sound(sounds[i])
		}
	})
	endings := slices.SortedFunc(maps.Keys(s.endings), func(a, b stockKey) int {
		return cmp.Or(a.sound.compare(b.sound), cmp.Compare(a.release, b.release))
	})
	concurrently(len(endings), func(i int) {
		e := endings[i]
		if !s.isFull() && int(e.release) <= len(s.sound(e.sound).samples) {
			s.ending(e.sound, int(e.release))
		}
	})
}

func (s *stock) isFull() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.bytes > s.limit*3/4
}

func (s *stock) get(key stockKey, create func() *take) *take {
	s.mu.Lock()
	entry := s.entries[key]
	if entry == nil {
		entry = new(stockEntry)
		s.entries[key] = entry
	}
	s.clock++
	entry.used = s.clock
	s.mu.Unlock()

	entry.once.Do(func() {
		made := create()
		s.mu.Lock() // shrink looks at the takes of all entries
		defer s.mu.Unlock()
		entry.take = made
		s.bytes += made.bytes()
		s.shrink()
	})
	return entry.take
}

// shrink drops the takes that have waited longest until the rest is within the
// limit.
func (s *stock) shrink() {
	for s.bytes > s.limit {
		var oldest *stockEntry
		var key stockKey
		for k, e := range s.entries {
			if e.take != nil && (oldest == nil || e.used < oldest.used) {
				oldest, key = e, k
			}
		}
		delete(s.entries, key)
		s.bytes -= oldest.take.bytes()
	}
}

func newTake(samples []float32, modes []mode) *take {
	return &take{samples: samples, crest: crestOf(samples), modes: modes}
}

func (t *take) bytes() int {
	const size = 32 // of a mode
	return 4*len(t.samples) + 4*len(t.crest) + size*len(t.modes)
}

// strike returns the samples of modes from their beginning until they are
// inaudible, at most frames.
func strike(modes []mode, frames, rate int) []float32 {
	modes = audible(modes, rate)
	if len(modes) == 0 {
		return nil
	}
	hertz := float64(rate)
	out := make([]float32, min(frames, frameCount(modes[0].life(), hertz)))
	oscillators := make([]oscillator, 0, len(modes)+width)
	for _, m := range modes {
		oscillators = append(oscillators, oscillate(m.amplitude, m.pole(), hertz))
	}
	oscillators = fillUp(oscillators)

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

// damp returns the samples of modes from the frame on at which a finger ends
// them: each decays faster, and faster still the more the finger presses.
func damp(modes []mode, release, rate int) []float32 {
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
	frames = min(frames, endingFrames(rate))
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
		oscillators = fillUp(oscillators)
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

// endingFrames returns the longest that an ending takes.
func endingFrames(rate int) int { return rate / 5 }

// audible returns the modes that can be heard, the one that lasts longest first.
func audible(modes []mode, rate int) []mode {
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

// fillUp adds silent oscillators up to a multiple of width.
func fillUp(o []oscillator) []oscillator {
	for len(o)%width != 0 {
		o = append(o, oscillator{})
	}
	return o
}

func roundUp(n int) int { return (n + width - 1) / width * width }

func frameCount(seconds, hertz float64) int { return int(math.Ceil(seconds * hertz)) }
