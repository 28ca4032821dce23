package course_test

import (
	"context"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/course"
)

func TestFoldersAndPatternsStandForTheExercisesInThem(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"b.yaml", "a.yml", "notes.txt", "deep/c.YAML", ".hidden/d.yaml", ".e.yaml", "[x].yaml"} {
		require.NoError(t, os.MkdirAll(filepath.Join(folder, filepath.Dir(name)), 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), nil, 0o666))
	}
	t.Chdir(folder)
	for _, row := range []struct{ args, want []string }{
		{[]string{"."}, []string{"[x].yaml", "a.yml", "b.yaml", filepath.Join("deep", "c.YAML")}},
		{[]string{"*.yaml"}, []string{".e.yaml", "[x].yaml", "b.yaml"}},
		{[]string{"[x].yaml"}, []string{"[x].yaml"}},
		{[]string{"b.yaml", "-", "missing.yaml"}, []string{"b.yaml", "-", "missing.yaml"}},
		{[]string{"./b.yaml", filepath.Join(folder, "b.yaml"), "b*.yaml", "deep", "."}, []string{"./b.yaml", filepath.Join("deep", "c.YAML"), "[x].yaml", "a.yml"}},
	} {
		files, err := course.Files(row.args)
		require.NoError(t, err)
		assert.Equal(t, row.want, files, row.args)
	}
	require.NoError(t, os.WriteFile("My Old Song.yaml", nil, 0o666))
	for _, args := range [][]string{{"My", "Old", "Song.yaml"}, {"b.yaml", "My", "Old", "Song.yaml", "a.yml"}} {
		_, err := course.Files(args)
		assert.ErrorContains(t, err, `stands in quotation marks: "My Old Song.yaml"`)
	}
	require.NoError(t, os.Symlink("deep", "link"))
	files, err := course.Files([]string{"link"})
	require.NoError(t, err)
	assert.Equal(t, []string{filepath.Join("link", "c.YAML")}, files)
	for _, arg := range []string{".hidden/*.txt", "[", t.TempDir()} {
		_, err := course.Files([]string{arg})
		assert.ErrorContains(t, err, arg)
	}
}

func TestSharesAreAllOfTheWorkAndNoneOfItTwice(t *testing.T) {
	done := map[int]int{}
	for _, text := range []string{"1/3", "2/3", "3/3"} {
		var s course.Shard
		require.NoError(t, s.UnmarshalText([]byte(text)))
		for piece := range 100 {
			if s.Has(piece) {
				done[piece]++
			}
		}
	}
	for piece := range 100 {
		assert.Equal(t, 1, done[piece])
		assert.True(t, course.Shard{}.Has(piece))
	}
	for _, text := range []string{"0/3", "4/3", "3", "/", "a/b", "-1/2", "1/0", ""} {
		assert.Error(t, new(course.Shard).UnmarshalText([]byte(text)), text)
	}
}

func TestWorkIsToldInOrder(t *testing.T) {
	var told []int
	require.NoError(t, course.InOrder(t.Context(), 200, course.Most, func(i int) int { return i * i }, func(i, done int) {
		assert.Equal(t, i*i, done)
		told = append(told, i)
	}))
	assert.Len(t, told, 200)
	assert.IsIncreasing(t, told)
}

// Work that cannot be told yet does not pile up, and an ended context ends it.
func TestWorkEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	var begun atomic.Int64
	err := course.InOrder(ctx, 1000, course.Most, func(i int) int { begun.Add(1); return i }, func(i, done int) {
		if i == 10 {
			cancel()
		}
	})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Less(t, begun.Load(), int64(1000))
}
