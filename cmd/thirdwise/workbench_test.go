package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The workbench is one file of at most eight megabytes, a practice page one of at
// most three.
func TestPagesAreOneFileEach(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bench.html")
	r := thirdwise("workbench", "-o", file)
	require.Equal(t, done, r.status, r.stderr)
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.LessOrEqual(t, len(page), 8<<20)
	assert.Contains(t, string(page), "Content-Security-Policy")
	assert.NotRegexp(t, `(src|href)="?https?:`, string(page))
	assert.Equal(t, string(page), thirdwise("workbench", "-o", "-").stdout)

	practice := render(t, t.TempDir())["small.html"]
	assert.NotEmpty(t, practice)
	assert.LessOrEqual(t, len(practice), 3<<20)
	assert.Equal(t, wrongCommand, thirdwise("workbench", "-o", "-", "--open").status)
	missing := filepath.Join(t.TempDir(), "missing", "bench.html")
	r = thirdwise("workbench", "-o", missing)
	assert.Equal(t, wrong, r.status)
	assert.Equal(t, "thirdwise: "+missing+" was not written: no such file or directory\n", r.stderr)
}
