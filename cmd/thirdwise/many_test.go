package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/index"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/place"
)

func TestAKitThatIsUnchangedIsNotMadeAgain(t *testing.T) {
	folder, path := t.TempDir(), fileWith(t, "small.yaml", small)
	track := filepath.Join(folder, "small", "small-180-click.wav")
	state := func(options ...string) string {
		r := thirdwise(append([]string{"render", "--json", "--mix", "click", "-o", folder, path}, options...)...)
		require.Equal(t, done, r.status, r.stderr)
		_, after, _ := strings.Cut(r.stdout, `"state":"`)
		name, _, _ := strings.Cut(after, `"`)
		return name
	}
	assert.Equal(t, "made", state())
	whole := contents(t, filepath.Join(folder, "small"))
	assert.Equal(t, "unchanged", state())
	assert.Equal(t, "made", state("--again"))
	assert.Equal(t, "made", state("--tempo", "200"), "another option")
	assert.Equal(t, "made", state(), "and back")
	assert.Equal(t, whole, contents(t, filepath.Join(folder, "small")))
	require.NoError(t, os.WriteFile(track, []byte("RIFF"), 0o666))
	assert.Equal(t, "made", state(), "a file that is not whole")
	require.NoError(t, os.Remove(track))
	assert.Equal(t, "made", state(), "a file that is missing")
	require.NoError(t, os.WriteFile(path, []byte(small+"count-in: 2\n"), 0o666))
	assert.Equal(t, "made", state(), "another exercise")
	require.NoError(t, os.WriteFile(path, []byte("# a comment\n"+small+"count-in: 2\n"), 0o666))
	assert.Equal(t, "unchanged", state(), "the same, otherwise written")
}

// Runs that make a share each make between them what one makes.
func TestSharesMakeTogetherWhatOneRunMakes(t *testing.T) {
	exercises := t.TempDir()
	for i, chart := range []string{"| C | G |", "| F | C |"} {
		text := strings.Replace(majorSteps, "| C G7 |", chart, 1)
		require.NoError(t, os.WriteFile(filepath.Join(exercises, fmt.Sprintf("steps-%d.yaml", i)), []byte(text), 0o666))
	}
	render := func(folder, key string, options ...string) {
		r := thirdwise(append([]string{"render", "--mix", "none", "--key", key, "-o", folder, exercises}, options...)...)
		require.Equal(t, done, r.status, r.stderr)
	}
	for _, row := range []struct {
		key          string
		kits, shares int
	}{
		{"all", 2 * 12, 5},
		{"D", 2, 3}, // one kit a share, and one that has none
	} {
		whole, shared := t.TempDir(), t.TempDir()
		render(whole, row.key)
		for share := row.shares; share >= 1; share-- {
			render(shared, row.key, "--shard", fmt.Sprintf("%d/%d", share, row.shares))
		}
		names := entries(t, whole)
		assert.Len(t, names, row.kits+1, "kits, and the page over them")
		assert.Equal(t, names, entries(t, shared))
		for _, name := range names {
			if name == index.Name {
				assert.Equal(t, pageOver(t, whole), pageOver(t, shared))
				continue
			}
			assert.Equal(t, contents(t, filepath.Join(whole, name)), contents(t, filepath.Join(shared, name)), name)
		}
	}
}

// pageOver returns the page over the kits in a folder.
func pageOver(t *testing.T, folder string) string {
	t.Helper()
	page, err := os.ReadFile(filepath.Join(folder, index.Name))
	require.NoError(t, err)
	return string(page)
}

// A kit that is made anew by itself has other tracks, to which the page leads.
func TestThePageOverKitsKnowsAKitThatIsMadeLater(t *testing.T) {
	folder, path := t.TempDir(), fileWith(t, "small.yaml", small)
	render := func(options ...string) {
		r := thirdwise(append([]string{"render", "--mix", "click", "-o", folder, path}, options...)...)
		require.Equal(t, done, r.status, r.stderr)
	}
	render()
	assert.Equal(t, []string{"small"}, entries(t, folder), "one kit needs no page")
	render("--density", "0,100")
	assert.Contains(t, pageOver(t, folder), "small/small-180-click.wav")
	render("--tempo", "200")
	assert.Contains(t, pageOver(t, folder), "small/small-200-click.wav")
	assert.NotContains(t, pageOver(t, folder), "small/small-180-click.wav")
}

// Kits of a run have the bytes of kits that were made alone, though they share what
// accompanies the line.
func TestKitsOfOneRunAreThoseThatAreMadeAlone(t *testing.T) {
	path := fileWith(t, "small.yaml", strings.Replace(small, "[180]", "[200, 240]\nclimb: 20\nbass: root-fifth", 1))
	for _, options := range [][]string{{"--mix", "full,backing,loop,turns"}, {"--mix", "full", "--dry", "--format", "flac"}} {
		together, alone := t.TempDir(), t.TempDir()
		render := func(folder, densities string) {
			r := thirdwise(append([]string{"render", "--density", densities, "-o", folder, path}, options...)...)
			require.Equal(t, done, r.status, r.stderr)
		}
		render(together, "20,100")
		for _, density := range []string{"20", "100"} {
			name := "small-density-" + density
			render(alone, density)
			assert.Equal(t, contents(t, filepath.Join(alone, name)), contents(t, filepath.Join(together, name)), name)
		}
	}
}

func TestAMistakeInOneExerciseDoesNotKeepTheOthers(t *testing.T) {
	well, ill, folder := fileWith(t, "small.yaml", small), fileWith(t, "ill.yaml", faulty), filepath.Join(t.TempDir(), "kits")
	r := thirdwise("render", "--mix", "click", "-o", folder, ill, well, "missing.yaml")
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stderr, ill+":4:9: ")
	assert.Contains(t, r.stderr, "missing.yaml: the file cannot be read")
	assert.Contains(t, r.stderr, "not made: "+ill+" (4 mistakes), missing.yaml (1 mistake)")
	assert.Equal(t, []string{"small"}, entries(t, folder))
}

func TestThePageOverKitsLeadsToTheirFiles(t *testing.T) {
	folder := t.TempDir()
	path := fileWith(t, "bits & <pieces>.yaml", strings.Replace(small, "Small Steps", "Bits & <Pieces>", 1))
	require.Equal(t, done, thirdwise("render", "--mix", "click", "--key", "all", "--tempo", "400", "-o", folder, path).status)
	text := pageOver(t, folder)
	assert.Equal(t, 12, strings.Count(text, "<tr data-key"))
	assert.Contains(t, text, `<tr data-key="B♭ major" data-position="`)
	assert.Contains(t, text, "Bits &amp; &lt;Pieces&gt;")
	for _, part := range strings.Split(text, `href="`)[1:] {
		target, _, _ := strings.Cut(part, `"`)
		assert.FileExists(t, filepath.Join(folder, filepath.FromSlash(target)))
	}
	require.NoError(t, os.WriteFile(filepath.Join(folder, "index.html"), []byte("my own page"), 0o666))
	r := thirdwise("render", "--mix", "none", "--key", "all", "-o", folder, path)
	assert.Equal(t, done, r.status)
	assert.Contains(t, r.stderr, "is a page that this program has not written")
	assert.Equal(t, "my own page", pageOver(t, folder))
}

func TestProgramsAreToldOfEachKit(t *testing.T) {
	folder := t.TempDir()
	well, ill := fileWith(t, "small.yaml", small), fileWith(t, "ill.yaml", faulty)
	r := thirdwise("render", "--json", "--mix", "click", "-o", folder, ill, well)
	assert.Equal(t, wrong, r.status)
	type record struct {
		Kit, Exercise, Key, State, Error string
		Files                            int
	}
	var records []record
	for line := range strings.Lines(r.stdout) {
		var one record
		require.NoError(t, json.Unmarshal([]byte(line), &one))
		records = append(records, one)
	}
	require.Len(t, records, 2)
	assert.Equal(t, record{Exercise: ill, State: "failed", Error: "4 mistakes"}, records[0])
	assert.Equal(t, folder+"/small", records[1].Kit)
	assert.Equal(t, "C major", records[1].Key)
	assert.Equal(t, "made", records[1].State)
	assert.Equal(t, len(entries(t, folder+"/small")), records[1].Files)
}

// coursework writes an exercise of sixteen bars to make a course of.
func coursework(b *testing.B) string {
	path := filepath.Join(b.TempDir(), "harbour-steps.yaml")
	require.NoError(b, os.WriteFile(path, []byte(`title: Harbour Steps
key: C major
chart: |
  [A] | C | Am | Dm | G | C | Em | F | G |
  [B] | F | C | Dm | Am | F | G | C | C |
`), 0o666))
	return path
}

// A course of the size that a publisher makes: an exercise of sixteen bars in all keys
// and positions, at three tempos, in two mixes. Take -benchtime 1x.
func BenchmarkCourse(b *testing.B) {
	exercise := coursework(b)
	boundMemory()
	var seconds float64
	var highest uint64
	kits := 0
	for b.Loop() {
		folder := b.TempDir()
		status := run(context.Background(), []string{"render", "--key", "all", "--position", "all", "--mix", "full,backing", "-o", folder, exercise},
			nil, io.Discard, io.Discard, &place.Drafts{})
		require.Equal(b, done, status)
		for _, name := range entries(b, folder) {
			m, err := kit.ReadManifest(filepath.Join(folder, name))
			if err != nil {
				continue // the page over the kits
			}
			kits++
			for _, f := range m.Files {
				if f.Kind == kit.KindAudio {
					seconds += f.Seconds
				}
			}
		}
		var memory runtime.MemStats
		runtime.ReadMemStats(&memory)
		highest = max(highest, memory.Sys)
	}
	b.ReportMetric(float64(kits)/b.Elapsed().Seconds(), "kits/s")
	b.ReportMetric(seconds/b.Elapsed().Seconds(), "x-real-time")
	b.ReportMetric(float64(highest)/(1<<20), "MiB-peak")
}

// All of the same course but its audio: what is arranged, engraved and packed.
func BenchmarkPaper(b *testing.B) {
	exercise := coursework(b)
	b.ReportAllocs()
	kits := 0
	for b.Loop() {
		folder := b.TempDir()
		status := run(context.Background(), []string{"render", "--key", "all", "--position", "all", "--mix", "none", "-o", folder, exercise},
			nil, io.Discard, io.Discard, &place.Drafts{})
		require.Equal(b, done, status)
		kits += len(entries(b, folder)) - 1 // a page over them
	}
	b.ReportMetric(b.Elapsed().Seconds()*1000/float64(kits), "ms/kit")
}
