package synth

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/clips"
	"thirdwise/synth/exact"
	"thirdwise/synth/room"
)

// A Track is one audio file to be made: a mix of a performance.
type Track struct {
	Performance *score.Performance
	Mix         score.Mix
	// Loop makes a track that repeats without a seam: it is exactly as long as
	// the performance, and what rings on beyond the end sounds at the beginning.
	Loop bool
	Tags audiofile.Tags // Tags.Loop is set from Loop
	Out  io.Writer
}

// settle is the time in seconds from the end of the last sound to the end of the
// track, for the room.
const settle = 0.5

// end returns the frame at a rate in samples a second at which the last sounds have
// faded away: of a loop, that on which its length falls.
func (t Track) end(rate int) int {
	p := t.Performance
	if t.Loop {
		return p.Sample(p.Length, rate)
	}
	end := max(p.Length, p.End)
	for _, n := range p.Notes {
		end = max(end, n.Tick+n.Length)
	}
	return p.Sample(end, rate)
}

// frames returns the length of the track at a rate.
func (t Track) frames(rate int) int {
	if t.Loop {
		return t.end(rate)
	}
	return t.end(rate) + int(settle*float64(rate))
}

// Options say how the tracks of a kit are made. The zero value makes WAV files of
// 44,100 Hz and 16 bits at −18 LUFS, in a small room.
type Options struct {
	Format audiofile.Format
	// Loudness is the integrated loudness in LUFS of the reference's full mix,
	// unless a track would then pass −1 dBTP. 0 means −18.
	Loudness float64
	// Reference is the performance whose full mix has the loudness; nil means
	// the last track's.
	Reference *score.Performance
	// Dry leaves out the room.
	Dry bool
	// Clips keep the sounds of notes for other kits; nil means for this one alone.
	Clips *Clips
	// Backings keep what accompanies the guide for other kits that have the same; nil keeps
	// nothing.
	Backings *Backings
	// Leveled, where it is not nil, is told the gain of all tracks in dB, before any of
	// them is written.
	Leveled func(gain float64)
	// Done, where it is not nil, is told of each track that is complete, by its
	// index; never of two at once.
	Done func(track int, r Result)
}

// A Result is what was measured of a track as it was written.
type Result struct {
	Frames   int     // samples in each channel
	Loudness float64 // integrated, LUFS; −Inf for silence
	TruePeak float64 // dBTP; −Inf for silence
	Gain     float64 // dB, the same for all tracks
}

const (
	defaultLoudness = -18 // LUFS
	peakLimit       = -1  // dBTP
)

// Render makes the tracks of one kit, all at one gain: the loudness of the
// reference sets it, and it is lowered where a track would pass −1 dBTP. The
// tracks' bytes do not depend on how many processors work on them.
//
// It stops at the first error, or when the context ends; what was written until
// then is incomplete.
func Render(ctx context.Context, tracks []Track, o Options) ([]Result, error) {
	if len(tracks) == 0 {
		return nil, errors.New("no tracks to render")
	}
	for i, t := range tracks {
		if t.Performance == nil || t.Out == nil {
			return nil, fmt.Errorf("track %d has no performance or nothing to be written to", i+1)
		}
	}
	if err := o.Format.Check(); err != nil {
		return nil, err
	}
	o.Format = o.Format.WithDefaults()
	if o.Loudness == 0 {
		o.Loudness = defaultLoudness
	}
	if o.Reference == nil {
		o.Reference = tracks[len(tracks)-1].Performance
	}
	if o.Clips == nil {
		o.Clips = clips.NewShelf(forOneKit)
	}
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)

	s := &recording{
		ctx: ctx, fail: cancel,
		options:   o,
		space:     &room.Small,
		tracks:    tracks,
		results:   make([]Result, len(tracks)),
		cache:     newCache(o.Format.Rate, o.Clips),
		stretches: sync.Pool{New: func() any { return new(stretch) }},
	}
	if o.Dry {
		s.space = nil
	}
	s.layOut()
	s.setGain()
	if o.Leveled != nil && ctx.Err() == nil {
		o.Leveled(s.decibels())
	}
	concurrently(len(s.renditions), func(i int) { s.make(s.renditions[i]) })
	if err := context.Cause(ctx); err != nil {
		return nil, err
	}
	return s.results, nil
}

// A recording is one run of Render.
type recording struct {
	ctx        context.Context
	fail       context.CancelCauseFunc
	options    Options
	space      *room.Space // nil for none
	tracks     []Track
	results    []Result
	cache      *cache
	reference  *rendition   // may be one of the renditions
	renditions []*rendition // the longest first
	gain       float32      // that all tracks are written with
	done       sync.Mutex
	stretches  sync.Pool // of *stretch
}

// decibels returns the gain in dB.
func (s *recording) decibels() float64 { return exact.Decibels(float64(s.gain)) }

// reach returns the frames after which nothing is heard of a sound in the room, 0
// where there is none.
func (s *recording) reach() int {
	if s.space == nil {
		return 0
	}
	return s.space.Reach(s.cache.rate)
}

// A rendition is a performance with all tracks that are mixes of it.
type rendition struct {
	*roll
	tracks []int
	mixes  []score.Mix // of the tracks
	tapes  []*tape     // of the tracks that were measured as the gain was found, nil for others
	kept   bool        // the tapes hold the tracks
}

// layOut makes the rolls: one for all tracks of a performance.
func (s *recording) layOut() {
	type key struct {
		performance *score.Performance
		loop        bool
	}
	known := make(map[key]*rendition)
	for i, t := range s.tracks {
		k := key{t.Performance, t.Loop}
		if known[k] == nil {
			known[k] = &rendition{roll: newRoll(t, s.cache)}
			s.renditions = append(s.renditions, known[k])
		}
		known[k].tracks = append(known[k].tracks, i)
		known[k].mixes = append(known[k].mixes, t.Mix)
	}
	s.reference = known[key{s.options.Reference, false}]
	if s.reference == nil {
		s.reference = &rendition{roll: newRoll(Track{Performance: s.options.Reference}, s.cache)}
	}
	slices.SortStableFunc(s.renditions, func(a, b *rendition) int { return b.frames - a.frames })
}

// concurrently calls work with the numbers below n in their order, on as many
// processors as there are, and returns when all is done.
func concurrently(n int, work func(i int)) {
	var all sync.WaitGroup
	var next atomic.Int64
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	all.Wait()
}

// make makes all tracks of a rendition.
func (s *recording) make(r *rendition) {
	files := make([]*trackFile, len(r.tracks))
	for i, track := range r.tracks {
		var err error
		if files[i], err = s.open(track, r.frames, r.measured(i)); err != nil {
			s.fail(err)
			return
		}
	}
	if r.kept {
		concurrently(len(files), func(i int) {
			if err := files[i].copyTape(); err != nil {
				s.fail(err)
			}
		})
		r.tapes = nil
	} else {
		writers := make([]audiofile.Writer, len(files))
		for i, f := range files {
			writers[i] = f
		}
		s.play(r.roll, r.mixes, writers)
	}
	for _, f := range files {
		if s.ctx.Err() != nil {
			return
		}
		if err := f.close(); err != nil {
			s.fail(err)
		}
	}
}
