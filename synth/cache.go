package synth

import (
	"cmp"
	"maps"
	"slices"
	"sync"

	"thirdwise/synth/loudness"
	"thirdwise/synth/pluck"
)

// A clip is the samples of a sound, or of its ending, made once.
type clip struct {
	samples []float32
	crest   []float32   // a bound of the true peak of each crestSpan of samples
	modes   pluck.Modes // of a sound; nil for an ending
}

// A cache keeps clips, so that each is made once for all tempos, passes and mixes
// of a kit. It holds at most about capacity bytes: then the clip that has waited
// longest is dropped, and made again, the same, when it is needed.
type cache struct {
	rate     int
	capacity int                 // bytes
	longest  map[pluck.Sound]int // frames that any note of the sound lasts, its ending left out
	endings  map[clipKey]bool    // of all notes

	mu      sync.Mutex
	entries map[clipKey]*cacheEntry
	bytes   int
	clock   int
}

type clipKey struct {
	pluck.Sound
	release int32 // frame at which the ending begins; 0 for the sound itself
}

type cacheEntry struct {
	once sync.Once
	clip *clip
	used int
}

// cacheCapacity is what a cache holds, in bytes.
const cacheCapacity = 48 << 20

func newCache(rate int) *cache {
	return &cache{
		rate:     rate,
		capacity: cacheCapacity,
		longest:  make(map[pluck.Sound]int),
		endings:  make(map[clipKey]bool),
		entries:  make(map[clipKey]*cacheEntry),
	}
}

// expect tells the cache of a note that a finger ends some frames after its start.
// All notes are told before any clip is asked for.
func (c *cache) expect(of pluck.Sound, release int) {
	c.longest[of] = max(c.longest[of], release)
	c.endings[clipKey{of, int32(release)}] = true
}

// sound returns the samples of a sound that is not ended before any of its notes
// are.
func (c *cache) sound(of pluck.Sound) *clip {
	return c.get(clipKey{Sound: of}, func() *clip {
		modes := of.Modes(c.rate)
		return newClip(modes.Strike(c.longest[of], c.rate), modes)
	})
}

// ending returns the samples of a sound from the frame on at which a finger ends
// it.
func (c *cache) ending(of pluck.Sound, release int) *clip {
	return c.get(clipKey{of, int32(release)}, func() *clip {
		return newClip(c.sound(of).modes.Damp(release, c.rate), nil)
	})
}

// prepare makes the clips of the notes that it was told of, as many as there is room
// for, on all processors: the sounds first, which tell how their endings begin.
func (c *cache) prepare() {
	sounds := slices.SortedFunc(maps.Keys(c.longest), pluck.Sound.Compare)
	concurrently(len(sounds), func(i int) {
		if !c.isFull() {
			c.sound(sounds[i])
		}
	})
	endings := slices.SortedFunc(maps.Keys(c.endings), func(a, b clipKey) int {
		return cmp.Or(a.Sound.Compare(b.Sound), cmp.Compare(a.release, b.release))
	})
	concurrently(len(endings), func(i int) {
		e := endings[i]
		if !c.isFull() && int(e.release) <= len(c.sound(e.Sound).samples) {
			c.ending(e.Sound, int(e.release))
		}
	})
}

func (c *cache) isFull() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.bytes > c.capacity*3/4
}

func (c *cache) get(key clipKey, create func() *clip) *clip {
	c.mu.Lock()
	entry := c.entries[key]
	if entry == nil {
		entry = new(cacheEntry)
		c.entries[key] = entry
	}
	c.clock++
	entry.used = c.clock
	c.mu.Unlock()

	entry.once.Do(func() {
		made := create()
		c.mu.Lock() // shrink looks at the clips of all entries
		defer c.mu.Unlock()
		entry.clip = made
		c.bytes += made.bytes()
		c.shrink()
	})
	return entry.clip
}

// shrink drops the clips that have waited longest until the rest is within the
// capacity.
func (c *cache) shrink() {
	for c.bytes > c.capacity {
		var oldest *cacheEntry
		var key clipKey
		for k, e := range c.entries {
			if e.clip != nil && (oldest == nil || e.used < oldest.used) {
				oldest, key = e, k
			}
		}
		delete(c.entries, key)
		c.bytes -= oldest.clip.bytes()
	}
}

func newClip(samples []float32, modes pluck.Modes) *clip {
	return &clip{samples: samples, crest: loudness.Bounds(samples, crestSpan), modes: modes}
}

func (c *clip) bytes() int {
	const size = 32 // of a mode
	return 4*len(c.samples) + 4*len(c.crest) + size*len(c.modes)
}
