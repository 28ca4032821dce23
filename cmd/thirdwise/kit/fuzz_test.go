package kit_test

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/kit"
)

// Whatever a file or a title is called, the kit's name is one that any file system
// takes, and stays in its folder.
func FuzzName(f *testing.F) {
	for _, s := range []string{"", "Porch Light.yaml", "../..", "con.yaml", "Lesson C#.yaml", "früh.yaml", "\xff.yaml", "a/b\\c:d*e?", ".yaml", "日本", strings.Repeat("long ", 100), "COM¹", "ﬁ"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, path, title string) {
		name := kit.Name(path, title)
		require.NotEmpty(t, name)
		require.LessOrEqual(t, len(name), 124)
		require.True(t, utf8.ValidString(name), "%q", name)
		require.Equal(t, name, filepath.Base(name), "it leads nowhere else")
		require.NotContains(t, []string{".", ".."}, name)
		require.False(t, strings.ContainsAny(name, `/\:*?"<>|. `), "%q", name)
		require.False(t, strings.HasSuffix(name, "-") || strings.HasPrefix(name, "-"), "%q", name)
		require.Equal(t, name, kit.Name(name+".yaml", ""), "the name of a name is the same")
	})
}
