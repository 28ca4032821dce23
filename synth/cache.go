package synth

import (
	"maps"
	"slices"
	"sync"

	"thirdwise/synth/loudness"
	"thirdwise/synth/pluck"
)

// A clip is the samples of a sound, made once.
type clip struct {
	samples []float32
	crest   []float32 // a bound of the true peak of each crestSpan of samples
}

func (c *clip) bytes() int { return 4 * (len(c.samples) + len(c.crest)) }

// A cache keeps clips, so that each is made once for all tempos, passes and mixes
// of a kit. It holds at most about capacity bytes: then the clip that has waited
// longest is dropped, and made again, the same, when it is needed.
type cache struct {
	rate     int
	capacity int                 // bytes
	longest  map[pluck.Sound]int // frames that any note of the sound lasts
	touch    []float32           // the factors with which a finger ends a note

	mu      sync.Mutex
	entries map[pluck.Sound]*cacheEntry
	bytes   int
	clock   int
}

type cacheEntry struct {
	once sync.Once
	clip *clip
	used int
}

// cacheCapacity is what a cache holds, in bytes.
const cacheCapacity = 56 << 20

func newCache(rate int) *cache {
	return &cache{
		rate:     rate,
		capacity: cacheCapacity,
		longest:  make(map[pluck.Sound]int),
		touch:    pluck.Touch(rate),
		entries:  make(map[pluck.Sound]*cacheEntry),
	}
}

// expect tells the cache of a note that a finger ends some frames after its start.
// All notes are told before any clip is asked for.
func (c *cache) expect(of pluck.Sound, release int) {
	c.longest[of] = max(c.longest[of], release+len(c.touch))
}

// prepare makes the clips of the notes that it was told of, as many as there is room
// for, on all processors.
func (c *cache) prepare() {
	sounds := slices.SortedFunc(maps.Keys(c.longest), pluck.Sound.Compare)
	concurrently(len(sounds), func(i int) {
		if !c.isFull() {
			c.sound(sounds[i])
		}
	})
}

func (c *cache) isFull() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.bytes > c.capacity*3/4
}

// sound returns the samples of a sound that lasts as long as any of its notes.
func (c *cache) sound(of pluck.Sound) *clip {
	c.mu.Lock()
	entry := c.entries[of]
	if entry == nil {
		entry = new(cacheEntry)
		c.entries[of] = entry
	}
	c.clock++
	entry.used = c.clock
	c.mu.Unlock()

	entry.once.Do(func() {
		samples := of.Modes(c.rate).Strike(c.longest[of], c.rate)
		made := &clip{samples: samples, crest: loudness.Bounds(samples, crestSpan)}
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
		var dropped pluck.Sound
		for of, e := range c.entries {
			if e.clip != nil && (oldest == nil || e.used < oldest.used) {
				oldest, dropped = e, of
			}
		}
		delete(c.entries, dropped)
		c.bytes -= oldest.clip.bytes()
	}
}
