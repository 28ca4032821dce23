package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// small is an exercise that is quick to render.
const small = `title: Small Steps
key: C major
chart: "| C | G7 |"
passes: 1
tempos: [180]
`

// faulty has four mistakes, and outside has none, but a chord outside the key
// and a tempo that few can play along with.
const (
	faulty = `title: Four Mistakes
key: C major
chart: |
  | C | H | G
tempos: [60, 500]
feal: swing
`
	outside = `title: One Outside
key: A minor
chart: |
  | Am | Dm | E7 | Am |
tempos: [25]
`
)

func TestCheckPrintsAllMistakesAtOnce(t *testing.T) {
	r := thirdwiseWith(faulty, "check", "-")
	assert.Equal(t, wrong, r.status)
	golden(t, "check-faulty", r.stdout+"--\n"+r.stderr)
}

func TestCheckPrintsWarningsAndNotesAndIsContent(t *testing.T) {
	r := thirdwiseWith(outside, "check", "-")
	assert.Equal(t, done, r.status)
	assert.Empty(t, r.stderr)
	// What is free, and how long it takes, is another on each machine.
	own := regexp.MustCompile(`\([0-9.]+ [MG]B free\)|[0-9]+ seconds?$`)
	golden(t, "check-outside", own.ReplaceAllString(strings.TrimSuffix(r.stdout, "\n"), "…")+"\n")
}

func TestCheckOfSeveralFilesChecksThemAll(t *testing.T) {
	well, ill := fileWith(t, "well.yaml", small), fileWith(t, "ill.yaml", faulty)
	r := thirdwise("check", ill, well, "missing.yaml")
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stdout, ill+":4:")
	assert.Contains(t, r.stdout, well+": no mistakes")
	assert.Contains(t, r.stdout, "missing.yaml: the file cannot be read: no such file or directory")
}

func TestCheckOfAFolderChecksAllExercisesInIt(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"one.yaml", "two.yml", "notes.txt"} {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(small), 0o666))
	}
	r := thirdwise("check", folder)
	assert.Equal(t, done, r.status)
	assert.Equal(t, 2, strings.Count(r.stdout, ": no mistakes"), r.stdout)
	assert.Equal(t, wrong, thirdwise("check", t.TempDir()).status)
}

func TestCheckForProgramsHasTheDocumentedFields(t *testing.T) {
	path := fileWith(t, "faulty.yaml", faulty)
	r := thirdwiseWith(outside, "check", "--json", path, "-")
	assert.Equal(t, wrong, r.status)
	var found []struct {
		File, Severity, Message, Remedy string
		Line, Column, Length            int
		Mends                           []struct {
			Line, Column, Length int
			Text                 string
		}
	}
	require.NoError(t, json.Unmarshal([]byte(r.stdout), &found))
	severities, lengths := map[string]int{}, map[string]int{}
	var mends []string
	for _, f := range found {
		severities[f.Severity]++
		lengths[f.Message] = f.Length
		for _, m := range f.Mends {
			mends = append(mends, fmt.Sprintf("%d:%d+%d %q", m.Line, m.Column, m.Length, m.Text))
		}
		assert.Contains(t, []string{path, "standard input"}, f.File)
		assert.Positive(t, f.Line)
		assert.Positive(t, f.Column)
		assert.NotEmpty(t, f.Message)
	}
	assert.Equal(t, map[string]int{"mistake": 4, "warning": 1, "note": 1}, severities)
	assert.Equal(t, 4, lengths[`unknown setting "feal"`])
	assert.Equal(t, []string{`4:9+1 "B"`, `4:14+0 " |"`, `6:1+4 "feel"`}, mends)
}

func TestCheckForProgramsOfAllWellIsAnEmptyList(t *testing.T) {
	assert.Equal(t, reply{done, "[]\n", ""}, thirdwiseWith(small, "check", "--json", "-"))
}

func TestEveryExerciseOfTheProjectIsWell(t *testing.T) {
	r := thirdwise(append([]string{"check"}, exercises(t)...)...)
	assert.Equal(t, done, r.status, r.stdout)
}

// bad lists what each gets a clear error.
var bad = map[string]string{
	"an unknown setting":             strings.Replace(small, "passes", "times", 1),
	"an unknown setting of the line": small + "line:\n  speed: 3\n",
	"an empty chart":                 strings.Replace(small, `"| C | G7 |"`, `""`, 1),
	"a bar without chord":            strings.Replace(small, "| G7 |", "| | G7 |", 1),
	"an unclosed bar":                strings.Replace(small, "G7 |", "G7", 1),
	"an unclosed repeat":             strings.Replace(small, "| C", "|: C", 1),
	"a chord nobody can spell":       strings.Replace(small, "G7", "Gwhat", 1),
	"chords off the ticks":           strings.Replace(small, "G7", "C C C C C C C C C C C", 1),
	"density over 100 %":             small + "line:\n  density: 101%\n",
	"density under 0 %":              small + "line:\n  density: -1%\n",
	"a tempo that is no number":      strings.Replace(small, "180", "allegro", 1),
	"a negative tempo":               strings.Replace(small, "180", "-180", 1),
	"a tempo under 20":               strings.Replace(small, "180", "19", 1),
	"a tempo over 400":               strings.Replace(small, "180", "401", 1),
	"no passes":                      strings.Replace(small, "passes: 1", "passes: 0", 1),
	"no count-in":                    small + "count-in: 0\n",
	"a tuning nobody knows":          small + "guitar:\n  tuning: E2 A2 D3 G3 B3 X4\n",
	"a position off the neck":        small + "guitar:\n  position: 40\n",
	"a line out of reach":            small + "line:\n  low: C7\n  high: C8\n",
	"another kind of file":           "RIFF\x00\x00\x00\x00WAVEfmt ",
	"not UTF-8":                      strings.Replace(small, "Small", "Sm\xe4ll", 1),
	"over 1 MiB":                     small + "# " + strings.Repeat("x", 1<<20),
	"aliases that grow": "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a]\n" +
		"c: &c [*b,*b,*b,*b,*b,*b,*b,*b]\n" + small,
	"nothing": "",
}

func TestBadInputIsNamedAndNothingIsWritten(t *testing.T) {
	for name, text := range bad {
		t.Run(name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			for _, command := range []string{"check", "show", "render"} {
				r := thirdwiseWith(text, command, "-")
				assert.Equal(t, wrong, r.status, command)
				assert.Regexp(t, `standard input:\d+:\d+: \S`, r.stdout+r.stderr, command)
			}
			assert.Empty(t, entries(t, "."))
		})
	}
}

// Names of files are bytes, on most systems.
func TestAFileWhoseNameIsNotUTF8IsOpened(t *testing.T) {
	path := fileWith(t, "b\xe4r, 1.yaml", small)
	r := thirdwise("check", path)
	assert.Equal(t, done, r.status, r.stdout)
	r = thirdwise("show", path)
	assert.Equal(t, done, r.status, r.stderr)
}

func TestWhatYAMLDropsIsWarnedOf(t *testing.T) {
	for text, dropped := range map[string]string{
		"title: Lesson #3\nkey: C\n":     `1:15: warning: YAML takes "#3" for a comment`,
		"title: Lesson\nkey: F #minor\n": `2:8: warning: YAML takes "#minor" for a comment`,
	} {
		assert.Contains(t, thirdwiseWith(text+"chart: '| C |'\n", "check", "-").stdout, dropped)
	}
	assert.NotContains(t, thirdwiseWith("title: Lesson # one\nkey: F# minor   #remember\nchart: '| 1 |'\n", "check", "-").stdout, "warning")
}

// What check passes, render makes: both refuse what this machine cannot hold.
func TestCheckRefusesWhatRenderRefuses(t *testing.T) {
	long := "title: Long\nkey: C major\npasses: 45\ntempos: [20]\nchart: |\n" + strings.Repeat("  | C | Am | F | G |\n", 20)
	path := fileWith(t, "long.yaml", long)
	checked, rendered := thirdwise("check", path), thirdwise("render", "-o", t.TempDir(), path)
	for _, r := range []reply{checked, rendered} {
		assert.Equal(t, wrong, r.status)
		assert.Contains(t, r.stdout+r.stderr, "hours, and a WAV file holds 4 GiB\n    ask for --format flac, or for fewer passes")
	}
}
