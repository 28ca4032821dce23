package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/go-audio/wav"
	"github.com/mewkiz/flac"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
)

// render renders small with options into a folder and returns the files of its
// kit.
func render(t *testing.T, folder string, options ...string) map[string]string {
	t.Helper()
	path := fileWith(t, "small.yaml", small)
	r := thirdwise(append([]string{"render", "-o", folder, path}, options...)...)
	require.Equal(t, done, r.status, r.stderr)
	kits := entries(t, folder)
	require.Len(t, kits, 1)
	return contents(t, filepath.Join(folder, kits[0]))
}

// contents returns the files of a folder by name.
func contents(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := map[string]string{}
	for _, name := range entries(t, folder) {
		text, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		files[name] = string(text)
	}
	return files
}

// sounds returns the names of the WAV files among some.
func sounds(files map[string]string) []string {
	names := slices.Sorted(maps.Keys(files))
	return slices.DeleteFunc(names, func(name string) bool { return filepath.Ext(name) != ".wav" })
}

func TestAKitHoldsTheFilesThatItsNameAndTemposSay(t *testing.T) {
	path := fileWith(t, "Porch Light.yaml", small)
	folder := filepath.Join(t.TempDir(), "kits")
	r := thirdwise("render", "--tempo", "90,200", "-o", folder, path)
	require.Equal(t, done, r.status, r.stderr)
	want := []string{
		"kit.json",
		"porch-light-090-backing.wav", "porch-light-090-full.wav", "porch-light-090-guide.wav",
		"porch-light-090-tab.vtt", "porch-light-090.mid", "porch-light-090.vtt",
		"porch-light-200-backing.wav", "porch-light-200-full.wav", "porch-light-200-guide.wav",
		"porch-light-200-tab.vtt", "porch-light-200.mid", "porch-light-200.vtt",
		"porch-light-chords.pdf", "porch-light-fill-in.pdf", "porch-light-tab.txt", "porch-light.html", "porch-light.mid", "porch-light.musicxml", "porch-light.pdf", "porch-light.svg",
	}
	assert.Equal(t, []string{"porch-light"}, entries(t, folder))
	assert.Equal(t, want, entries(t, filepath.Join(folder, "porch-light")))
	var listed []string
	for line := range strings.Lines(r.stdout) {
		assert.Equal(t, filepath.Join(folder, "porch-light"), filepath.Dir(strings.TrimSpace(line)))
		listed = append(listed, filepath.Base(strings.TrimSpace(line)))
	}
	assert.ElementsMatch(t, want, listed, "one line a file")
	assert.Empty(t, r.stderr)
}

func TestEachMixCanBeAskedFor(t *testing.T) {
	files := render(t, t.TempDir(), "--mix", "click,chords,guide-upper", "--mix", "guide-lower")
	assert.Equal(t, []string{
		"small-180-chords.wav", "small-180-click.wav", "small-180-guide-lower.wav", "small-180-guide-upper.wav",
	}, sounds(files))
}

func TestTheManifestDescribesTheFilesAsTheyAre(t *testing.T) {
	files := render(t, t.TempDir(), "--rate", "48000", "--depth", "24")
	var m kit.Manifest
	require.NoError(t, json.Unmarshal([]byte(files[kit.ManifestName]), &m))
	assert.Equal(t, kit.Software, m.Software)
	assert.Equal(t, "Small Steps", m.Title)
	assert.Equal(t, "4/4", m.Meter)
	assert.Equal(t, []int{180}, m.Tempos)
	assert.Len(t, m.Files, len(files)-1, "all but the manifest itself")
	begins := map[string]string{ // by what their names end with
		".wav": "RIFF", ".mid": "MThd", ".vtt": "WEBVTT", ".musicxml": "<?xml ", ".txt": "Small Steps\n",
		".pdf": "%PDF-", ".svg": "<svg ", ".html": "<!doctype html>",
	}
	kinds := map[kit.Kind]int{}
	for _, f := range m.Files {
		kinds[f.Kind]++
		text, ok := files[f.Name]
		require.True(t, ok, f.Name)
		sum := sha256.Sum256([]byte(text))
		assert.Equal(t, hex.EncodeToString(sum[:]), f.SHA256, f.Name)
		assert.EqualValues(t, len(text), f.Bytes, f.Name)
		require.Contains(t, begins, filepath.Ext(f.Name))
		assert.True(t, strings.HasPrefix(text, begins[filepath.Ext(f.Name)]), f.Name)
		if f.Kind != kit.KindAudio {
			continue
		}
		sound := wav.NewDecoder(strings.NewReader(text))
		require.NoError(t, sound.FwdToPCM())
		assert.InDelta(t, float64(sound.PCMLen())/(2*3*48000), f.Seconds, 1e-9, f.Name)
		require.NotNil(t, f.Sound)
		assert.EqualValues(t, 48000, sound.SampleRate)
		assert.EqualValues(t, 24, sound.BitDepth)
		assert.Equal(t, 48000, f.Rate)
		assert.Equal(t, 24, f.Depth)
		assert.LessOrEqual(t, *f.TruePeak, -1.0)
	}
	assert.Equal(t, map[kit.Kind]int{
		kit.KindAudio: 3, kit.KindPerformance: 1, kit.KindChordCaptions: 1, kit.KindTabCaptions: 1,
		kit.KindScore: 1, kit.KindNotation: 1, kit.KindTab: 1, kit.KindSheet: 2, kit.KindChordChart: 1, kit.KindFillIn: 1, kit.KindPage: 1,
	}, kinds)
}

// rich is an exercise that has all that a kit can hold.
const rich = `title: Rich
key: A minor
chart: "[A] | Am | E7 |"
passes: 2
tempos: [350, 400]
climb: 50
bass: walking
groove: shaker
`

func TestAKitOfAllMixesInFLACIsDescribedAsItIs(t *testing.T) {
	folder := t.TempDir()
	var mixes []string
	for _, mix := range score.Mixes() {
		mixes = append(mixes, mix.String())
	}
	r := thirdwise("render", "--format", "flac", "--mix", strings.Join(mixes, ","), "-o", folder, fileWith(t, "rich.yaml", rich))
	require.Equal(t, done, r.status, r.stderr)
	files := contents(t, filepath.Join(folder, "rich"))
	var m kit.Manifest
	require.NoError(t, json.Unmarshal([]byte(files[kit.ManifestName]), &m))
	assert.Len(t, m.Files, len(files)-1)
	assert.Len(t, files, 2*(len(mixes)+3)+4+7+1+1, "two tempos, the climb, what there is once, the page, the manifest")
	seconds := map[string]float64{}
	for _, f := range m.Files {
		sum := sha256.Sum256([]byte(files[f.Name]))
		assert.Equal(t, hex.EncodeToString(sum[:]), f.SHA256, f.Name)
		assert.EqualValues(t, len(files[f.Name]), f.Bytes, f.Name)
		seconds[f.Name] = f.Seconds
		if f.Kind == kit.KindAudio {
			sound, err := flac.New(strings.NewReader(files[f.Name]))
			require.NoError(t, err)
			assert.InDelta(t, float64(sound.Info.NSamples)/44100, f.Seconds, 1e-9, f.Name)
		}
	}
	// Two bars of four beats at 400 beats per minute; with two passes and a
	// count-in, five, after half a second of silence; climbing from 350 to 400, three bars at each.
	assert.InDelta(t, 1.2, seconds["rich-400-loop.flac"], 0.001)
	assert.InDelta(t, 3.5, seconds["rich-400.mid"], 0.001)
	assert.InDelta(t, 0.5+3*(240.0/350+240.0/400), seconds["rich-climb.mid"], 0.001)
}

// The sizes are those of ISO 216 (210 by 297 mm) and of ANSI/ASME Y14.1 (8½ by
// 11 inches), in points of 1/72 inch as PDF counts.
func TestTheSheetHasTheSizeAskedFor(t *testing.T) {
	assert.Contains(t, render(t, t.TempDir(), "--mix", "click")["small.pdf"], "/MediaBox [0 0 595.28 841.89]")
	assert.Contains(t, render(t, t.TempDir(), "--mix", "click", "--paper", "letter")["small.pdf"], "/MediaBox [0 0 612.00 792.00]")
}

func TestLoudnessAndRoomAreTheOnesAskedFor(t *testing.T) {
	measured := func(options ...string) float64 {
		var m kit.Manifest
		files := render(t, t.TempDir(), append([]string{"--mix", "full"}, options...)...)
		require.NoError(t, json.Unmarshal([]byte(files[kit.ManifestName]), &m))
		return *m.Files[0].Loudness
	}
	assert.InDelta(t, -30, measured("--loudness", "-30"), 0.05)
	assert.InDelta(t, -30, measured("--loudness", "-30", "--dry"), 0.05)
	assert.NotEqual(t, render(t, t.TempDir(), "--mix", "full"), render(t, t.TempDir(), "--mix", "full", "--dry"))
}

func TestTheManifestDescribesBarsAndLine(t *testing.T) {
	var m kit.Manifest
	require.NoError(t, json.Unmarshal([]byte(render(t, t.TempDir())[kit.ManifestName]), &m))
	require.Len(t, m.Bars, 2)
	assert.Equal(t, kit.ChordRecord{Tick: 1920, Length: 1920, Symbol: "G7", Numeral: "V7", Grip: m.Bars[1].Chords[0].Grip}, m.Bars[1].Chords[0])
	arrivals := map[int]kit.ThirdRecord{}
	for _, third := range m.Line {
		if third.Role == "arrival" {
			arrivals[third.Tick] = third
		}
	}
	assert.Len(t, arrivals, 2, "one on the first tick of each chord")
	assert.Contains(t, arrivals, 0)
	assert.Contains(t, arrivals, 1920)
}

func TestTheSameExerciseGivesTheSameBytesOnAnyNumberOfCores(t *testing.T) {
	first := render(t, t.TempDir())
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	assert.True(t, maps.Equal(first, render(t, t.TempDir())))
}

func TestAKitOfTheSameExerciseIsReplacedWhole(t *testing.T) {
	folder := t.TempDir()
	before := render(t, folder, "--tempo", "200,220", "--mix", "click")
	assert.Contains(t, before, "small-220-click.wav")
	after := render(t, folder, "--mix", "click")
	assert.Equal(t, []string{"small-180-click.wav"}, sounds(after))
	assert.Equal(t, []string{"small"}, entries(t, folder), "nothing is left beside it")
}

func TestATransposedKitHasAFolderOfItsOwn(t *testing.T) {
	folder := t.TempDir()
	files := render(t, folder, "--key", "Bb", "--mix", "click")
	assert.Contains(t, files, "small-b-flat-major-180-click.wav")
	var m kit.Manifest
	require.NoError(t, json.Unmarshal([]byte(files[kit.ManifestName]), &m))
	assert.Equal(t, "Bb major", m.Key)
	assert.Equal(t, "Bb", m.Bars[0].Chords[0].Symbol)
	assert.Equal(t, "F7", m.Bars[1].Chords[0].Symbol)
}

func TestAnExerciseFromStandardInputIsNamedByItsTitle(t *testing.T) {
	folder := t.TempDir()
	r := thirdwiseWith(small, "render", "--mix", "click", "-o", folder, "-")
	assert.Equal(t, done, r.status, r.stderr)
	assert.Equal(t, []string{"small-steps"}, entries(t, folder))
}

func TestTwoExercisesOfOneNameAreAnErrorBeforeAnythingIsWritten(t *testing.T) {
	one, two, folder := fileWith(t, "same.yaml", small), fileWith(t, "Same.yml", small), filepath.Join(t.TempDir(), "kits")
	r := thirdwise("render", "-o", folder, one, two)
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stderr, one)
	assert.Contains(t, r.stderr, two)
	assert.NoDirExists(t, folder)
}

func TestAnOutputPlaceThatCannotTakeAKitIsNamed(t *testing.T) {
	path, folder := fileWith(t, "small.yaml", small), t.TempDir()
	inTheWay := filepath.Join(folder, "file")
	require.NoError(t, os.WriteFile(inTheWay, []byte("mine"), 0o666))
	require.NoError(t, os.MkdirAll(filepath.Join(folder, "mine", "small", "photos"), 0o777))
	for _, output := range []string{inTheWay, filepath.Join(inTheWay, "kits"), filepath.Join(folder, "mine"), "/proc/kits", "/dev/null"} {
		r := thirdwise("render", "-o", output, path)
		assert.Equal(t, wrong, r.status, output)
		assert.Contains(t, r.stderr, output)
		assert.Empty(t, r.stdout, output)
	}
	assert.Equal(t, []string{"file", "mine"}, entries(t, folder))
	assert.Equal(t, []string{"photos"}, entries(t, filepath.Join(folder, "mine", "small")))
}
