package main

import (
	"encoding/json"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/board"
	"thirdwise/cmd/thirdwise/kit"
)

func TestShowIsWhatAPersonHasLookedAt(t *testing.T) {
	for _, name := range []string{"porch-light", "harbour-ladder", "seventh-fret", "rowing-home"} {
		r := thirdwise("show", filepath.Join("../../testdata/exercises", name+".yaml"))
		assert.Equal(t, done, r.status)
		golden(t, "show-"+name, r.stdout)
	}
}

func TestShowFitsTheBoard(t *testing.T) {
	for _, path := range exercises(t) {
		r := thirdwise("show", path)
		assert.Equal(t, done, r.status)
		assertFits80Columns(t, r.stdout)
	}
}

func TestShowForProgramsSaysWhatTheBoardSays(t *testing.T) {
	r := thirdwiseWith(small, "show", "--json", "-")
	require.Equal(t, done, r.status, r.stderr)
	var b board.Description
	require.NoError(t, json.Unmarshal([]byte(r.stdout), &b))
	assert.Equal(t, "Small Steps", b.Title)
	assert.Equal(t, "C major", b.Key)
	assert.Equal(t, board.DegreeThird{Degree: 2, Lower: "D4", Upper: "F4", Interval: "m3"}, b.Thirds[1])
	assert.Equal(t, board.DegreeChord{Degree: 6, Symbol: "Am", Numeral: "vi"}, b.Triads[5])
	assert.Equal(t, board.DegreeChord{Degree: 5, Symbol: "G7", Numeral: "V7"}, b.Sevenths[4])
	assert.Len(t, b.Bars, 2)
	require.NotEmpty(t, b.Line)
	assert.Equal(t, "arrival", b.Line[0].Role)
	for _, third := range b.Line {
		assert.Equal(t, third.Lower.String, third.Upper.String+1, "neighbouring strings")
	}
}

// The README, and the help, say which fields of kit.json show has not.
func TestShowForProgramsLacksWhatTheReadmeSays(t *testing.T) {
	fields := func(text string) map[string]any {
		var object map[string]any
		require.NoError(t, json.Unmarshal([]byte(text), &object))
		return object
	}
	shown := fields(thirdwiseWith(small, "show", "--json", "-").stdout)
	var lacking []string
	for name := range fields(render(t, t.TempDir(), "--mix", "none")[kit.ManifestName]) {
		if _, has := shown[name]; !has {
			lacking = append(lacking, name)
		}
	}
	said := regexp.MustCompile("prints the fields of `kit.json` but (.*?), and beside them").FindStringSubmatch(readme(t))
	require.NotNil(t, said)
	named := regexp.MustCompile("`(.*?)`").FindAllStringSubmatch(said[1], -1)
	require.Len(t, lacking, len(named))
	for _, name := range named {
		assert.Contains(t, lacking, name[1])
	}
}
