package synth

import (
	"crypto/sha256"
	"encoding/binary"
	"math"
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/backings"
	"thirdwise/synth/desk"
)

// Backings keep for other kits of a run what accompanies the guide.
type Backings = backings.Shelf

// NewBackings returns backings of a capacity in bytes. There are none yet.
func NewBackings(capacity int) *Backings { return backings.NewShelf(capacity) }

// backing returns what accompanies the guide in mixes of a roll, from what is kept, and
// made for it where need be: at a gain of 1, in the room, before the chords yield and
// the end is faded. It returns nil where no mix has it, or there is no room for it.
func (s *recording) backing(r *roll, mixes []score.Mix) *backings.Backing {
	if s.options.Backings == nil || !slices.ContainsFunc(mixes, desk.Backed) {
		return nil
	}
	parts := desk.StemsOf(score.Backing)[:desk.BackingStems]
	key := s.backingKey(r, slices.Concat(parts...))
	return s.options.Backings.Get(key, r.frames, func(b *backings.Backing) bool {
		var sources []source
		for _, of := range parts {
			sources = append(sources, source{stem: desk.NewStem(of, s.space, r.cache.rate)})
		}
		s.playSources(r, sources, [][]int{{0, 1}}, []audiofile.Writer{b})
		return s.ctx.Err() == nil
	})
}

// backingKey tells apart backings that do not have the same samples.
func (s *recording) backingKey(r *roll, parts []score.Part) backings.Key {
	room := 0
	if s.space != nil {
		room = 1
	}
	var text []byte
	put := func(numbers ...int) {
		for _, n := range numbers {
			text = binary.AppendVarint(text, int64(n))
		}
	}
	put(r.cache.rate, r.frames, room)
	for _, p := range parts {
		events := r.parts[p].events // of a loop also those that ring on from its end
		put(len(events))
		for _, e := range events {
			put(e.start, e.release, int(math.Float32bits(e.gain)))
			put(int(e.sound.Instrument), int(e.sound.Key), int(e.sound.Fret), int(e.sound.Layer), int(e.sound.Take))
		}
	}
	return sha256.Sum256(text)
}
