package index

import (
	"cmp"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/kit/place"
)

// A series of homework is kits of one title and key: their densities tell them apart, and
// stand in their order, in each position. Others are told by who they are for, capo and tuning;
// what is usual is not told.
func TestKitsOfOneTitleAreToldApart(t *testing.T) {
	folder := t.TempDir()
	guitar := []string{"E2", "A2", "D3", "G3", "B3", "E4"}
	for name, d := range map[string]kit.Description{
		"a": {Title: "Gate", Density: 100, Position: "2", Tuning: guitar}, "b": {Title: "Gate", Density: 25, Tuning: guitar}, "c": {Title: "Gate", Density: 0, Tuning: guitar},
		"d": {Title: "Hill", Density: 50, Tuning: guitar, By: "For Tom", Capo: 3}, "e": {Title: "Pond", Density: 50, Tuning: []string{"G4", "C4", "E4", "A4"}, Subtitle: "On four strings"},
		"f": {Title: "Road", Density: 50, Tuning: guitar},
	} {
		d.Key, d.Position, d.Tempos = "C major", cmp.Or(d.Position, "open"), []int{60}
		within := filepath.Join(folder, name)
		require.NoError(t, os.Mkdir(within, 0o777))
		f, err := os.Create(filepath.Join(within, kit.ManifestName))
		require.NoError(t, err)
		require.NoError(t, kit.WriteJSON(f, kit.Manifest{Software: kit.Software, Description: d, Files: []kit.File{{Name: "k.html", Kind: kit.KindPage}}}))
		require.NoError(t, f.Close())
	}
	require.NoError(t, Write(&place.Drafts{}, folder))
	written, err := os.ReadFile(filepath.Join(folder, Name))
	require.NoError(t, err)
	var rows []string
	for _, row := range regexp.MustCompile(`<th scope="row">(.*)</th><td class`).FindAllStringSubmatch(string(written), -1) {
		rows = append(rows, strings.NewReplacer("<small>", ", ", "</small>", "").Replace(row[1]))
	}
	require.Equal(t, []string{
		"Gate, density 0 %", "Gate, density 25 %", "Gate, density 100 %",
		"Hill, For Tom, capo 3", "Pond, On four strings, tuning G4 C4 E4 A4", "Road",
	}, rows)
	require.Contains(t, string(written), `<a href="f/k.html" aria-label="page, Road, C major">page</a>`, "who hears the links alone hears which is which")
}
