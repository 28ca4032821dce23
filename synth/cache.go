package synth

import (
	"maps"
	"slices"
	"sync"
	"sync/atomic"

	"thirdwise/synth/loudness"
	"thirdwise/synth/pluck"
)

// A clip is the samples of a sound, made once.
type clip struct {
	samples  []float32
	complete bool // it goes on until the sound is inaudible

	bounding sync.Once
	bounds   []float32 // see crest
}

func (c *clip) bytes() int { return 4 * len(c.samples) }

// crest returns a bound of the true peak of each crestSpan of samples.
func (c *clip) crest() []float32 {
	c.bounding.Do(func() { c.bounds = loudness.Bounds(c.samples, crestSpan) })
	return c.bounds
}

// suffices reports whether the clip has so many frames, or all that are heard.
func (c *clip) suffices(frames int) bool { return c.complete || len(c.samples) >= frames }

// makeClip makes the first frames of a sound. Neither its samples nor the crest of those
// asked for depend on how many more there are.
func makeClip(of soundAt, frames int) *clip {
	const beyond = crestSpan + loudness.Reach // what the last crest asked for depends on
	samples := of.Samples(frames+beyond, of.rate)
	return &clip{samples: samples, complete: len(samples) < frames+beyond}
}

// Clips keep the sounds of notes for all kits of a run: the same string, fret and
// stroke in another key is the same note. They hold at most about capacity bytes:
// then the sound that has waited longest is dropped, and made again, the same, when
// it is needed. Several goroutines may use them.
type Clips struct {
	capacity int // bytes

	mutex   sync.Mutex
	entries map[soundAt]*clipEntry
	bytes   int
	clock   int
}

// A soundAt is a sound at a rate in samples a second.
type soundAt struct {
	pluck.Sound
	rate int
}

type clipEntry struct {
	making sync.Mutex // held while the clip is made
	clip   *clip      // read and written while the clips' mutex is held, too
	used   int
}

// What clips hold, in bytes.
const (
	forOnePage  = 44 << 20 // whose memory never shrinks
	forOneKit   = 56 << 20
	forManyKits = 96 << 20 // the chords of a key, and the lines of several positions
)

// NewClips returns clips for many kits. There are none yet.
func NewClips() *Clips { return newClips(forManyKits) }

// NewPageClips returns clips for the [Parts] that one page plays. There are none yet.
func NewPageClips() *Clips { return newClips(forOnePage) }

func newClips(capacity int) *Clips {
	return &Clips{capacity: capacity, entries: make(map[soundAt]*clipEntry)}
}

// get returns at least the first frames of a sound, or all that are heard of it.
func (c *Clips) get(of soundAt, frames int) *clip {
	e, known := c.use(of)
	if known != nil && known.suffices(frames) {
		return known
	}
	e.making.Lock()
	defer e.making.Unlock()
	if e.clip != nil && e.clip.suffices(frames) {
		return e.clip
	}
	made := makeClip(of, frames)
	c.keep(of, e, made)
	return made
}

// use returns the entry of a sound, which is now the latest used, and its clip, if
// there is one.
func (c *Clips) use(of soundAt) (*clipEntry, *clip) {
	c.mutex.Lock()
	defer c.mutex.Unlock()
	e := c.entries[of]
	if e == nil {
		e = new(clipEntry)
		c.entries[of] = e
	}
	c.clock++
	e.used = c.clock
	return e, e.clip
}

// keep puts a clip into its entry, unless that was dropped while the clip was made.
func (c *Clips) keep(of soundAt, e *clipEntry, made *clip) {
	c.mutex.Lock()
	defer c.mutex.Unlock()
	old := e.clip
	e.clip = made
	if c.entries[of] != e {
		return
	}
	if old != nil {
		c.bytes -= old.bytes()
	}
	c.bytes += made.bytes()
	c.shrink()
}

// shrink drops the clips that have waited longest until the rest is within the
// capacity.
func (c *Clips) shrink() {
	for c.bytes > c.capacity {
		var oldest *clipEntry
		var dropped soundAt
		for of, e := range c.entries {
			if e.clip != nil && (oldest == nil || e.used < oldest.used) {
				oldest, dropped = e, of
			}
		}
		delete(c.entries, dropped)
		c.bytes -= oldest.clip.bytes()
	}
}

// A cache tells what the performances of a kit need of each sound, so that it is made
// once, and long enough, for all tempos, passes and mixes.
type cache struct {
	rate    int
	clips   *Clips
	longest map[pluck.Sound]int // frames that any note of the sound lasts
	touch   []float32           // the factors with which a finger ends a note
}

// newCache returns a cache at a rate in samples a second. What it makes is kept with
// clips.
func newCache(rate int, clips *Clips) *cache {
	return &cache{rate: rate, clips: clips, longest: make(map[pluck.Sound]int), touch: pluck.Touch(rate)}
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
	var bytes atomic.Int64
	concurrently(len(sounds), func(i int) {
		if bytes.Load() < int64(c.clips.capacity*3/4) {
			bytes.Add(int64(c.sound(sounds[i]).bytes()))
		}
	})
}

// sound returns the samples of a sound, as long as any of its notes.
func (c *cache) sound(of pluck.Sound) *clip {
	return c.clips.get(soundAt{of, c.rate}, c.longest[of])
}
