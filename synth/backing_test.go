package synth

import (
	"bytes"
	"context"
	"io"
	"slices"
	"testing"

	"github.com/go-audio/wav"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/backings"
	"thirdwise/synth/clips"
	"thirdwise/synth/desk"
	"thirdwise/synth/pluck"
	"thirdwise/synth/room"
)

// moved returns a performance whose guide is so many frets higher, and whose chords yield
// to it where it is an odd number.
func moved(p *score.Performance, frets int) *score.Performance {
	other := *p
	other.Notes = slices.Clone(p.Notes)
	for i := range other.Notes {
		switch n := &other.Notes[i]; {
		case n.Part == score.GuideUpper || n.Part == score.GuideLower:
			n.Fret += frets
			n.Pitch = pitchOf(n.Place)
		case n.Part == score.Chords && frets%2 == 1 && i%5 == 0:
			n.Yield = n.Velocity / 3
			n.Velocity -= n.Yield
		}
	}
	return &other
}

// kitOf returns the tracks of a kit of a performance at two tempos, and what they are
// written to.
func kitOf(bars, frets int) (tracks []Track, files []*bytes.Buffer) {
	add := func(p *score.Performance, m score.Mix, loop bool) {
		files = append(files, new(bytes.Buffer))
		tracks = append(tracks, Track{Performance: p, Mix: m, Loop: loop, Out: files[len(files)-1]})
	}
	for _, tempo := range []int{60, 120} {
		p := moved(shaken(playAlong(bars, tempo)), frets)
		for _, m := range []score.Mix{score.Full, score.Backing, score.Guide, score.ChordsAlone} {
			add(p, m, false)
		}
		turns := *p
		turns.Notes = slices.DeleteFunc(slices.Clone(p.Notes), func(n score.Note) bool { return n.Part == score.GuideUpper && n.Tick > p.Length/2 })
		add(&turns, score.Turns, false)
		looped := *p
		looped.Length -= 480
		add(&looped, score.Loop, true)
	}
	return tracks, files
}

// A kit has the bytes that it has alone when other kits have made what accompanies its
// guide: of the same chords and of others, with the room and without, at another rate,
// however loud, and where only some of it finds room.
func TestKitsThatShareBackingsAreTheSame(t *testing.T) {
	kits := func(shared func() *Backings) (all [][]byte) {
		for _, row := range []struct {
			bars, frets int
			Options
		}{
			{2, 0, Options{}}, {2, 5, Options{}}, {2, 4, Options{Loudness: -9}}, {1, 1, Options{}}, {2, 5, Options{Dry: true}},
			{2, 3, Options{Dry: true}}, {2, 7, Options{}}, {1, 0, Options{Format: audiofile.Format{Rate: 48000}}},
		} {
			tracks, files := kitOf(row.bars, row.frets)
			row.Options.Backings = shared()
			_, err := Render(context.Background(), tracks, row.Options)
			require.NoError(t, err)
			for _, f := range files {
				all = append(all, f.Bytes())
			}
		}
		return all
	}
	want := kits(func() *Backings { return nil })
	for _, capacity := range []int{256 << 20, 12 << 20} {
		shared := NewBackings(capacity)
		for i, got := range kits(func() *Backings { return shared }) {
			assert.True(t, bytes.Equal(want[i], got), "track %d, %d bytes of backings", i, capacity)
		}
	}
}

// What accompanies a guide is made once, whatever the guide plays and however the chords
// yield to it; other chords, or another length, are another.
func TestWhatAccompaniesAGuideIsMadeOnce(t *testing.T) {
	shared := NewBackings(64 << 20)
	render := func(p *score.Performance) {
		tracks := []Track{{Performance: p, Mix: score.Full, Out: io.Discard}, {Performance: p, Mix: score.Backing, Out: io.Discard}}
		_, err := Render(context.Background(), tracks, Options{Backings: shared})
		require.NoError(t, err)
	}
	kept := func(p *score.Performance) bool {
		s := &recording{options: Options{Backings: shared}, space: &room.Small}
		r := newRoll(Track{Performance: p}, newCache(44100, NewClips()))
		made := false
		b := shared.Get(s.backingKey(r, slices.Concat(desk.StemsOf(score.Backing)[:desk.BackingStems]...)), r.frames,
			func(*backings.Backing) bool { made = true; return false })
		b.Release()
		return !made
	}
	p := playAlong(2, 100)
	render(p)
	assert.True(t, kept(p))
	assert.True(t, kept(moved(p, 3)))
	other := *p
	other.Click = other.Click[1:]
	assert.False(t, kept(&other))
	assert.False(t, kept(playAlong(2, 101)))
}

// A string that yields is as loud as its velocity says, and otherwise the note that it
// would be.
func TestAStringThatYieldsIsAsLoudAsItsVelocity(t *testing.T) {
	samples := func(velocity, yield int) []int {
		p := playAlong(1, 100)
		p.Notes = slices.DeleteFunc(p.Notes, func(n score.Note) bool { return n.Part != score.Chords })[:1]
		p.Notes[0].Velocity, p.Notes[0].Yield = velocity, yield
		var file bytes.Buffer
		track := Track{Performance: p, Mix: score.ChordsAlone, Out: &file}
		// The reference sets the gain, and is the same.
		_, err := Render(context.Background(), []Track{track}, Options{Format: audiofile.Format{Depth: 24}, Dry: true, Reference: playAlong(1, 100)})
		require.NoError(t, err)
		buffer, err := wav.NewDecoder(bytes.NewReader(file.Bytes())).FullPCMBuffer()
		require.NoError(t, err)
		return buffer.Data
	}
	yielding, alone := samples(50, 30), samples(80, 0)
	share := float64(pluck.Gain(50)) / float64(pluck.Gain(80))
	require.NotZero(t, slices.Max(alone))
	for i := range alone {
		require.InDelta(t, share*float64(alone[i]), float64(yielding[i]), 2, "sample %d", i)
	}
}

// The peaks of a kit's tracks are found the same with its backing and without.
func TestABackingTellsThePeaksThatNotesTell(t *testing.T) {
	p := moved(playAlong(2, 100), 3)
	notes := newCache(44100, NewClips())
	peaks := func(shared *Backings) (found []float32) {
		s := &recording{
			ctx: t.Context(), space: &room.Small, cache: notes, gain: 1, options: Options{Backings: shared},
			renditions: []*rendition{{roll: newRoll(Track{Performance: p}, notes), mixes: []score.Mix{score.Full, score.Backing, score.Guide}}},
		}
		s.stretches.New = func() any { return new(stretch) }
		for floor := float32(0.5); floor < 5; floor *= 1.1 {
			found = append(found, s.peak(floor))
		}
		return found
	}
	assert.Equal(t, peaks(nil), peaks(NewBackings(64<<20)))
}

// The second of two kits of a key, in another position: with what the first left, and
// without.
func BenchmarkNextPosition(b *testing.B) {
	for _, name := range []string{"kept", "anew"} {
		b.Run(name, func(b *testing.B) {
			shared, notes := NewBackings(128<<20), clips.NewShelf(forManyKits)
			frames := 0
			render := func(frets int) {
				var tracks []Track
				for _, tempo := range []int{60, 100} {
					p := moved(playAlong(32, tempo), frets)
					for _, m := range []score.Mix{score.Full, score.Backing} {
						tracks = append(tracks, Track{Performance: p, Mix: m, Out: io.Discard})
					}
				}
				if name == "anew" {
					shared = nil
				}
				results, err := Render(context.Background(), tracks, Options{Clips: notes, Backings: shared})
				require.NoError(b, err)
				for _, r := range results {
					frames += r.Frames
				}
			}
			render(0)
			frames = 0
			b.ResetTimer()
			for i := 0; b.Loop(); i++ {
				render(1 + i%5)
			}
			b.ReportMetric(float64(frames)/44100/b.Elapsed().Seconds(), "x-real-time")
		})
	}
}
