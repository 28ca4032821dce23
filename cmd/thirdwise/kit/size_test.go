package kit_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/machine"
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
		"many notes":  {func(k *kit.Kit) { k.Score = arrangetest.Score(t, long) }, "notes, and a kit can have 36000; write a shorter chart"},
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
	free, known := machine.FreeDisk(folder)
	if !known {
		t.Skip("the system does not tell what is free")
	}
	require.NoError(t, kit.Fit(folder, []string{"small"}, []kit.Size{{Bytes: 1000}}))
	err := kit.Fit(folder, []string{"small", "other"}, []kit.Size{{Bytes: free / 2}, {Bytes: free}})
	assert.ErrorContains(t, err, "are missing")
}

// A kit that alone needs more memory, or more open files, than there are is refused,
// and is told what is missing.
func TestAKitThatTheMachineCannotHoldIsRefused(t *testing.T) {
	if _, known := machine.FreeMemory(); known {
		err := kit.Fit(t.TempDir(), []string{"vast"}, []kit.Size{{Alone: 1 << 50}})
		assert.ErrorContains(t, err, "the kit vast takes about 1125899.9 GB of memory")
		assert.ErrorContains(t, err, "are missing")
	}
	if limit, known := machine.OpenFiles(); known {
		err := kit.Fit(t.TempDir(), []string{"vast"}, []kit.Size{{Tracks: limit}})
		assert.ErrorContains(t, err, fmt.Sprintf("has %d tracks, which are written side by side", limit))
		assert.ErrorContains(t, err, ": 24 are missing")
	}
}

// Large kits are made one after another, small ones side by side.
func TestKitsAreMadeAtOnceWithinTheMemory(t *testing.T) {
	small, large := kit.Size{Memory: 20e6, Tracks: 6}, kit.Size{Memory: 140e6, Tracks: 6}
	assert.Equal(t, 1, kit.AtOnce([]kit.Size{small, small, large}))
	assert.Equal(t, 8, kit.AtOnce(slices.Repeat([]kit.Size{small}, 50)))
	assert.Equal(t, 2, kit.AtOnce([]kit.Size{small, small}))
	assert.Equal(t, 1, kit.AtOnce([]kit.Size{{Memory: 1 << 40}}))
}

// What kits have in common finds what they leave of the memory: all that a song at three
// tempos needs beside small kits, and nothing beside large ones.
func TestWhatKitsHaveInCommonFindsRoomBesideThem(t *testing.T) {
	small, large := kit.Size{Memory: 20e6, Tracks: 6}, kit.Size{Memory: 170e6, Tracks: 6}
	const threeTempos = 3 * 108 * 44100 * 2 * 4 // bytes
	assert.Greater(t, kit.InCommon([]kit.Size{small, small}, 2), threeTempos)
	assert.Less(t, kit.InCommon(slices.Repeat([]kit.Size{{Memory: 50e6}}, 9), 2), threeTempos)
	assert.Zero(t, kit.InCommon([]kit.Size{small, large}, 1))
}
