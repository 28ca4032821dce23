package synth

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/score"
	"thirdwise/synth/desk"
	"thirdwise/synth/room"
	"thirdwise/synth/soundtest"
)

// One mix from notes that are cached: the parts added up, set in the image and
// in the room.
func BenchmarkMix(b *testing.B) {
	r := newRoll(Track{Performance: playAlong(16, 100)}, newCache(44100, NewClips()))
	d := desk.New(score.Full, &room.Small, 44100)
	var parts sheaf
	left, right := make([]float32, blockLength), make([]float32, blockLength)
	pass := func() {
		for from := 0; from < r.frames-blockLength; from += blockLength {
			parts.fill(r, d.Parts(), from, blockLength)
			d.Mix(left, right, &parts.parts)
		}
	}
	pass()
	for b.Loop() {
		pass()
	}
	soundtest.PerFrame(b, r.frames)
}

// A kit of five tempos by three mixes, 32 bars twice through, written to disk.
func BenchmarkKit(b *testing.B) {
	var performances []*score.Performance
	for _, tempo := range []int{60, 70, 80, 90, 100} {
		performances = append(performances, playAlong(64, tempo))
	}
	folder := b.TempDir()
	seconds := 0.0
	for b.Loop() {
		var tracks []Track
		for _, p := range performances {
			for _, m := range []score.Mix{score.Full, score.Backing, score.Guide} {
				file, err := os.Create(filepath.Join(folder, fmt.Sprintf("%d.wav", len(tracks))))
				require.NoError(b, err)
				defer file.Close()
				tracks = append(tracks, Track{Performance: p, Mix: m, Out: file})
			}
		}
		results, err := Render(context.Background(), tracks, Options{})
		require.NoError(b, err)
		for _, r := range results {
			seconds += float64(r.Frames) / 44100
		}
	}
	b.ReportMetric(seconds/b.Elapsed().Seconds(), "x-real-time")
}

// One full mix of 32 bars, from the notes to the bytes of a file: as one thread of a
// browser makes it, run with GOOS=js.
func BenchmarkTrack(b *testing.B) {
	p := playAlong(32, 100)
	seconds := 0.0
	for b.Loop() {
		results, err := Render(context.Background(), []Track{{Performance: p, Out: io.Discard}}, Options{})
		require.NoError(b, err)
		seconds += float64(results[0].Frames) / 44100
	}
	b.ReportMetric(seconds/b.Elapsed().Seconds(), "x-real-time")
}

// A file of two hours, its bytes thrown away: how much memory it takes at most,
// by what the Go runtime holds from the system.
func BenchmarkTwoHours(b *testing.B) {
	const bars = 2 * 3600 * 100 / 60 / 4 // at 100 beats a minute
	p := playAlong(bars, 100)
	for b.Loop() {
		var highest atomic.Uint64
		stop := make(chan struct{})
		go func() {
			for {
				select {
				case <-stop:
					return
				case <-time.After(20 * time.Millisecond):
					var m runtime.MemStats
					runtime.ReadMemStats(&m)
					highest.Store(max(highest.Load(), m.Sys-m.HeapReleased))
				}
			}
		}()
		_, err := Render(context.Background(), []Track{{Performance: p, Out: io.Discard}}, Options{})
		close(stop)
		require.NoError(b, err)
		b.ReportMetric(float64(highest.Load())/(1<<20), "MiB-peak")
	}
}
