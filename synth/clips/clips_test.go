package clips

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/synth/pluck"
)

// Processors that share a shelf too small for what they ask of it, for longer and for
// shorter notes, all get the same samples; the race detector watches what they share.
func TestASmallShelfIsShared(t *testing.T) {
	roomy, tight := NewShelf(1<<30), NewShelf(1<<15)
	sound := func(i int) pluck.Sound {
		return pluck.Sound{Instrument: pluck.GuideGuitar, Key: int8(50 + i%20), Layer: 4}
	}
	var all sync.WaitGroup
	for worker := range 4 {
		all.Go(func() {
			for i := worker; i < 200; i += 4 {
				frames := 1024 << (i % 3)
				want, got := roomy.Get(sound(i), 44100, frames), tight.Get(sound(i), 44100, frames)
				assert.Equal(t, want.Samples[:frames], got.Samples[:frames])
			}
		})
	}
	all.Wait()
	assert.LessOrEqual(t, tight.bytes, tight.Capacity())
	assert.Less(t, len(tight.entries), 20)
	counted := 0
	for _, e := range roomy.entries {
		counted += e.clip.Bytes()
	}
	assert.Equal(t, counted, roomy.bytes)
}

// What a clip says of its first frames does not depend on how many more it has.
func TestAClipsBeginningDoesNotDependOnItsEnd(t *testing.T) {
	of := soundAt{pluck.Sound{Instrument: pluck.ChordsGuitar, Key: 52, Fret: 2, Layer: 3}, 44100}
	long := makeClip(of, 1<<30)
	require.True(t, long.complete)
	for _, frames := range []int{1, Span - 1, Span, 20_000, len(long.Samples) - 1, len(long.Samples)} {
		short := makeClip(of, frames)
		spans := (frames + Span - 1) / Span
		assert.Equal(t, long.Samples[:frames], short.Samples[:frames])
		assert.Equal(t, long.Crest()[:spans], short.Crest()[:spans], "%d frames", frames)
	}
}
