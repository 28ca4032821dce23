package synth

import (
	"slices"
	"sync"
	"sync/atomic"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
)

// blockLength is how many frames are made at a time: many enough to be worth the
// while, few enough for the processor's nearer caches.
const blockLength = 4096

// A block is the next samples of every part that a rendition's tracks need.
type block struct {
	parts   [len(seats)][]float32 // nil where a part is silent
	buffers [len(seats)][]float32 // what parts are slices of
	frames  int
	leadsIn bool         // it comes before the first frame
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

// play makes mixes of a roll at the same time, a block at a time, and writes each to
// its writer: one goroutine mixes the parts, and one a mix sets the desk. It returns
// when all is written; an error ends the recording.
func (s *recording) play(r *roll, mixes []score.Mix, to []audiofile.Writer) {
	const ahead = 3 // blocks in the making
	var desks sync.WaitGroup
	free := make(chan *block, ahead)
	for range ahead {
		free <- new(block)
	}
	queues := make([]chan *block, len(mixes))
	for i, m := range mixes {
		queue := make(chan *block, ahead)
		queues[i] = queue
		desks.Go(func() {
			if err := s.mix(r, newDesk(m, s.space, s.gain, r.cache.rate), queue, free, to[i]); err != nil {
				s.fail(err)
			}
			for b := range queue {
				b.release(free)
			}
		})
	}
	parts := needs(mixes)
	lead := 0
	if r.loop {
		lead = s.reach()
	}
	for from := -lead; from < r.frames && s.ctx.Err() == nil; {
		b := <-free
		n := min(blockLength, r.frames-from)
		if from < 0 {
			n = min(n, -from)
		}
		b.leadsIn = from < 0
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
	desks.Wait()
}

// mix writes blocks of parts as a desk sets them. What leads in is not written: it is
// what a loop's end leaves in the room.
func (s *recording) mix(r *roll, d *desk, queue <-chan *block, free chan<- *block, to audiofile.Writer) error {
	var left, right [blockLength]float32
	at := 0
	for b := range queue {
		n := b.frames
		d.mix(left[:n], right[:n], &b.parts)
		leadsIn := b.leadsIn
		b.release(free)
		if leadsIn {
			continue
		}
		r.fade(left[:n], right[:n], at)
		at += n
		if err := to.Write(left[:n], right[:n]); err != nil {
			return err
		}
	}
	return nil
}

// release hands a block back once all tracks have read it.
func (b *block) release(free chan<- *block) {
	if b.waiting.Add(-1) == 0 {
		free <- b
	}
}
