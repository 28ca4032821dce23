package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A room is a folder of the map and the rooms that it may import.
type room struct{ name, imports string }

// rooms is the map of DEVELOPERS.md. A folder that is not listed belongs to the
// nearest above it that is.
var rooms = []room{
	{"theory", "theory/remedy"},
	{"theory/remedy", ""},
	{"theory/theorytest", "theory"},
	{"theory/meter", "theory/remedy"},
	{"theory/numeral", "theory theory/remedy"},
	{"theory/chordscale", "theory"},
	{"theory/line", "theory theory/meter theory/line/rhythm theory/line/harmony theory/line/contour theory/line/motif theory/line/chain theory/line/memory"},
	{"theory/line/memory", ""},
	{"theory/line/contour", ""},
	{"theory/line/motif", ""},
	{"theory/line/harmony", "theory"},
	{"theory/line/rhythm", "theory/meter"},
	{"theory/line/chain", ""},
	{"theory/neck", "theory theory/remedy"},
	{"theory/neck/comping", "theory theory/neck"},
	{"arrange/score", "theory theory/meter theory/line theory/neck"},
	{"arrange/exercise", "theory theory/meter theory/line/rhythm theory/neck theory/remedy arrange/score arrange/exercise/source arrange/exercise/chart arrange/exercise/said arrange/exercise/strum"},
	{"arrange/exercise/source", "theory/remedy"},
	{"arrange/exercise/said", "theory"},
	{"arrange/exercise/strum", "theory/meter theory/remedy arrange/score arrange/exercise/source arrange/exercise/said"},
	{"arrange/exercise/chart", "theory theory/meter theory/numeral theory/remedy arrange/exercise/source"},
	{"arrange", "theory theory/chordscale theory/meter theory/numeral theory/remedy theory/line theory/line/rhythm theory/neck theory/neck/comping arrange/score arrange/exercise arrange/exercise/source arrange/exercise/chart"},
	{"arrange/arrangetest", "arrange arrange/score arrange/exercise"},
	{"arrange/paper", "theory theory/meter theory/neck arrange/score"},
	{"synth", "theory theory/meter arrange/score synth/clips synth/backings synth/desk synth/mixing synth/pluck synth/room synth/loudness synth/audiofile synth/exact"},
	{"synth/backings", ""},
	{"synth/desk", "arrange/score synth/mixing synth/pluck synth/room"},
	{"synth/mixing", ""},
	{"synth/clips", "synth/pluck synth/loudness"},
	{"synth/pluck", "synth/exact"},
	{"synth/room", "synth/exact"},
	{"synth/loudness", "synth/exact"},
	{"synth/audiofile", "synth/exact"},
	{"synth/exact", ""},
	{".ci", "synth synth/pluck"},
	{"smf", "theory theory/meter theory/neck arrange/score"},
	{"cmd/thirdwise", "theory theory/meter theory/neck arrange arrange/score arrange/exercise arrange/exercise/source arrange/exercise/chart arrange/paper synth synth/audiofile smf cmd/thirdwise/kit cmd/thirdwise/kit/place cmd/thirdwise/kit/machine cmd/thirdwise/arguments cmd/thirdwise/board cmd/thirdwise/build cmd/thirdwise/completion cmd/thirdwise/course cmd/thirdwise/help cmd/thirdwise/index cmd/thirdwise/vary cmd/thirdwise/web"},
	{"cmd/thirdwise/arguments", ""},
	{"cmd/thirdwise/build", "cmd/thirdwise/kit"},
	{"cmd/thirdwise/completion", "theory arrange/paper arrange/score synth/audiofile"},
	{"cmd/thirdwise/course", "cmd/thirdwise/kit"},
	{"cmd/thirdwise/help", "arrange/paper"},
	{"cmd/thirdwise/vary", "theory theory/neck arrange arrange/score arrange/exercise cmd/thirdwise/kit"},
	{"cmd/thirdwise/index", "theory theory/neck arrange/score cmd/thirdwise/kit cmd/thirdwise/kit/place"},
	{"cmd/thirdwise/board", "theory theory/numeral theory/neck arrange/exercise/chart arrange/score arrange/paper cmd/thirdwise/kit"},
	{"cmd/thirdwise/kit", "theory theory/meter theory/neck arrange/score arrange/paper synth synth/audiofile smf cmd/thirdwise/kit/place cmd/thirdwise/kit/machine"},
	{"cmd/thirdwise/kit/place", ""},
	{"cmd/thirdwise/kit/machine", ""},
	{"cmd/thirdwise/web", "theory theory/meter theory/line/rhythm theory/neck arrange arrange/score arrange/exercise arrange/exercise/source arrange/exercise/chart arrange/paper synth synth/audiofile cmd/thirdwise/kit cmd/thirdwise/board testdata/exercises"},
	{"testdata/exercises", ""},
}

// Imports point one way, as the map of DEVELOPERS.md has it: no room reaches
// back, no side room imports its sibling, and what reads a score knows nothing of
// the text that it came from.
func TestImportsPointOneWay(t *testing.T) {
	const module = "thirdwise/"
	root := filepath.Join("..", "..")
	require.NoError(t, filepath.WalkDir(root, func(file string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		source, err := os.ReadFile(file)
		require.NoError(t, err)
		parsed, err := parser.ParseFile(token.NewFileSet(), file, source, parser.ImportsOnly)
		require.NoError(t, err)
		relative, err := filepath.Rel(root, filepath.Dir(file))
		require.NoError(t, err)
		here := filepath.ToSlash(relative)
		for _, spec := range parsed.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			if strings.Contains(imported, "yaml") {
				require.True(t, within(here, "arrange/exercise/source"), "%s imports %s, which only the room of the exercise's text reads", file, imported)
			}
			there, own := strings.CutPrefix(imported, module)
			if !own {
				continue
			}
			allowed := roomOf(here).imports
			require.True(t, roomOf(there) == roomOf(here) || slices.Contains(strings.Fields(allowed), roomOf(there).name), "%s imports %s; %s may import %s", file, there, roomOf(here).name, allowed)
		}
		return nil
	}))
}

// roomOf returns the room that a folder belongs to.
func roomOf(folder string) room {
	for ; folder != "."; folder = path.Dir(folder) {
		for _, r := range rooms {
			if r.name == folder {
				return r
			}
		}
	}
	return room{}
}

// within reports whether a folder is another or lies below it.
func within(folder, above string) bool {
	return folder == above || strings.HasPrefix(folder, above+"/")
}
