package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/index"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
)

// Two exercises that are soon rendered, in a major key and in a minor one with
// a chord from outside it.
const (
	majorSteps = "title: Steps\nkey: C major\nmeter: 2/4\nchart: '| C G7 |'\npasses: 1\ntempos: [400]\n"
	minorSteps = "title: Steps\nkey: A minor\nmeter: 2/4\nchart: '| Am Dm | E7 |'\npasses: 1\ntempos: [400]\n"
)

// A renderedKit is what a test looks at of a kit.
type renderedKit struct {
	kit.Manifest
	notation string // the MusicXML file
}

// renderAll renders an exercise with a single mix and returns its kits by
// name.
func renderAll(t *testing.T, text string, options ...string) (kits map[string]renderedKit, r reply) {
	t.Helper()
	folder := t.TempDir()
	args := append([]string{"render", "--mix", "none", "-o", folder}, options...)
	r = thirdwise(append(args, fileWith(t, "steps.yaml", text))...)
	kits = map[string]renderedKit{}
	for _, name := range entries(t, folder) {
		if name == index.Name {
			continue
		}
		var m kit.Manifest
		files := contents(t, filepath.Join(folder, name))
		require.NoError(t, json.Unmarshal([]byte(files[kit.ManifestName]), &m))
		for _, f := range m.Files {
			assert.True(t, strings.HasPrefix(f.Name, name), "%s is told apart by its name", f.Name)
		}
		kits[name] = renderedKit{m, files[name+".musicxml"]}
	}
	return kits, r
}

// signatures is the sharps, or as negative numbers the flats, of the twelve keys
// on the circle of fifths (common practice).
var signatures = map[string]int{
	"C major": 0, "Db major": -5, "D major": 2, "Eb major": -3, "E major": 4, "F major": -1,
	"F# major": 6, "G major": 1, "Ab major": -4, "A major": 3, "Bb major": -2, "B major": 5,
	"C minor": -3, "C# minor": 4, "D minor": -1, "Eb minor": -6, "E minor": 1, "F minor": -4,
	"F# minor": 3, "G minor": -2, "G# minor": 5, "A minor": 0, "Bb minor": -5, "B minor": 2,
}

func TestAllKeysAreTheSameMusicInTwelveSignatures(t *testing.T) {
	for text, numerals := range map[string]string{majorSteps: "I V7", minorSteps: "i iv V7"} {
		kits, r := renderAll(t, text, "--key", "all")
		require.Equal(t, done, r.status, r.stderr)
		require.Len(t, kits, 12)
		seen := map[string]bool{}
		for name, m := range kits {
			seen[m.Key] = true
			require.Contains(t, signatures, m.Key)
			key, err := theory.ParseKey(m.Key)
			require.NoError(t, err)
			assert.Equal(t, signatures[m.Key], key.Fifths(), name)
			words := strings.NewReplacer("b ", "-flat-", "# ", "-sharp-", " ", "-").Replace(m.Key)
			assert.Equal(t, "steps-"+strings.ToLower(words), name)
			assert.Contains(t, m.notation, fmt.Sprintf("<fifths>%d</fifths>", signatures[m.Key]), name)
			var got []string
			for _, bar := range m.Bars {
				for _, chord := range bar.Chords {
					got = append(got, chord.Numeral)
					assertTransposed(t, m.Key, chord)
				}
			}
			assert.Equal(t, numerals, strings.Join(got, " "), name)
			assert.NotEmpty(t, m.Line, name)
		}
		assert.Len(t, seen, 12)
	}
}

// assertTransposed checks that a chord's root lies as far from the tonic as its
// numeral says.
func assertTransposed(t *testing.T, key string, chord kit.ChordRecord) {
	t.Helper()
	semitones := map[string]int{"I": 0, "i": 0, "iv": 5, "V7": 7}[chord.Numeral]
	root := strings.TrimSuffix(strings.TrimSuffix(chord.Symbol, "7"), "m")
	tonic, _, _ := strings.Cut(key, " ")
	assert.Equal(t, (class(t, tonic)+semitones)%12, class(t, root), "%s in %s", chord.Symbol, key)
}

func class(t *testing.T, tone string) int {
	t.Helper()
	letters := map[byte]int{'C': 0, 'D': 2, 'E': 4, 'F': 5, 'G': 7, 'A': 9, 'B': 11}
	return (letters[tone[0]] + strings.Count(tone, "#") - strings.Count(tone[1:], "b") + 12) % 12
}

func TestAllPositionsKeepTheHandInPlace(t *testing.T) {
	kits, r := renderAll(t, majorSteps, "--key", "Bb", "--position", "all")
	require.Equal(t, done, r.status, r.stderr)
	assert.GreaterOrEqual(t, len(kits), 4)
	for name, m := range kits {
		low, high := 0, 4 // open
		if m.Position != "open" {
			_, err := fmt.Sscan(m.Position, &low)
			require.NoError(t, err)
			low, high = low-1, low+4+1 // one fret either way is a stretch
		}
		assert.Regexp(t, `^steps-[a-g](-flat|-sharp)?-major-(open|position-\d+)$`, name)
		assert.True(t, strings.HasSuffix(name, "-"+m.Position), name)
		for _, third := range m.Line {
			for _, note := range []kit.NoteRecord{third.Lower, third.Upper} {
				assert.GreaterOrEqual(t, note.Fret, low, "%s: %v", name, note)
				assert.LessOrEqual(t, note.Fret, high, "%s: %v", name, note)
			}
		}
	}
}

func TestAPositionTakesTheExercisesPlace(t *testing.T) {
	kits, r := renderAll(t, majorSteps+"guitar:\n  position: 3\n", "--position", "8")
	require.Equal(t, done, r.status, r.stderr)
	require.Contains(t, kits, "steps-position-8")
	assert.Equal(t, "8", kits["steps-position-8"].Position)
}

func TestWhatIsLeftOutIsToldInALineEach(t *testing.T) {
	kits, r := renderAll(t, majorSteps+"line:\n  low: G4\n  high: C5\n", "--position", "all")
	require.Equal(t, done, r.status, r.stderr)
	var left []string
	for line := range strings.Lines(r.stderr) {
		if strings.Contains(line, "left out") {
			left = append(left, line)
			assert.Regexp(t, `steps\.yaml: warning: left out: in C major, bar 1: no line can be played in (open position|position \w+) within the compass from G4 to C5: `, line)
		}
	}
	assert.Len(t, left, 5-len(kits))
	assert.Contains(t, kits, "steps-position-10")
	assert.NotContains(t, kits, "steps-open")

	kits, r = renderAll(t, majorSteps+"line:\n  low: G4\n  high: C5\n", "--position", "open")
	assert.Equal(t, wrong, r.status, "asked for by name it is a mistake")
	assert.Empty(t, kits)
}

// narrow has a compass in which there is no line in some keys.
const narrow = majorSteps + "line:\n  low: E3\n  high: G3\n"

func TestAKeyThatCannotBePlayedIsNamedAndTheOthersAreMade(t *testing.T) {
	for _, options := range [][]string{
		{"--key", "all"},
		{"--key", "all", "--position", "all"},
	} {
		kits, r := renderAll(t, narrow, options...)
		assert.Equal(t, wrong, r.status, options)
		assert.Contains(t, r.stderr, "in B♭ major, bar 1: no line can be played", options)
		assert.Contains(t, r.stderr, "widen the compass", options)
		_, named, _ := strings.Cut(r.stderr, "thirdwise: not made: ")
		assert.Contains(t, named, "steps-b-flat-major", options)
		require.NotEmpty(t, kits, options)
		for name := range kits {
			assert.NotContains(t, named, name, options)
			assert.NotContains(t, name, "b-flat", options)
		}
	}
	failed := 0
	r := thirdwise("render", "--mix", "none", "--key", "all", "--json", "-o", t.TempDir(), fileWith(t, "steps.yaml", narrow))
	for line := range strings.Lines(r.stdout) {
		var record struct{ Kit, Exercise, Key, State, Error string }
		require.NoError(t, json.Unmarshal([]byte(line), &record))
		assert.NotEmpty(t, record.Kit)
		assert.NotEmpty(t, record.Exercise)
		if record.State == "failed" {
			failed++
			assert.Contains(t, record.Error, "no line can be played")
		}
	}
	assert.Equal(t, strings.Count(r.stderr, "no line can be played"), failed)
}

func TestAKeyAskedForByNameThatCannotBePlayedIsAMistakeAndNothingIsWritten(t *testing.T) {
	for _, options := range [][]string{{"--key", "Bb"}, {"--key", "Bb", "--position", "all"}} {
		kits, r := renderAll(t, narrow, options...)
		assert.Equal(t, wrong, r.status, options)
		assert.Contains(t, r.stderr, "in B♭ major, bar 1: no line can be played", options)
		assert.Contains(t, r.stderr, "widen the compass", options)
		assert.Empty(t, r.stdout)
		assert.Empty(t, kits, options)
	}
}

func TestTwoExercisesOfOneNameInAllKeysAreAnErrorBeforeAnythingIsWritten(t *testing.T) {
	folder := t.TempDir()
	r := thirdwise("render", "--key", "all", "-o", folder, fileWith(t, "small.yaml", small), fileWith(t, "small.yaml", small))
	assert.Equal(t, wrong, r.status)
	assert.Contains(t, r.stderr, "small-c-major")
	assert.Empty(t, entries(t, folder))
}
