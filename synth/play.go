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

// A sheaf is the next samples of some parts of a roll.
type sheaf struct {
	parts   [len(seats)][]float32 // nil where a part is silent
	buffers [len(seats)][]float32 // what parts are slices of
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

// A block is the next samples of each stem that a rendition's tracks need.
type block struct {
	stems   []stereo
	frames  int
	leadsIn bool         // it comes before the first frame
	waiting atomic.Int32 // tracks that have yet to read it
}

// stereo is the samples of a stem.
type stereo struct {
	left, right []float32
	heard       bool
}

// set makes a stem of its parts' next samples.
func (s *stereo) set(of *stem, frames int, parts *[len(seats)][]float32) {
	s.left, s.right = resized(s.left, frames), resized(s.right, frames)
	clear(s.left)
	clear(s.right)
	s.heard = of.add(s.left, s.right, parts)
}

// console returns the stems of some mixes, each once, and which of them a mix is the sum
// of.
func (s *recording) console(mixes []score.Mix) (stems []*stem, of [][]int) {
	for _, m := range mixes {
		var own []int
		for _, parts := range stemsOf(m) {
			i := slices.IndexFunc(stems, func(known *stem) bool { return slices.Equal(known.parts, parts) })
			if i < 0 {
				i = len(stems)
				stems = append(stems, newStem(parts, s.space, s.cache.rate))
			}
			own = append(own, i)
		}
		of = append(of, own)
	}
	return stems, of
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

// resized returns a slice of some length, in the memory of another where that is
// enough; what it holds is left open.
func resized(s []float32, length int) []float32 { return slices.Grow(s[:0], length)[:length] }

// play makes mixes of a roll at the same time, and writes each to its writer.
func (s *recording) play(r *roll, mixes []score.Mix, to []audiofile.Writer) {
	stems, of := s.console(mixes)
	s.playStems(r, stems, of, to)
}

// playStems plays some stems of a roll, a block at a time, and writes the sums of some of
// them to their writers: one goroutine makes the stems, and one a writer adds them up.
// It returns when all is written; an error ends the recording.
func (s *recording) playStems(r *roll, stems []*stem, of [][]int, to []audiofile.Writer) {
	const ahead = 3 // blocks in the making
	free := make(chan *block, ahead)
	for range ahead {
		free <- &block{stems: make([]stereo, len(stems))}
	}
	var tracks sync.WaitGroup
	queues := make([]chan *block, len(to))
	for i := range to {
		queue := make(chan *block, ahead)
		queues[i] = queue
		tracks.Go(func() {
			if err := s.write(r, of[i], queue, free, to[i]); err != nil {
				s.fail(err)
			}
			for b := range queue {
				b.release(free)
			}
		})
	}
	var parts []score.Part
	for _, stem := range stems {
		parts = append(parts, stem.parts...)
	}
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
		for i, stem := range stems {
			b.stems[i].set(stem, b.frames, &next.parts)
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

// write writes blocks of stems as a track that is the sum of some of them. What leads in
// is not written: it is what a loop's end leaves in the room.
func (s *recording) write(r *roll, stems []int, queue <-chan *block, free chan<- *block, to audiofile.Writer) error {
	var left, right [blockLength]float32
	at := 0
	for b := range queue {
		n := b.frames
		if b.leadsIn {
			b.release(free)
			continue
		}
		b.sum(left[:n], right[:n], stems)
		b.release(free)
		r.fade(left[:n], right[:n], at)
		at += n
		if err := to.Write(left[:n], right[:n]); err != nil {
			return err
		}
	}
	return nil
}

// sum fills left and right with the sum of some stems.
func (b *block) sum(left, right []float32, stems []int) {
	none := true
	for _, i := range stems {
		switch s := &b.stems[i]; {
		case !s.heard:
		case none:
			none = false
			copy(left, s.left)
			copy(right, s.right)
		default:
			addScaled(left, s.left, 1)
			addScaled(right, s.right, 1)
		}
	}
	if none {
		clear(left)
		clear(right)
	}
}

// release hands a block back once all tracks have read it.
func (b *block) release(free chan<- *block) {
	if b.waiting.Add(-1) == 0 {
		free <- b
	}
}
