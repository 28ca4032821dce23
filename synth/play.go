package synth

import (
	"slices"
	"sync"
	"sync/atomic"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/backings"
	"thirdwise/synth/desk"
	"thirdwise/synth/mixing"
)

// blockLength is how many frames are made at a time: many enough to be worth the
// while, few enough for the processor's nearer caches.
const blockLength = 4096

// A sheaf is the next samples of some parts of a roll.
type sheaf struct {
	parts   desk.Samples
	buffers desk.Samples // what parts are slices of
}

// fill makes the next samples of some parts of a roll, from a frame on.
func (s *sheaf) fill(r *roll, parts []score.Part, from, frames int) {
	for _, p := range parts {
		s.buffers[p] = resized(s.buffers[p], frames)
		s.parts[p] = nil
		if r.mix(s.buffers[p], p, from) {
			s.parts[p] = s.buffers[p]
		}
	}
}

// A block is the next samples of each source that a rendition's tracks need.
type block struct {
	sources []stereo
	frames  int
	leadsIn bool         // it comes before the first frame
	waiting atomic.Int32 // tracks that have yet to read it
}

// stereo is the samples of a source.
type stereo struct {
	left, right []float32
	heard       bool
}

// set takes a source's samples from a frame on, which are the parts' next.
func (s *stereo) set(of source, from, frames int, parts *desk.Samples) {
	if of.backing != nil {
		if s.heard = from >= 0; s.heard {
			s.left, s.right = of.backing.At(from, frames)
		}
		return
	}
	s.left, s.right = resized(s.left, frames), resized(s.right, frames)
	s.heard = of.stem.Set(s.left, s.right, parts)
}

// A source is what tracks are sums of: a stem, or a backing, which has been made.
type source struct {
	stem    *desk.Stem
	backing *backings.Backing
}

// sources returns what some mixes are made of, each once, and which of them a mix is the
// sum of. The backing, where there is one, stands for its stems.
func (s *recording) sources(mixes []score.Mix, backing *backings.Backing) (list []source, of [][]int) {
	if backing != nil {
		list = append(list, source{backing: backing})
	}
	for _, m := range mixes {
		var own []int
		apart := desk.StemsOf(m)
		if backing != nil && desk.Backed(m) {
			own, apart = append(own, 0), apart[desk.BackingStems:]
		}
		for _, parts := range apart {
			i := slices.IndexFunc(list, func(known source) bool { return known.stem != nil && slices.Equal(known.stem.Parts, parts) })
			if i < 0 {
				i = len(list)
				list = append(list, source{stem: desk.NewStem(parts, s.space, s.cache.rate)})
			}
			own = append(own, i)
		}
		of = append(of, own)
	}
	return list, of
}

// needs returns the parts that any of some mixes has.
func needs(mixes []score.Mix) []score.Part {
	var parts []score.Part
	for _, m := range mixes {
		for _, p := range desk.PartsOf(m) {
			if !slices.Contains(parts, p) {
				parts = append(parts, p)
			}
		}
	}
	return parts
}

// resized returns a slice of some length, in the memory of another where that is
// enough; what it holds is left open.
func resized(s []float32, length int) []float32 { return slices.Grow(s[:0], length)[:length] }

// play makes mixes of a roll at the same time, and writes each to its writer.
func (s *recording) play(r *roll, mixes []score.Mix, to []audiofile.Writer) {
	backing := s.backing(r, mixes)
	defer backing.Release()
	list, of := s.sources(mixes, backing)
	faders := make([]audiofile.Writer, len(to))
	for i := range to {
		faders[i] = &fader{roll: r, to: to[i]}
	}
	s.playSources(r, list, of, faders)
}

// A fader fades the end of a track, and hands its samples on.
type fader struct {
	roll        *roll
	at          int // frame of the next sample
	to          audiofile.Writer
	left, right []float32
}

// Write hands on the next samples as they are, or a copy that is faded.
func (f *fader) Write(left, right []float32) error {
	if f.roll.fades(f.at + len(left)) {
		f.left, f.right = append(f.left[:0], left...), append(f.right[:0], right...)
		left, right = f.left, f.right
		f.roll.fade(left, right, f.at)
	}
	f.at += len(left)
	return f.to.Write(left, right)
}

// playSources plays some sources of a roll, a block at a time, and writes the sums of some
// of them to their writers: one goroutine makes them, and one a writer adds them up.
// It returns when all is written; an error ends the recording.
func (s *recording) playSources(r *roll, list []source, of [][]int, to []audiofile.Writer) {
	const ahead = 3 // blocks in the making
	free := make(chan *block, ahead)
	for range ahead {
		free <- &block{sources: make([]stereo, len(list))}
	}
	var tracks sync.WaitGroup
	queues := make([]chan *block, len(to))
	for i := range to {
		queue := make(chan *block, ahead)
		queues[i] = queue
		tracks.Go(func() {
			if err := write(of[i], queue, free, to[i]); err != nil {
				s.fail(err)
			}
			for b := range queue {
				b.release(free)
			}
		})
	}
	var parts []score.Part
	for _, one := range list {
		if one.stem != nil {
			parts = append(parts, one.stem.Parts...)
		}
	}
	r.prepare(parts)
	var next sheaf
	lead := 0
	if r.loop { // whole blocks
		lead = (s.reach() + blockLength - 1) / blockLength * blockLength
	}
	for from := -lead; from < r.frames && s.ctx.Err() == nil; {
		b := <-free
		b.frames = min(blockLength, r.frames-from)
		b.leadsIn = from < 0
		next.fill(r, parts, from, b.frames)
		for i, one := range list {
			b.sources[i].set(one, from, b.frames, &next.parts)
		}
		b.waiting.Store(int32(len(queues)))
		for _, queue := range queues {
			queue <- b
		}
		from += b.frames
	}
	for _, queue := range queues {
		close(queue)
	}
	tracks.Wait()
}

// write writes blocks as a track that is the sum of some of their sources. What leads in
// is not written: it is what a loop's end leaves in the room.
func write(sources []int, queue <-chan *block, free chan<- *block, to audiofile.Writer) error {
	var left, right [blockLength]float32
	for b := range queue {
		n := b.frames
		if b.leadsIn {
			b.release(free)
			continue
		}
		l, r := b.sum(left[:n], right[:n], sources)
		err := to.Write(l, r)
		b.release(free)
		if err != nil {
			return err
		}
	}
	return nil
}

// sum returns the sum of some sources, for which left and right are room. It is not to be
// written, for it may be a source's own samples.
func (b *block) sum(left, right []float32, sources []int) (l, r []float32) {
	heard := 0
	for _, i := range sources {
		s := &b.sources[i]
		if !s.heard {
			continue
		}
		switch heard++; heard {
		case 1:
			l, r = s.left, s.right
		case 2:
			mixing.Sum(left, l, s.left)
			mixing.Sum(right, r, s.right)
			l, r = left, right
		default:
			mixing.Add(left, s.left, 1)
			mixing.Add(right, s.right, 1)
		}
	}
	if heard == 0 {
		clear(left)
		clear(right)
		return left, right
	}
	return l, r
}

// release hands a block back once all tracks have read it.
func (b *block) release(free chan<- *block) {
	if b.waiting.Add(-1) == 0 {
		free <- b
	}
}
