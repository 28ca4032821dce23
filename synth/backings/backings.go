// Package backings keeps what accompanies a guide once it is made, for all kits of a run:
// a key in every position has the same. What is played, and how it sounds, is the
// business of package synth.
package backings

import (
	"crypto/sha256"
	"sync"
)

// A Key tells all that a backing is made of.
type Key [sha256.Size]byte

// A Backing is stereo samples, made once.
type Backing struct {
	shelf *Shelf
	reels []*reel

	making sync.Mutex // held while the samples are made
	frames int        // that have been written
	made   bool

	users, used int // those that read it, and when the latest began; of the shelf's mutex
}

// Reel is the frames that lie in one piece: from each multiple of it to the next.
const Reel = 1 << 15

type reel struct{ left, right [Reel]float32 }

const reelBytes = 2 * 4 * Reel

// Write adds the next samples while the backing is made, at most as many as it was asked
// for with.
func (b *Backing) Write(left, right []float32) error {
	for len(left) > 0 {
		at := b.frames % Reel
		r := b.reels[b.frames/Reel]
		n := copy(r.left[at:], left)
		copy(r.right[at:], right)
		b.frames += n
		left, right = left[n:], right[n:]
	}
	return nil
}

// At returns the samples of some frames from a frame on, which lie in one piece. They are
// not to be written, nor read after the backing is released.
func (b *Backing) At(frame, frames int) (left, right []float32) {
	r, at := b.reels[frame/Reel], frame%Reel
	return r.left[at : at+frames], r.right[at : at+frames]
}

// Read fills left and right, of the same length, with the samples from a frame on, and
// with silence where there are none.
func (b *Backing) Read(left, right []float32, frame int) {
	for len(left) > 0 {
		var n int
		switch {
		case frame < 0:
			n = min(len(left), -frame)
			clear(left[:n])
			clear(right[:n])
		case frame >= b.frames:
			n = len(left)
			clear(left)
			clear(right)
		default:
			n = min(len(left), Reel-frame%Reel, b.frames-frame)
			l, r := b.At(frame, n)
			copy(left, l)
			copy(right, r)
		}
		left, right, frame = left[n:], right[n:], frame+n
	}
}

// Release ends the use of a backing that Get returned. One that is nil was never used.
func (b *Backing) Release() {
	if b == nil {
		return
	}
	b.shelf.mutex.Lock()
	defer b.shelf.mutex.Unlock()
	b.users--
}

// A Shelf keeps backings as long as there is room: then those that have waited longest
// are dropped. One that is in use never is, so that a shelf never holds more than its
// capacity; what finds no room is not kept. Several goroutines may use it. A nil shelf
// has no room.
type Shelf struct {
	mutex sync.Mutex
	blank int     // reels that have yet to be made
	free  []*reel // those that hold nothing
	lying map[Key]*Backing
	clock int
}

// NewShelf returns an empty shelf of a capacity in bytes.
func NewShelf(capacity int) *Shelf {
	return &Shelf{blank: capacity / reelBytes, lying: make(map[Key]*Backing)}
}

// Get returns the backing of a key, of so many frames, which is in use until it is
// released. If there is none it is made: record writes it, and reports whether that is
// complete. It returns nil where there is no room for it, or it could not be made.
func (s *Shelf) Get(key Key, frames int, record func(*Backing) bool) *Backing {
	b := s.use(key, (frames+Reel-1)/Reel)
	if b == nil {
		return nil
	}
	b.making.Lock()
	defer b.making.Unlock()
	if !b.made {
		b.frames = 0
		if !record(b) {
			b.Release()
			return nil
		}
		b.made = true
	}
	return b
}

// use returns the backing of a key, which may have yet to be made, with one user more;
// nil where there is no room for so many reels.
func (s *Shelf) use(key Key, reels int) *Backing {
	if s == nil {
		return nil
	}
	s.mutex.Lock()
	defer s.mutex.Unlock()
	b := s.lying[key]
	if b == nil {
		if !s.makeRoom(reels) {
			return nil
		}
		b = &Backing{shelf: s}
		for range reels {
			b.reels = append(b.reels, s.take())
		}
		s.lying[key] = b
	}
	s.clock++
	b.users, b.used = b.users+1, s.clock
	return b
}

// makeRoom drops the backings that have waited longest until there is room for so many
// reels; none where that would not be enough. It reports whether there is room.
func (s *Shelf) makeRoom(reels int) bool {
	room := s.blank + len(s.free)
	for _, b := range s.lying {
		if b.users == 0 {
			room += len(b.reels)
		}
	}
	if room < reels {
		return false
	}
	for s.blank+len(s.free) < reels {
		var oldest *Backing
		var dropped Key
		for key, b := range s.lying {
			if b.users == 0 && (oldest == nil || b.used < oldest.used) {
				oldest, dropped = b, key
			}
		}
		delete(s.lying, dropped)
		s.free = append(s.free, oldest.reels...)
	}
	return true
}

// take returns a reel, of which there is one.
func (s *Shelf) take() *reel {
	if last := len(s.free) - 1; last >= 0 {
		r := s.free[last]
		s.free = s.free[:last]
		return r
	}
	s.blank--
	return new(reel)
}
