// Package clips keeps the samples of sounds once they are made: a sound and a length go
// in, samples come out, of memory where they are known. How a sound is made is the
// business of package pluck, and what its samples are used for that of package synth.
package clips

import (
	"sync"

	"thirdwise/synth/loudness"
	"thirdwise/synth/pluck"
)

// Span is the frames for which a bound of the true peak is told.
const Span = 256

// A Clip is the samples of a sound, made once.
type Clip struct {
	Samples  []float32
	complete bool // it goes on until the sound is inaudible

	bounding sync.Once
	bounds   []float32 // see Crest
}

// Bytes returns how much memory the samples take.
func (c *Clip) Bytes() int { return 4 * len(c.Samples) }

// Crest returns a bound of the true peak of each [Span] of the samples.
func (c *Clip) Crest() []float32 {
	c.bounding.Do(func() { c.bounds = loudness.Bounds(c.Samples, Span) })
	return c.bounds
}

// AddCrest adds the crest of the clip's first frames times a gain to spans; the clip begins
// at a frame, which may lie outside and within a span. A span counts wherever it reaches.
func (c *Clip) AddCrest(spans []float32, at, frames int, gain float32) {
	crest := c.Crest()[:(frames+Span-1)/Span]
	first, within := at/Span, at%Span != 0
	if at < 0 {
		first, within = -((-at + Span - 1) / Span), true
	}
	var before float32
	for i := range len(crest) + 1 {
		var now float32
		if i < len(crest) {
			now = crest[i]
		}
		if k := first + i; k >= 0 && k < len(spans) {
			if within {
				spans[k] += gain * max(before, now)
			} else {
				spans[k] += gain * now
			}
		}
		before = now
	}
}

// suffices reports whether the clip has so many frames, or all that are heard.
func (c *Clip) suffices(frames int) bool { return c.complete || len(c.Samples) >= frames }

// makeClip makes the first frames of a sound. Neither its samples nor the crest of those
// asked for depend on how many more there are.
func makeClip(of soundAt, frames int) *Clip {
	const beyond = Span + loudness.Reach // what the last crest asked for depends on
	samples := of.Samples(frames+beyond, of.rate)
	return &Clip{Samples: samples, complete: len(samples) < frames+beyond}
}

// A Shelf keeps clips for all kits of a run: the same string, fret and stroke in another
// key is the same note. It holds about its capacity at most: then the sound that has
// waited longest is dropped, and made again, the same, when it is needed. Several
// goroutines may use it.
type Shelf struct {
	capacity int // bytes

	mutex   sync.Mutex
	entries map[soundAt]*entry
	bytes   int
	clock   int
}

// A soundAt is a sound at a rate in samples a second.
type soundAt struct {
	pluck.Sound
	rate int
}

type entry struct {
	making sync.Mutex // held while the clip is made
	clip   *Clip      // read and written while the shelf's mutex is held, too
	used   int
}

// NewShelf returns an empty shelf of a capacity in bytes.
func NewShelf(capacity int) *Shelf {
	return &Shelf{capacity: capacity, entries: make(map[soundAt]*entry)}
}

// Capacity returns about how many bytes the shelf holds at most.
func (s *Shelf) Capacity() int { return s.capacity }

// Get returns at least the first frames of a sound, or all that are heard of it, at a
// rate in samples a second.
func (s *Shelf) Get(sound pluck.Sound, rate, frames int) *Clip {
	of := soundAt{sound, rate}
	e, known := s.use(of)
	if known != nil && known.suffices(frames) {
		return known
	}
	e.making.Lock()
	defer e.making.Unlock()
	if e.clip != nil && e.clip.suffices(frames) {
		return e.clip
	}
	made := makeClip(of, frames)
	s.keep(of, e, made)
	return made
}

// use returns the entry of a sound, which is now the latest used, and its clip, if
// there is one.
func (s *Shelf) use(of soundAt) (*entry, *Clip) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	e := s.entries[of]
	if e == nil {
		e = new(entry)
		s.entries[of] = e
	}
	s.clock++
	e.used = s.clock
	return e, e.clip
}

// keep puts a clip into its entry, unless that was dropped while the clip was made.
func (s *Shelf) keep(of soundAt, e *entry, made *Clip) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	old := e.clip
	e.clip = made
	if s.entries[of] != e {
		return
	}
	if old != nil {
		s.bytes -= old.Bytes()
	}
	s.bytes += made.Bytes()
	s.shrink()
}

// shrink drops the clips that have waited longest until the rest is within the
// capacity.
func (s *Shelf) shrink() {
	for s.bytes > s.capacity {
		var oldest *entry
		var dropped soundAt
		for of, e := range s.entries {
			if e.clip != nil && (oldest == nil || e.used < oldest.used) {
				oldest, dropped = e, of
			}
		}
		delete(s.entries, dropped)
		s.bytes -= oldest.clip.Bytes()
	}
}
