package kit_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/place"
	"thirdwise/synth/audiofile"
)

// The size is one that the kit stays within, but not by far where it is audio.
func TestAKitTakesWhatItsSizeSays(t *testing.T) {
	for _, container := range []audiofile.Container{audiofile.WAV, audiofile.FLAC} {
		k := smallKit(t)
		k.Format.Container = container
		k.Score.Passes = 20
		size, err := k.Size()
		require.NoError(t, err)
		files, _, err := k.Publish(context.Background(), &place.Drafts{}, t.TempDir(), unwatched)
		require.NoError(t, err)
		assert.Len(t, files, size.Files)
		var seconds float64
		var bytes int64
		for _, f := range files {
			bytes += f.Bytes
			if f.Kind == kit.KindAudio {
				seconds += f.Seconds
			}
		}
		assert.GreaterOrEqual(t, size.Bytes, bytes)
		assert.InDelta(t, seconds, size.Seconds, 12)
	}
}

func TestAKitThatIsTooLargeIsRefusedWithARemedy(t *testing.T) {
	long := "title: Long\nkey: C major\nchart: |\n" + strings.Repeat("  | C | Am | F | G |\n", 300) + "strum: D U D U D U D U D U D U D U D U\n"
	for name, row := range map[string]struct {
		change  func(k *kit.Kit)
		message string
	}{
		"many notes":  {func(k *kit.Kit) { k.Score = arrangetest.Score(t, long) }, "notes, and a kit can have 50000; write a shorter chart"},
		"many passes": {func(k *kit.Kit) { k.Score.Passes = 100; k.Score.Tempos = hundreds() }, "notes to play at all its tempos, and a kit can have 250000"},
		"many tracks": {func(k *kit.Kit) { k.Score.Tempos = hundreds(); k.Mixes = score.Mixes()[:2] }, "the kit would have 402 tracks, and it can have 400"},
		"long files": {func(k *kit.Kit) {
			k.Score.Passes, k.Score.Tempos, k.Score.CountIn = 100, []int{20}, 5000
		}, "hours, and a WAV file holds 4 GiB; ask for --format flac"},
	} {
		k := smallKit(t)
		row.change(&k)
		_, err := k.Size()
		var large *kit.TooLargeError
		require.ErrorAs(t, err, &large, name)
		assert.Contains(t, err.Error(), row.message, name)
	}
}

// hundreds returns two hundred tempos and one more.
func hundreds() []int {
	var tempos []int
	for tempo := 100; tempo <= 300; tempo++ {
		tempos = append(tempos, tempo)
	}
	return tempos
}

func TestKitsThatFindNoRoomAreRefused(t *testing.T) {
	folder := t.TempDir()
	free, known := place.Free(folder)
	if !known {
		t.Skip("the system does not tell what is free")
	}
	require.NoError(t, kit.CheckRoom(folder, []string{"small"}, []kit.Size{{Bytes: 1000}}))
	err := kit.CheckRoom(folder, []string{"small", "other"}, []kit.Size{{Bytes: free / 2}, {Bytes: free}})
	assert.ErrorContains(t, err, "are missing")
}
