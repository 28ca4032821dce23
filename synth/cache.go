package synth

import (
	"maps"
	"math"
	"slices"
	"sync/atomic"

	"thirdwise/arrange/score"
	"thirdwise/synth/clips"
	"thirdwise/synth/pluck"
)

// Clips keep the sounds of notes for all kits of a run, or for one page.
type Clips = clips.Shelf

// What clips hold, in bytes.
const (
	forOnePage  = 44 << 20 // whose memory never shrinks
	forOneKit   = 56 << 20
	forManyKits = 104 << 20 // the chords of a key, and the lines of several positions
)

// NewClips returns clips for many kits. There are none yet.
func NewClips() *Clips { return clips.NewShelf(forManyKits) }

// NewPageClips returns clips for the [Parts] that one page plays. There are none yet.
func NewPageClips() *Clips { return clips.NewShelf(forOnePage) }

// A cache tells what the performances of a kit need of each sound, so that it is made
// once, and long enough, for all tempos, passes and mixes.
type cache struct {
	rate    int
	clips   *Clips
	longest map[pluck.Sound]int // frames that any note of the sound lasts
	touch   []float32           // the factors with which a finger ends a note
	fading  []float32           // those with which a track ends, by the frames that are left
}

// newCache returns a cache at a rate in samples a second. What it makes is kept on a shelf.
func newCache(rate int, shelf *Clips) *cache {
	return &cache{rate: rate, clips: shelf, longest: make(map[pluck.Sound]int), touch: pluck.Touch(rate), fading: fading(rate)}
}

// fade is the time in seconds in which a track's last sounds fade away.
const fade = 2.0

// fading returns the factors with which a track fades away, along a cosine, by the frames
// that are left.
func fading(rate int) []float32 {
	factors := make([]float32, int(fade*float64(rate)))
	for rest := range factors {
		factors[rest] = float32(0.5 - 0.5*math.Cos(math.Pi*float64(rest)/float64(len(factors))))
	}
	return factors
}

// expect tells the cache of a note that a finger ends some frames after its start.
// All notes are told before any clip is asked for.
func (c *cache) expect(of pluck.Sound, release int) {
	c.longest[of] = max(c.longest[of], release+len(c.touch))
}

// prepare makes the clips of a roll's parts, as many as there is room for, on all
// processors.
func (r *roll) prepare(parts []score.Part) {
	needed := make(map[pluck.Sound]bool)
	for _, p := range parts {
		for _, e := range r.parts[p].events {
			needed[e.sound] = true
		}
	}
	sounds := slices.SortedFunc(maps.Keys(needed), pluck.Sound.Compare)
	var bytes atomic.Int64
	concurrently(len(sounds), func(i int) {
		if bytes.Load() < int64(r.cache.clips.Capacity()*3/4) {
			bytes.Add(int64(r.cache.sound(sounds[i]).Bytes()))
		}
	})
}

// sound returns the samples of a sound, as long as any of its notes.
func (c *cache) sound(of pluck.Sound) *clips.Clip {
	return c.clips.Get(of, c.rate, c.longest[of])
}
