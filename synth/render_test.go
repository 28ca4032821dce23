package synth

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math"
	"runtime"
	"sync"
	"testing"

	"github.com/go-audio/wav"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/synth/clips"
)

// recorded is a track read back from its file.
type recorded struct {
	left, right []int
	result      Result
}

// record renders tracks in 24 bits, without the room, and reads them back with
// go-audio/wav.
func record(t testing.TB, rate int, tracks ...Track) []recorded {
	t.Helper()
	files := make([]bytes.Buffer, len(tracks))
	for i := range tracks {
		tracks[i].Out = &files[i]
	}
	results, err := Render(context.Background(), tracks, Options{
		Format: audiofile.Format{Rate: rate, Depth: 24},
		Dry:    true,
	})
	require.NoError(t, err)
	recordings := make([]recorded, len(tracks))
	for i := range files {
		buffer, err := wav.NewDecoder(bytes.NewReader(files[i].Bytes())).FullPCMBuffer()
		require.NoError(t, err)
		require.Equal(t, rate, buffer.Format.SampleRate)
		require.Equal(t, 2, buffer.Format.NumChannels)
		r := recorded{result: results[i]}
		for j := 0; j < len(buffer.Data); j += 2 {
			r.left = append(r.left, buffer.Data[j])
			r.right = append(r.right, buffer.Data[j+1])
		}
		recordings[i] = r
	}
	return recordings
}

// practice is every mix of two bars, in the order of score.Mixes.
func practice() []Track {
	p := shaken(playAlong(2, 100))
	var tracks []Track
	for _, m := range score.Mixes() {
		tracks = append(tracks, Track{Performance: p, Mix: m})
	}
	return tracks
}

var recordedOnce = struct {
	sync.Once
	tracks []recorded
}{}

// recordedPractice is practice, rendered once for all tests.
func recordedPractice(t testing.TB) []recorded {
	recordedOnce.Do(func() { recordedOnce.tracks = record(t, 44100, practice()...) })
	return recordedOnce.tracks
}

func TestPartsSumToMixes(t *testing.T) {
	recordings := recordedPractice(t)
	alone := map[score.Part]recorded{
		score.Click:      recordings[score.ClickAlone],
		score.Chords:     recordings[score.ChordsAlone],
		score.GuideUpper: recordings[score.GuideUpperAlone],
		score.GuideLower: recordings[score.GuideLowerAlone],
		score.Bass:       recordings[score.BassAlone],
		score.Groove:     recordings[score.GrooveAlone],
	}
	// Each part and the mix are rounded to 24 bits; float32 sums add as much.
	// One step of 16 bits is 256 of these.
	const tolerance = 8
	for _, m := range []score.Mix{score.Full, score.Backing, score.Guide, score.Turns} {
		worst := 0
		for i, mixed := range recordings[m].left {
			for _, p := range m.Parts() {
				mixed -= alone[p].left[i]
			}
			worst = max(worst, mixed, -mixed)
		}
		assert.LessOrEqual(t, worst, tolerance, m.String())
	}
}

func TestLoudnessAndPeak(t *testing.T) {
	full := recordedPractice(t)[score.Full].result
	assert.InDelta(t, -18, full.Loudness, 0.01)

	loud := practice()
	for i := range loud {
		loud[i].Out = io.Discard
	}
	results, err := Render(context.Background(), loud, Options{Loudness: -3})
	require.NoError(t, err)
	highest := math.Inf(-1)
	for _, r := range results {
		highest = max(highest, r.TruePeak)
		assert.Equal(t, results[0].Gain, r.Gain)
	}
	assert.InDelta(t, -1, highest, 0.01)
}

// The samples of a loop are those of a track that plays it again and again.
func TestLoopHasNoSeam(t *testing.T) {
	once := brushed(playAlong(2, 100))
	once.Tempos[0].QuarterMicros = 600_000 // a whole number of samples
	again := *once
	again.Length = 3 * once.Length
	again.Notes, again.Click, again.Percussion = nil, nil, nil
	for pass := range 3 {
		for _, n := range once.Notes {
			n.Tick += pass * once.Length
			again.Notes = append(again.Notes, n)
		}
		for _, c := range once.Click {
			c.Tick += pass * once.Length
			again.Click = append(again.Click, c)
		}
		for _, c := range once.Percussion {
			c.Tick += pass * once.Length
			again.Percussion = append(again.Percussion, c)
		}
	}
	notes := newCache(44100, NewClips())
	loop := newRoll(Track{Performance: once, Loop: true}, notes)
	long := newRoll(Track{Performance: &again}, notes)
	require.Equal(t, 3*loop.frames, long.frames-22050)
	// The same takes in every pass.
	for p := range loop.parts {
		for i := range long.parts[p].events {
			e := &long.parts[p].events[i]
			for _, same := range loop.parts[p].events {
				if same.start == e.start%loop.frames && same.sound.Key == e.sound.Key && same.sound.Instrument == e.sound.Instrument {
					e.sound.Take = same.sound.Take
				}
			}
			notes.expect(e.sound, e.release)
		}
	}
	got, want := make([]float32, loop.frames), make([]float32, loop.frames)
	for _, p := range score.Full.Parts() {
		loop.mix(got, p, 0)
		long.mix(want, p, loop.frames)
		for i := range got {
			require.InDelta(t, want[i], got[i], 1e-5, "part %d, frame %d", p, i)
		}
		step := func(a, b float32) float64 { return math.Abs(float64(a - b)) }
		largest := 0.0
		for i := 1; i < len(got); i++ {
			largest = max(largest, step(got[i], got[i-1]))
		}
		assert.LessOrEqual(t, step(got[0], got[len(got)-1]), largest)
		// Beyond either end a loop is itself.
		loop.mix(want[:1000], p, -1000)
		assert.Equal(t, got[len(got)-1000:], want[:1000])
	}
}

func TestBytesDoNotDependOnProcessors(t *testing.T) {
	p, q := playAlong(2, 100), playAlong(2, 60)
	make := func(processors int) [][]byte {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(processors))
		var tracks []Track
		files := [6]bytes.Buffer{}
		for i, m := range []score.Mix{score.Full, score.Backing, score.Guide} {
			tracks = append(tracks,
				Track{Performance: p, Mix: m, Out: &files[2*i]},
				Track{Performance: q, Mix: m, Out: &files[2*i+1]})
		}
		_, err := Render(context.Background(), tracks, Options{})
		require.NoError(t, err)
		var all [][]byte
		for i := range files {
			all = append(all, files[i].Bytes())
		}
		return all
	}
	want := make(1)
	for _, processors := range []int{2, 7} {
		for i, got := range make(processors) {
			assert.True(t, bytes.Equal(want[i], got), "file %d with %d processors", i, processors)
		}
	}
}

// Clips too few for a kit are made the same again and again.
func TestFewClipsAreTheSameSamples(t *testing.T) {
	p := playAlong(2, 100)
	want, got := make([]float32, 100_000), make([]float32, 100_000)
	newRoll(Track{Performance: p}, newCache(44100, NewClips())).mix(want, score.Chords, 100_000)
	newRoll(Track{Performance: p}, newCache(44100, clips.NewShelf(1<<18))).mix(got, score.Chords, 100_000)
	assert.Equal(t, want, got)
}

// Kits that share their clips have the bytes that each has alone, and notes that
// another kit has made are not made again.
func TestKitsThatShareClipsAreTheSame(t *testing.T) {
	tempos := []int{100, 60, 140}
	kits := func(clips func() *Clips) (all [][]byte) {
		for _, tempo := range tempos {
			var file bytes.Buffer
			_, err := Render(context.Background(), []Track{{Performance: playAlong(2, tempo), Out: &file}}, Options{Clips: clips()})
			require.NoError(t, err)
			all = append(all, file.Bytes())
		}
		return all
	}
	want := kits(func() *Clips { return nil })
	shared := NewClips()
	got := kits(func() *Clips { return shared })
	for i := range want {
		assert.True(t, bytes.Equal(want[i], got[i]), "at tempo %d", tempos[i])
	}
	var before, after []*clips.Clip
	r := newRoll(Track{Performance: playAlong(2, tempos[0])}, newCache(44100, NewClips()))
	each := func(yield func(*clips.Clip)) {
		for _, e := range r.parts[score.Chords].events {
			yield(shared.Get(e.sound, 44100, 1))
		}
	}
	each(func(c *clips.Clip) { before = append(before, c) })
	require.NotEmpty(t, before)
	kits(func() *Clips { return shared })
	each(func(c *clips.Clip) { after = append(after, c) })
	for i := range before {
		assert.Same(t, before[i], after[i])
	}
}

// Tracks that are kept as the gain is found are those that are made once it is known. They
// are too quiet here for a peak to lower the gain: one that is looked for in some stretches
// agrees with one that was met on the way only as far as the room forgets.
func TestTracksThatAreKeptAreTheSame(t *testing.T) {
	p := playAlong(2, 100)
	other := *p
	made := func(reference *score.Performance) (files [3]bytes.Buffer) {
		var tracks []Track
		for i, m := range []score.Mix{score.Full, score.Backing, score.Guide} {
			tracks = append(tracks, Track{Performance: p, Mix: m, Out: &files[i]})
		}
		_, err := Render(context.Background(), tracks, Options{Reference: reference, Loudness: -23})
		require.NoError(t, err)
		return files
	}
	kept, anew := made(p), made(&other)
	for i := range kept {
		assert.True(t, bytes.Equal(anew[i].Bytes(), kept[i].Bytes()), "track %d", i+1)
	}
}

type brokenDisk struct{ left int }

var errDiskFull = errors.New("disk full")

func (d *brokenDisk) Write(p []byte) (int, error) {
	if d.left -= len(p); d.left < 0 {
		return 0, errDiskFull
	}
	return len(p), nil
}

func TestRenderStops(t *testing.T) {
	p := playAlong(4, 60)
	tracks := []Track{
		{Performance: p, Mix: score.Full, Out: io.Discard},
		{Performance: p, Mix: score.Backing, Out: &brokenDisk{100_000}},
	}
	_, err := Render(context.Background(), tracks, Options{})
	assert.ErrorIs(t, err, errDiskFull)
	assert.ErrorContains(t, err, "track 2")

	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	tracks[1].Out = io.Discard
	_, err = Render(ctx, tracks, Options{})
	assert.ErrorIs(t, err, context.Canceled)

	_, err = Render(context.Background(), nil, Options{})
	assert.Error(t, err)
	_, err = Render(context.Background(), []Track{{Performance: p}}, Options{})
	assert.ErrorContains(t, err, "track 1")
	_, err = Render(context.Background(), tracks, Options{Format: audiofile.Format{Rate: 8000}})
	assert.Error(t, err)
}

func TestSilenceStaysSilent(t *testing.T) {
	p := &score.Performance{Tempos: []score.TempoChange{{QuarterMicros: 500_000}}, Length: 480}
	silence := record(t, 44100, Track{Performance: p, Mix: score.Full})[0]
	assert.Zero(t, magnitudeOf(silence.left))
	assert.True(t, math.IsInf(silence.result.Loudness, -1))
	assert.Zero(t, silence.result.Gain)
}

// Progress is told once for each track, with what Render returns.
func TestDoneIsToldOfEachTrack(t *testing.T) {
	p := playAlong(1, 120)
	tracks := []Track{
		{Performance: p, Mix: score.Guide, Out: io.Discard},
		{Performance: p, Mix: score.Full, Out: io.Discard},
	}
	told := make(map[int]Result)
	results, err := Render(context.Background(), tracks, Options{Done: func(i int, r Result) { told[i] = r }})
	require.NoError(t, err)
	assert.Equal(t, map[int]Result{0: results[0], 1: results[1]}, told)
}
