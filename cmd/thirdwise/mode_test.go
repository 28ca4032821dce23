package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/index"
	"thirdwise/cmd/thirdwise/kit"
)

// withMode builds the program with one mode more, added as DEVELOPERS.md says: a
// constant and a row in the table.
func withMode(t *testing.T, constant, row string) (program string) {
	t.Helper()
	folder := t.TempDir()
	table, err := filepath.Abs("../../theory/scale.go")
	require.NoError(t, err)
	text, err := os.ReadFile(table)
	require.NoError(t, err)
	edited := strings.Replace(string(text), "\tLocrian\n)", "\tLocrian\n\t"+constant+"\n)", 1)
	edited = strings.Replace(edited, "\n}\n\n// Modes returns", "\n\t"+constant+": "+row+",\n}\n\n// Modes returns", 1)
	require.Equal(t, 2, strings.Count(edited, constant))
	changed, overlay := filepath.Join(folder, "scale.go"), filepath.Join(folder, "overlay.json")
	require.NoError(t, os.WriteFile(changed, []byte(edited), 0o666))
	replaced, err := json.Marshal(map[string]any{"Replace": map[string]string{table: changed}})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(overlay, replaced, 0o666))
	program = filepath.Join(folder, "thirdwise.exe") // a name that every system runs
	out, err := exec.Command("go", "build", "-overlay", overlay, "-o", program, ".").CombinedOutput()
	require.NoError(t, err, string(out))
	return program
}

// Hungarian minor has two augmented seconds, and between them a stack of thirds
// that no chord symbol names (common practice: 1 2 ♭3 ♯4 5 ♭6 7).
func TestAnyScaleOfSevenDegreesCanBeAMode(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program")
	}
	program := withMode(t, "HungarianMinor", `{"hungarian minor", [7]int{0, 2, 3, 6, 7, 8, 11}, -3, true, nil}`)
	path := fileWith(t, "long-road.yaml", "title: Long Road\nkey: A hungarian minor\nchart: '| Am | B7b5 | 6 | E |'\ntempos: [200]\npasses: 1\nbass: walking\n")
	folder := t.TempDir()
	for _, args := range [][]string{
		{"check", path}, {"check", "--json", path}, {"show", path}, {"show", "--json", path},
		{"neck", "A", "hungarian", "minor"}, {"neck", "--json", "A", "hungarian", "minor"},
		{"render", "--mix", "none", "--key", "all", "-o", folder, path},
		{"render", "--mix", "full,guide", "-o", folder, path},
	} {
		out, err := exec.Command(program, args...).CombinedOutput()
		require.NoError(t, err, "%s\n%s", args, out)
		assert.NotEmpty(t, out)
	}
	kits := entries(t, folder)
	assert.Len(t, kits, 12+1+1, "in all keys, as written, and the page over them")
	for _, name := range kits {
		if name == index.Name {
			continue
		}
		m, err := kit.ReadManifest(filepath.Join(folder, name))
		require.NoError(t, err)
		assert.Contains(t, m.Key, "hungarian minor")
	}
}
