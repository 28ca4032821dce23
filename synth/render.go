package synth

import (
	"context"
	"errors"
	"fmt"
	"io"
	"iter"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"thirdwise/arrange/score"
)

// A Track is one audio file to be made: a mix of a performance.
type Track struct {
	Performance *score.Performance
	Mix         score.Mix
	// Loop makes a track that repeats without a seam: it is exactly as long as
	// the performance, and what rings on beyond the end sounds at the beginning.
	Loop bool
	Tags Tags // Tags.Loop is set from Loop
	Out  io.Writer
}

// What follows the last note, in half seconds: notes that last until the
// performance ends ring on, then are damped.
const (
	ringOn = 3 // from the end of the performance until a finger ends them
	tail   = 4 // from the end of the performance to the end of the track
)

// frames returns the length of the track at a rate in samples a second. It is the
// sample on which the performance's last tick falls, its length or the end of its
// last note, plus the tail; of a loop, the sample on which its length falls.
func (t Track) frames(rate int) int {
	p := t.Performance
	if t.Loop {
		return p.Sample(p.Length, rate)
	}
	end := p.Length
	for _, n := range p.Notes {
		end = max(end, n.Tick+n.Length)
	}
	return p.Sample(end, rate) + tail*rate/2
}

// Options say how the tracks of a kit are made. The zero value makes WAV files of
// 44,100 Hz and 16 bits at −18 LUFS, in a small room.
type Options struct {
	Format Format
	// Loudness is the integrated loudness in LUFS of the reference's full mix,
	// unless a track would then pass −1 dBTP. 0 means −18.
	Loudness float64
	// Reference is the performance whose full mix has the loudness; nil means
	// the last track's.
	Reference *score.Performance
	// Dry leaves out the room.
	Dry bool
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
	if err := o.Format.check(); err != nil {
		return nil, err
	}
	o.Format = o.Format.withDefaults()
	if o.Loudness == 0 {
		o.Loudness = defaultLoudness
	}
	if o.Reference == nil {
		o.Reference = tracks[len(tracks)-1].Performance
	}
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)

	s := &recording{
		ctx: ctx, fail: cancel,
		options: o,
		space:   &smallRoom,
		tracks:  tracks,
		results: make([]Result, len(tracks)),
		stock:   newStock(o.Format.Rate),
	}
	if o.Dry {
		s.space = nil
	}
	s.layOut()
	s.stock.fill()
	s.level()
	concurrently(len(s.renditions), func(i int) { s.write(s.renditions[i]) })
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
	space      *room
	tracks     []Track
	results    []Result
	stock      *stock
	reference  *roll
	renditions []*rendition // the longest first
	gain       float32
	done       sync.Mutex
}

// A rendition is a performance with all tracks that are mixes of it.
type rendition struct {
	*roll
	tracks []int
	mixes  []score.Mix // of the tracks
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
			known[k] = &rendition{roll: newRoll(t, s.stock)}
			s.renditions = append(s.renditions, known[k])
		}
		known[k].tracks = append(known[k].tracks, i)
		known[k].mixes = append(known[k].mixes, t.Mix)
	}
	s.reference = newRoll(Track{Performance: s.options.Reference}, s.stock)
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

// blockLength is how many frames are made at a time: more than the room looks
// back, few enough for the processor's nearer caches.
const blockLength = 4096

// A block is the next samples of every part that a rendition's tracks need.
type block struct {
	parts   [len(seats)][]float32 // nil where a part is silent
	buffers [len(seats)][]float32 // what parts are slices of
	frames  int
	waiting atomic.Int32 // tracks that have yet to read it
}

// needs returns the parts that any of some mixes has.
func needs(mixes []score.Mix) []score.Part {
	var parts []score.Part
	for _, m := range mixes {
		for _, p := range m.Parts() {
			if !slices.Contains(parts, p) {
				parts = append(parts, p)
			}
		}
	}
	return parts
}

// fill makes the next samples of some parts of a roll, from a frame on.
func (b *block) fill(r *roll, parts []score.Part, from, frames int) {
	b.frames = frames
	for _, p := range parts {
		b.buffers[p] = resized(b.buffers[p], frames)
		b.parts[p] = nil
		if r.mix(b.buffers[p], p, from) {
			b.parts[p] = b.buffers[p]
		}
	}
}

// resized returns a slice of some length, in the memory of another where that is
// enough; what it holds is left open.
func resized(s []float32, length int) []float32 { return slices.Grow(s[:0], length)[:length] }

// stereo is the next samples of a mix.
type stereo struct{ left, right []float32 }

// play makes mixes of a roll at the same time, a block at a time: one goroutine
// mixes the parts, and one a mix sets the desk and calls read with its samples.
// It returns when all have read what they want; an error ends the recording.
func (s *recording) play(r *roll, mixes []score.Mix, read func(mix int, blocks iter.Seq[stereo]) error) {
	const ahead = 3 // blocks in the making
	var readers sync.WaitGroup
	free := make(chan *block, ahead)
	for range ahead {
		free <- new(block)
	}
	queues := make([]chan *block, len(mixes))
	for i, m := range mixes {
		queue := make(chan *block, ahead)
		queues[i] = queue
		readers.Go(func() {
			if err := read(i, s.mixed(r, m, queue, free)); err != nil {
				s.fail(err)
			}
			for b := range queue {
				b.release(free)
			}
		})
	}
	parts := needs(mixes)
	for from := -s.space.reach(r.stock.rate); from < r.frames && s.ctx.Err() == nil; {
		b := <-free
		n := min(blockLength, r.frames-from)
		if from < 0 {
			n = -from
		}
		b.fill(r, parts, from, n)
		b.waiting.Store(int32(len(queues)))
		for _, queue := range queues {
			queue <- b
		}
		from += n
	}
	for _, queue := range queues {
		close(queue)
	}
	readers.Wait()
}

// mixed returns the blocks of a mix, made from blocks of parts. The first of these
// only leads in: it is what a loop's end leaves in the room, and otherwise silent.
func (s *recording) mixed(r *roll, m score.Mix, queue <-chan *block, free chan<- *block) iter.Seq[stereo] {
	return func(yield func(stereo) bool) {
		board := newDesk(m, s.space, s.gain, r.stock.rate)
		var left, right [blockLength]float32
		leadsIn := board.reach > 0
		for b := range queue {
			n := b.frames
			board.mix(left[:n], right[:n], &b.parts)
			b.release(free)
			if leadsIn {
				leadsIn = false
				continue
			}
			if !yield(stereo{left[:n], right[:n]}) {
				return
			}
		}
	}
}

// release hands a block back once all tracks have read it.
func (b *block) release(free chan<- *block) {
	if b.waiting.Add(-1) == 0 {
		free <- b
	}
}

// write makes all tracks of a rendition.
func (s *recording) write(r *rendition) {
	s.play(r.roll, r.mixes, func(i int, blocks iter.Seq[stereo]) error {
		track := r.tracks[i]
		if err := s.writeTrack(track, r.frames, blocks); err != nil {
			return fmt.Errorf("track %d: %w", track+1, err)
		}
		return nil
	})
}

func (s *recording) writeTrack(i, frames int, blocks iter.Seq[stereo]) error {
	t := s.tracks[i]
	t.Tags.Loop = t.Loop
	encoder, err := newEncoder(t.Out, s.options.Format, frames, t.Tags)
	if err != nil {
		return err
	}
	meter, peak := newLoudnessMeter(s.stock.rate), new(peakMeter)
	for b := range blocks {
		meter.Write(b.left, b.right)
		peak.Write(b.left, b.right)
		if err := encoder.Write(b.left, b.right); err != nil {
			return err
		}
	}
	if s.ctx.Err() != nil {
		return nil
	}
	if err := encoder.Close(); err != nil {
		return err
	}
	s.results[i] = Result{
		Frames:   frames,
		Loudness: meter.Integrated(),
		TruePeak: peak.TruePeak(),
		Gain:     20 * math.Log10(float64(s.gain)),
	}
	if s.options.Done != nil {
		s.done.Lock()
		defer s.done.Unlock()
		s.options.Done(i, s.results[i])
	}
	return nil
}
