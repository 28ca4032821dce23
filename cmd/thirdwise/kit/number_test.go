package kit_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/place"
)

// Harbour Ladder has repeats, and a bar that stands twice on the sheet, since the line
// ends otherwise the second time: its bars have the same numbers in every file, those of
// the chart, by which the exercise names them too.
func TestABarHasOneNumberEverywhere(t *testing.T) {
	k, folder := smallKit(t), t.TempDir()
	k.Score = arrangetest.Named(t, "harbour-ladder")
	k.Score.Tempos, k.Score.Passes = []int{400}, 2
	k.Mixes = []score.Mix{score.ClickAlone}
	_, _, err := k.Publish(context.Background(), &place.Drafts{}, folder, unwatched)
	require.NoError(t, err)
	read := func(ending string) string {
		text, err := os.ReadFile(filepath.Join(folder, "small", ending))
		require.NoError(t, err)
		return string(text)
	}
	all := func(pattern, text string) (found []string) {
		for _, match := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
			found = append(found, match[1])
		}
		return found
	}
	bars := []string{"1", "2", "3", "4", "5", "6", "6 (2nd time)", "7", "8", "9", "10", "11"}
	assert.Equal(t, append(bars, bars...), all(`<measure number="([^"]*)"`, read("small.musicxml")), "guide and chords")
	assert.Equal(t, []string{"1", "3", "7", "10"}, all(`(?m)^(\d+) *\[`, read("small-tab.txt")), "where sections begin")
	onSheet := map[string]bool{}
	for _, number := range all(`data-bar="([^"]*)"`, read("small.svg")) {
		onSheet[number] = true
	}
	assert.Len(t, onSheet, 10, "bar 9 has no third")

	var manifest kit.Manifest
	require.NoError(t, json.Unmarshal([]byte(read(kit.ManifestName)), &manifest))
	var labels []string
	times := map[int]int{}
	for range 2 {
		for i, bar := range manifest.Bars {
			assert.Equal(t, i+1, bar.Played)
			assert.True(t, onSheet[strconv.Itoa(bar.Number)] || bar.Number == 9)
			label := strconv.Itoa(bar.Number)
			if times[bar.Number]++; times[bar.Number] > 1 {
				label = fmt.Sprintf("%d (%s time)", bar.Number, []string{2: "2nd", 3: "3rd", 4: "4th", 5: "5th", 6: "6th"}[times[bar.Number]])
			}
			labels = append(labels, label)
		}
	}
	assert.Equal(t, "1 (6th time)", labels[19+4])
	var captions []string
	for i, label := range all(`bar (.*)`, read("small-400.vtt")) {
		if i == 0 || label != captions[len(captions)-1] { // a cue a chord, and some bars have two
			captions = append(captions, label)
		}
	}
	assert.Equal(t, labels, captions)
	assert.Equal(t, labels, all(`bar ([0-9]+(?: \(\d+.. time\))?)`, read("small-400-click.wav")), "cue points")
}
