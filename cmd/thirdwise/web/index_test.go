package web_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/index"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/place"
)

// folderOfKits writes what the page over kits reads, of kits in some keys and positions.
func folderOfKits(t *testing.T, keys, positions []string) string {
	folder := t.TempDir()
	for _, key := range keys {
		for _, position := range positions {
			name := fmt.Sprintf("gate-%s-%s", key[:1], position)
			within := filepath.Join(folder, name)
			require.NoError(t, os.Mkdir(within, 0o777))
			require.NoError(t, os.WriteFile(filepath.Join(within, name+".html"), []byte("<title>A kit</title>"), 0o666))
			f, err := os.Create(filepath.Join(within, kit.ManifestName))
			require.NoError(t, err)
			require.NoError(t, kit.WriteJSON(f, kit.Manifest{
				Software:    kit.Software,
				Description: kit.Description{Title: "Gate", Key: key, Position: position, Tempos: []int{60}},
				Files:       []kit.File{{Name: name + ".html", Kind: kit.KindPage}},
			}))
			require.NoError(t, f.Close())
		}
	}
	require.NoError(t, index.Write(&place.Drafts{}, folder))
	return filepath.Join(folder, index.Name)
}

// Tracks are called what a student would say, in the words of the practice page, tempo
// by tempo.
func TestThePageOverKitsNamesTracksInWords(t *testing.T) {
	folder := t.TempDir()
	within := filepath.Join(folder, "gate")
	require.NoError(t, os.Mkdir(within, 0o777))
	f, err := os.Create(filepath.Join(within, kit.ManifestName))
	require.NoError(t, err)
	m := kit.Manifest{Software: kit.Software, Description: kit.Description{Title: "Gate", Key: "C major", Position: "free", Tempos: []int{60, 80}}}
	for _, tempo := range []int{60, 80} {
		for _, mix := range score.Mixes() {
			m.Files = append(m.Files, kit.File{Name: fmt.Sprintf("gate-%03d-%s.wav", tempo, mix), Kind: kit.KindAudio, Tempo: tempo, Mix: mix.String()})
		}
	}
	m.Files = append(m.Files, kit.File{Name: "gate-climb.wav", Kind: kit.KindAudio, Climb: true, Mix: score.Full.String()})
	require.NoError(t, kit.WriteJSON(f, m))
	require.NoError(t, f.Close())
	require.NoError(t, index.Write(&place.Drafts{}, folder))
	b := visit(t, filepath.Join(folder, index.Name), "")
	const mixes = "all parts, without the guide, guide and click, click alone, chords alone, upper voice alone, lower voice alone, bass alone, groove alone, to loop, in turns"
	assert.Equal(t, []string{"60: " + mixes, "80: " + mixes, "climb: all parts"}, evaluate[[]string](b,
		`[...document.querySelectorAll("td div")].map((row) => row.querySelector("span").innerText + ": " + [...row.querySelectorAll("a")].map((a) => a.innerText).join(", "))`))
	assert.Contains(t, b.text("thead"), "Tracks")
	assert.Equal(t, "all parts, 80", evaluate[string](b, `document.querySelector('a[href$="080-full.wav"]').ariaLabel`))
	assert.Equal(t, "whole neck", evaluate[string](b, `document.querySelector("[data-position]").dataset.position`))
	for _, width := range []int64{320, 390, 768, 1440} {
		for _, size := range []string{"100%", "200%"} {
			b.do(chromedp.EmulateViewport(width, 844))
			b.script(fmt.Sprintf("document.documentElement.style.fontSize = %q", size))
			assert.LessOrEqual(t, evaluate[int64](b, "document.documentElement.scrollWidth"), width, size)
		}
	}
}

// Who finds a kit, opens its page and comes back finds the kits that were chosen, and
// the fields as they were; so does who keeps the address.
func TestThePageOverKitsKeepsWhatIsChosen(t *testing.T) {
	file := folderOfKits(t, []string{"C major", "G major", "D major"}, []string{"10", "5", "open"})
	b := visit(t, file, "")
	state := func() string {
		return evaluate[string](b, `[...document.querySelectorAll("select")].map((s) => s.value).join() + ": " + document.getElementById("count").innerText
			+ ", " + [...document.querySelectorAll("tbody tr")].filter((row) => !row.hidden).length + " shown"`)
	}
	require.Equal(t, ",,,: 9 kits, 9 shown", state())
	assert.NotContains(t, b.text("table"), "Tracks", "there are none")
	assert.Equal(t, "open 5 10 open 5 10 open 5 10", evaluate[string](b,
		`[...document.querySelectorAll("tbody tr")].map((row) => row.dataset.position).join(" ")`), "up the neck in each key")
	choose := func(name, value string) {
		b.script(fmt.Sprintf(`
			const select = document.querySelector('[name="%s"]');
			select.value = %q;
			select.dispatchEvent(new Event("input", { bubbles: true }));`, name, value))
	}
	choose("key", "G major")
	choose("position", "5")
	const chosen = "G major,5,,: 1 kit, 1 shown"
	require.Equal(t, chosen, state())
	b.do(chromedp.Click(chromedp.CSS("tbody tr:not([hidden]) a")))
	b.until(`document.title === "A kit"`)
	b.script("history.back()")
	b.until(`document.querySelector("select") !== null`)
	assert.Equal(t, chosen, state())
	b.do(chromedp.Navigate("file://" + file + "#key=D+major&position=none+such"))
	b.until(`document.querySelector("select").value === "D major"`)
	assert.Equal(t, "D major,,,: 3 kits, 3 shown", state())
}
