package backings

import (
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// recording writes a backing whose samples tell its number and their place.
func recording(number, frames int) func(*Backing) bool {
	return func(b *Backing) bool {
		for at := 0; at < frames; at += 1000 {
			n := min(1000, frames-at)
			left, right := make([]float32, n), make([]float32, n)
			for i := range left {
				left[i], right[i] = float32(at+i+number), -float32(at+i+number)
			}
			_ = b.Write(left, right)
		}
		return true
	}
}

func never(t *testing.T) func(*Backing) bool {
	return func(*Backing) bool { t.Error("a backing that lies there was made again"); return false }
}

func TestABackingIsReadAsItWasWritten(t *testing.T) {
	const frames = 2*Reel + 500
	s := NewShelf(3 * reelBytes)
	s.Get(Key{1}, frames, recording(7, frames)).Release()
	b := s.Get(Key{1}, frames, never(t))
	defer b.Release()
	left, right := b.At(2*Reel, 500)
	assert.EqualValues(t, 2*Reel+7, left[0])
	assert.EqualValues(t, -2*Reel-7-499, right[499])
	left, right = make([]float32, frames+300), make([]float32, frames+300)
	for i := range left {
		left[i], right[i] = 1, 1 // is written over
	}
	b.Read(left, right, -100)
	for i := range left {
		want := float32(0)
		if at := i - 100; at >= 0 && at < frames {
			want = float32(at + 7)
		}
		require.Equal(t, want, left[i], i)
		require.Equal(t, -want, right[i], i)
	}
}

// The one that has waited longest makes room; one that is in use never does, and then
// another is not kept.
func TestAShelfHoldsItsCapacityAndNoMore(t *testing.T) {
	s := NewShelf(4*reelBytes + 1)
	first := s.Get(Key{1}, 2*Reel, recording(1, 2*Reel))
	second := s.Get(Key{2}, 2*Reel, recording(2, 2*Reel))
	require.NotNil(t, first)
	require.NotNil(t, second)
	assert.Nil(t, s.Get(Key{3}, 1, never(t)), "both are in use")
	first.Release()
	assert.Nil(t, s.Get(Key{3}, 2*Reel+1, never(t)), "one that is larger than what waits")
	assert.Same(t, first, s.Get(Key{1}, 2*Reel, never(t)), "nothing was dropped for it")
	second.Release()
	s.Get(Key{3}, 1, recording(3, 1)).Release()
	assert.Len(t, s.lying, 2)
	assert.Equal(t, 1, len(s.free)+s.blank)
	s.Get(Key{2}, 2*Reel, func(*Backing) bool { return false })
	assert.Nil(t, s.lying[Key{3}], "it had waited longest")
	first.Release()
	assert.Nil(t, s.Get(Key{4}, 5*Reel, never(t)), "more than the shelf can ever hold")
	assert.Nil(t, (*Shelf)(nil).Get(Key{1}, 1, never(t)))
	(*Backing)(nil).Release()
}

func TestABackingThatWasNotCompletedIsMadeAnew(t *testing.T) {
	s := NewShelf(reelBytes)
	half := func(b *Backing) bool { recording(1, 10)(b); return false }
	require.Nil(t, s.Get(Key{1}, 20, half))
	b := s.Get(Key{1}, 20, recording(2, 20))
	left, _ := b.At(0, 20)
	assert.EqualValues(t, 2, left[0])
	assert.EqualValues(t, 21, left[19])
	b.Release()
	assert.NotNil(t, s.Get(Key{2}, 1, recording(1, 1)), "no user is left")
}

// Processors that want the same backings at once get the same samples, each made once
// while there is room; the race detector watches what they share.
func TestProcessorsShareAShelf(t *testing.T) {
	roomy, tight := NewShelf(8*reelBytes), NewShelf(2*reelBytes)
	var made atomic.Int64
	var all sync.WaitGroup
	for worker := range 4 {
		all.Go(func() {
			for i := range 40 {
				number := (i + worker) % 8
				for _, s := range []*Shelf{roomy, tight} {
					b := s.Get(Key{byte(number)}, 3000, func(b *Backing) bool {
						if s == roomy {
							made.Add(1)
						}
						return recording(number, 3000)(b)
					})
					if b == nil {
						assert.Same(t, tight, s)
						continue
					}
					left, right := b.At(0, 3000)
					assert.EqualValues(t, number, left[0])
					assert.EqualValues(t, -number-2999, right[2999])
					b.Release()
				}
			}
		})
	}
	all.Wait()
	assert.EqualValues(t, 8, made.Load())
	assert.LessOrEqual(t, len(tight.lying), 2)
}
