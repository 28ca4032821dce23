package kit_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/machine"
	"thirdwise/cmd/thirdwise/kit/place"
	"thirdwise/synth/audiofile"
)

func publish(t *testing.T, k kit.Kit, folder string) {
	t.Helper()
	_, leftover, err := k.Publish(context.Background(), &place.Drafts{}, folder, unwatched)
	require.NoError(t, errors.Join(err, leftover))
}

// paperKit is a kit without audio, which is soon made.
func paperKit(t testing.TB) kit.Kit {
	k := smallKit(t)
	k.NoAudio, k.Exercise = true, "small.yaml"
	return k
}

// A kit is unchanged where the same is asked for and each of its files is whole.
func TestAKitIsUnchangedWhileItsExerciseAndItsFilesAre(t *testing.T) {
	ctx, k, folder := context.Background(), paperKit(t), t.TempDir()
	assert.Nil(t, k.Unchanged(ctx, folder, time.Time{}), "there is none yet")
	publish(t, k, folder)
	files := k.Unchanged(ctx, folder, time.Time{})
	require.NotEmpty(t, files)
	assert.Equal(t, kit.ManifestName, files[len(files)-1].Name)

	slower := k
	slower.Score = arrangetest.Score(t, "title: Small\nkey: C major\nchart: \"| C | G7 |\"\ntempos: [60]\npasses: 1\n")
	assert.Nil(t, slower.Unchanged(ctx, folder, time.Time{}), "another tempo is asked for")
	louder := k
	louder.Loudness = -14
	assert.Nil(t, louder.Unchanged(ctx, folder, time.Time{}), "another loudness is asked for")
	paged := k
	paged.Page = &plainPage{sum: "one"}
	assert.Nil(t, paged.Unchanged(ctx, folder, time.Time{}), "a page is asked for")

	tab := filepath.Join(folder, "small", "small-tab.txt")
	text, err := os.ReadFile(tab)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(tab, append(text, '\n'), 0o666))
	assert.Nil(t, k.Unchanged(ctx, folder, time.Time{}), "a file has been changed")
	require.NoError(t, os.WriteFile(tab, text, 0o666))
	assert.NotNil(t, k.Unchanged(ctx, folder, time.Time{}), "it is as it was")
	require.NoError(t, os.Remove(tab))
	assert.Nil(t, k.Unchanged(ctx, folder, time.Time{}), "a file is missing")
}

func TestAKitOfAnotherExerciseIsNeverReplaced(t *testing.T) {
	k, folder := paperKit(t), t.TempDir()
	require.NoError(t, k.Check(folder))
	publish(t, k, folder)
	require.NoError(t, k.Check(folder), "its own kit may be replaced")

	other := k
	other.Exercise = "other.yaml"
	assert.ErrorContains(t, other.Check(folder), "is the kit of another exercise, small.yaml")
	_, _, err := other.Publish(context.Background(), &place.Drafts{}, folder, unwatched)
	assert.ErrorContains(t, err, "is the kit of another exercise, small.yaml")

	require.NoError(t, os.WriteFile(filepath.Join(folder, "small", kit.ManifestName), []byte(`{"software":"something else"}`), 0o666))
	assert.ErrorContains(t, k.Check(folder), "does not hold a kit")
	_, err = kit.ReadManifest(t.TempDir())
	assert.ErrorContains(t, err, "does not hold a kit")
}

// On a Mac and on Windows a file's name comes in whichever case it was typed, and in
// either Unicode form.
func TestAnExerciseHasItsKitInWhicheverCaseItsFileIsNamed(t *testing.T) {
	k, folder, exercises := paperKit(t), t.TempDir(), t.TempDir()
	k.Exercise = filepath.Join(exercises, "Ülkü.yaml")
	publish(t, k, folder)
	for _, name := range []string{"ülkü.YAML", "U\u0308lku\u0308.yaml"} {
		again := k
		again.Exercise = filepath.Join(exercises, name)
		require.NoError(t, os.WriteFile(again.Exercise, nil, 0o666))
		require.NoError(t, again.Check(folder), "the other is not there: its name was changed")
		if _, err := os.Stat(k.Exercise); err == nil {
			require.NoError(t, os.Remove(again.Exercise))
			continue // one file has both names here
		}
		require.NoError(t, os.WriteFile(k.Exercise, nil, 0o666))
		require.ErrorContains(t, again.Check(folder), "is the kit of another exercise, Ülkü.yaml", "both are there")
		require.NoError(t, os.Remove(k.Exercise))
		require.NoError(t, os.Remove(again.Exercise))
	}
}

// What a run that died has left is cleared up, and the kits stay as they are.
func TestRecoveringKeepsTheKits(t *testing.T) {
	k, folder := paperKit(t), t.TempDir()
	publish(t, k, folder)
	require.NoError(t, kit.Recover(context.Background(), &place.Drafts{}, folder))
	assert.NotNil(t, k.Unchanged(context.Background(), folder, time.Time{}))
}

// A kit that replaces another gives back the room that the old one took.
func TestAReplacedKitGivesBackItsRoom(t *testing.T) {
	const huge = 1 << 40
	folder := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(folder, "small"), 0o777))
	old := fmt.Sprintf(`{"software":"thirdwise 1","files":[{"name":"small-060-full.wav","bytes":%d}]}`, huge)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "small", kit.ManifestName), []byte(old), 0o666))
	free, known := machine.FreeDisk(folder)
	require.True(t, known)
	more := []kit.Size{{Bytes: 0}, {Bytes: free + huge/2}}
	require.NoError(t, kit.Fit(folder, []string{"small", "next"}, more), "the old kit of the first gives back more than the second lacks")
	err := kit.Fit(folder, []string{"new", "next"}, more)
	assert.ErrorContains(t, err, "GB are missing; ask for fewer, or for --format flac")
	assert.ErrorContains(t, kit.Fit(folder, []string{"next", "small"}, []kit.Size{more[1], more[0]}), "are missing", "it is given back after the kit has been made")
	assert.Equal(t, "0.1 MB", kit.Space(900))
	assert.Equal(t, "999.9 MB", kit.Space(999_900_000))
	assert.Equal(t, "1.0 GB", kit.Space(1_000_000_000))
}

// Each way that a kit can be asked for has its files, counted before they are made.
func TestEachMixHasItsTrack(t *testing.T) {
	k := smallKit(t)
	k.Mixes = []score.Mix{score.Full, score.Loop, score.Turns}
	k.Score = arrangetest.Score(t, "title: Small\nkey: A minor\nchart: \"| Am | E7 |\"\ntempos: [390, 400]\nclimb: 10\npasses: 1\nby: Someone\n")
	k.Format = audiofile.Format{Rate: 44100, Depth: 24, Container: audiofile.FLAC}
	k.Page = new(plainPage)
	size, err := k.Size()
	require.NoError(t, err)
	folder := t.TempDir()
	files, _, err := k.Publish(context.Background(), &place.Drafts{}, folder, unwatched)
	require.NoError(t, err)
	assert.Len(t, files, size.Files)
	audio := map[string]bool{}
	for _, f := range files {
		if f.Kind == kit.KindAudio {
			audio[f.Name] = true
			assert.Equal(t, 24, f.Sound.Depth)
		}
	}
	for _, name := range []string{"small-390-full.flac", "small-390-loop.flac", "small-400-turns.flac", "small-climb.flac"} {
		assert.True(t, audio[name], "%s of %v", name, audio)
	}
	assert.Len(t, audio, 7)
}

var errFull = errors.New("no space left")

// A full is a store that takes so many files and no more.
type full struct{ left atomic.Int64 }

func withRoomFor(files int) *full {
	s := new(full)
	s.left.Store(int64(files))
	return s
}

func (s *full) Create(string) (io.WriteCloser, error) {
	if s.left.Add(-1) < 0 {
		return nil, errFull
	}
	return nowhere{}, nil
}

type nowhere struct{}

func (nowhere) Write(p []byte) (int, error) { return len(p), nil }
func (nowhere) Close() error                { return nil }

// brim is a store whose files take nothing.
type brim struct{}

func (brim) Create(string) (io.WriteCloser, error) { return spill{}, nil }

type spill struct{ nowhere }

func (spill) Write([]byte) (int, error) { return 0, errFull }

// Wherever a disk is full, the kit is an error.
func TestAFullDiskIsAnErrorWhereverItIsFull(t *testing.T) {
	k := paperKit(t)
	k.Page = new(plainPage)
	size, err := k.Size()
	require.NoError(t, err)
	for files := range size.Files {
		_, err := k.Write(context.Background(), withRoomFor(files), unwatched)
		assert.ErrorIs(t, err, errFull, "with room for %d files", files)
	}
	_, err = k.Write(context.Background(), withRoomFor(size.Files), unwatched)
	assert.NoError(t, err)
	_, err = k.Write(context.Background(), brim{}, unwatched)
	assert.ErrorIs(t, err, errFull)
	for _, room := range []int{0, 1} {
		_, err := smallKit(t).Write(context.Background(), withRoomFor(room), unwatched)
		assert.ErrorIs(t, err, errFull, "of audio, with room for %d files", room)
	}
}
