package kit_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/kittest"
	"thirdwise/cmd/thirdwise/kit/place"
	"thirdwise/synth"
	"thirdwise/synth/audiofile"
)

func smallKit(t testing.TB) kit.Kit {
	return kit.Kit{
		Name:   "small",
		Score:  arrangetest.Score(t, "title: Small\nkey: C major\nchart: \"| C | G7 |\"\ntempos: [180]\npasses: 1\n"),
		Mixes:  []score.Mix{score.Full, score.ClickAlone},
		Format: audiofile.Format{Rate: 44100, Depth: 16}, Sheet: sheet.Options{Paper: drawing.A4},
	}
}

func unwatched(done, all int) {}

func TestPublishCountsEveryFileOnce(t *testing.T) {
	var seen []int
	files, leftover, err := smallKit(t).Publish(context.Background(), &place.Drafts{}, t.TempDir(), func(done, all int) {
		seen = append(seen, done)
		assert.GreaterOrEqual(t, all, done)
	})
	require.NoError(t, errors.Join(err, leftover))
	for i, done := range seen {
		assert.Equal(t, i+1, done)
	}
	assert.Len(t, files, len(seen))
}

func TestAKitCancelledMidwayLeavesTheOldOne(t *testing.T) {
	k, folder := smallKit(t), t.TempDir()
	_, _, err := k.Publish(context.Background(), &place.Drafts{}, folder, unwatched)
	require.NoError(t, err)
	before, err := os.ReadFile(filepath.Join(folder, "small", kit.ManifestName))
	require.NoError(t, err)

	k.Score.Title = "Another"
	for _, file := range []int{1, 2, 3, 8} {
		ctx, cancel := context.WithCancel(context.Background())
		_, _, err = k.Publish(ctx, &place.Drafts{}, folder, func(done, all int) {
			if done == file {
				cancel()
			}
		})
		assert.ErrorIs(t, err, context.Canceled)
		after, err := os.ReadFile(filepath.Join(folder, "small", kit.ManifestName))
		require.NoError(t, err)
		assert.Equal(t, string(before), string(after))
		left, err := os.ReadDir(folder)
		require.NoError(t, err)
		assert.Len(t, left, 1, "no draft is left behind")
	}
}

func TestAPanicLeavesNoDraft(t *testing.T) {
	folder := t.TempDir()
	assert.Panics(t, func() {
		smallKit(t).Publish(context.Background(), &place.Drafts{}, folder, func(done, all int) {
			if done == all {
				panic(errors.New("a fault in the program"))
			}
		})
	})
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, left)
}

// BenchmarkPublish measures a whole kit from score to files on disk: three mixes
// of 32 bars at five tempos.
func BenchmarkPublish(b *testing.B) {
	const text = "title: Long\nkey: C major\ntempos: [60, 70, 80, 90, 100]\nchart: |\n  "
	k, folder := smallKit(b), b.TempDir()
	k.Score = arrangetest.Score(b, text+strings.Repeat("| C | Am | Dm | G ", 8)+"|\n")
	k.Mixes = []score.Mix{score.Full, score.Backing, score.Guide}
	seconds := 0.0
	for b.Loop() {
		files, _, err := k.Publish(context.Background(), &place.Drafts{}, folder, unwatched)
		if err != nil {
			b.Fatal(err)
		}
		for _, f := range files {
			if f.Kind == kit.KindAudio {
				seconds += f.Seconds
			}
		}
	}
	b.ReportMetric(seconds/b.Elapsed().Seconds(), "x-real-time")
}

func TestAKitGoesIntoAnyStore(t *testing.T) {
	k, folder := smallKit(t), t.TempDir()
	files, _, err := k.Publish(context.Background(), &place.Drafts{}, folder, unwatched)
	require.NoError(t, err)
	store := new(kittest.Memory)
	stored, err := k.Write(context.Background(), store, unwatched)
	require.NoError(t, err)
	assert.Equal(t, files, stored)
	for _, f := range files {
		text, err := os.ReadFile(filepath.Join(folder, k.Name, f.Name))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(text, store.Bytes(f.Name)), f.Name)
	}
}

// The page is told the gain of the tracks that it lies beside, and is listed with
// the rest.
func TestAPageIsAsLoudAsItsKit(t *testing.T) {
	k, folder := smallKit(t), t.TempDir()
	told := new(plainPage)
	k.Page = told
	files, _, err := k.Publish(context.Background(), new(place.Drafts), folder, unwatched)
	require.NoError(t, err)
	page := files[len(files)-2]
	assert.Equal(t, kit.KindPage, page.Kind)
	text, err := os.ReadFile(filepath.Join(folder, "small", page.Name))
	require.NoError(t, err)
	assert.Equal(t, "Small", string(text))
	track := synth.Track{Performance: k.Score.Perform(180), Mix: score.Full, Out: io.Discard}
	results, err := synth.Render(context.Background(), []synth.Track{track}, synth.Options{})
	require.NoError(t, err)
	assert.InDelta(t, results[0].Gain, told.gain, 1e-9)
}

// A plainPage holds a title, and remembers the gain that it was told.
type plainPage struct {
	gain float64
	sum  string
}

func (p *plainPage) WriteKit(w io.Writer, of kit.Kit, gain float64) error {
	p.gain = gain
	_, err := fmt.Fprint(w, of.Score.Title)
	return err
}

func (p *plainPage) Sum() string { return p.sum }

// A kit is made again by another program: one whose page names other sources, or
// whose file is younger than the kit.
func TestAnotherProgramMakesAKitAgain(t *testing.T) {
	k, folder := smallKit(t), t.TempDir()
	k.Page = &plainPage{sum: "one"}
	_, _, err := k.Publish(context.Background(), new(place.Drafts), folder, unwatched)
	require.NoError(t, err)
	older, younger := time.Now().Add(-time.Hour), time.Now().Add(time.Hour)
	assert.NotNil(t, k.Unchanged(context.Background(), folder, older))
	assert.NotNil(t, k.Unchanged(context.Background(), folder, time.Time{}), "the program's file is not known")
	assert.Nil(t, k.Unchanged(context.Background(), folder, younger))
	k.Page = &plainPage{sum: "another"}
	assert.Nil(t, k.Unchanged(context.Background(), folder, older))
}
