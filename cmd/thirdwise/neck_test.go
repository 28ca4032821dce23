package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNeckIsWhatAPersonHasLookedAt(t *testing.T) {
	for name, args := range map[string][]string{
		"neck-c-major":         {"C", "major"},
		"neck-b-flat-minor":    {"Bb minor", "--position", "6"},
		"neck-open-g-and-capo": {"A", "--tuning", "D2 G2 D3 G3 B3 D4", "--capo", "2", "--position", "open"},
		"neck-one-pair":        {"E harmonic minor", "--strings", "2-3", "--position", "free"},
	} {
		r := thirdwise(append([]string{"neck"}, args...)...)
		assert.Equal(t, done, r.status, r.stderr)
		assertFits80Columns(t, r.stdout)
		golden(t, name, r.stdout)
	}
}

func TestAKeyIsOneWordOrSeveral(t *testing.T) {
	want := thirdwise("neck", "A minor")
	assert.Equal(t, done, want.status)
	assert.Equal(t, want, thirdwise("neck", "A", "minor"))
	assert.Equal(t, want, thirdwise("neck", "A", "natural", "minor"))
}

func TestAPairOfStringsIsReadInEitherOrder(t *testing.T) {
	r := thirdwise("neck", "C", "--strings", "2-3")
	assert.Equal(t, 1, strings.Count(r.stdout, "\nStrings "))
	assert.Contains(t, r.stdout, "\nStrings 3–2 ")
	assert.Equal(t, r, thirdwise("neck", "C", "--strings", "3-2"))
}

func TestAWrongNeckIsAWrongCommandLine(t *testing.T) {
	for said, args := range map[string][]string{
		"write B major":      {"H"},
		"write C major":      {"Do"},
		"is not a mode":      {"C", "jazz"},
		"write Ab major":     {"G#", "major"},
		"has 2 pitches":      {"C", "--tuning", "E2 A2"},
		"string 1":           {"C", "--tuning", "E2 A2 D3 G3 B3 X4"},
		"capo at fret 30":    {"C", "--capo", "30"},
		"capo at fret -1":    {"C", "--capo", "-1"},
		"position 0":         {"C", "--position", "0"},
		"position 12 is off": {"C", "--position", "12", "--capo", "10"},
		`"middle" is not a`:  {"C", "--position", "middle"},
		"--strings 2:":       {"C", "--strings", "2"},
		"--strings 2-4:":     {"C", "--strings", "2-4"},
		"between 1 and 6":    {"C", "--strings", "6-7"},
		"--strings 0-1:":     {"C", "--strings", "0-1"},
		"between 1 and 4":    {"C", "--strings", "5-4", "--tuning", "G3 D4 A4 E5"},
		"--strings a-b:":     {"C", "--strings", "a-b"},
		"tonic and a mode":   {},
	} {
		r := thirdwise(append([]string{"neck"}, args...)...)
		assert.Equal(t, wrongCommand, r.status, args)
		assert.Contains(t, r.stderr, said, args)
		assert.Empty(t, r.stdout, args)
	}
}

// Frets and shapes as players know them (common practice): C major's thirds on
// the second and the third string, from the open G up.
func TestNeckForProgramsHasTheDocumentedFields(t *testing.T) {
	r := thirdwise("neck", "C", "--position", "open", "--strings", "2-3", "--json")
	require.Equal(t, done, r.status, r.stderr)
	var got struct {
		Key       string
		Tuning    []string
		Capo      *int
		Position  string
		Patterns  json.RawMessage
		Positions []struct {
			Position         string
			Low, High        int
			Degrees          []int
			Reached, Missing []struct{ Lower, Upper string }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(r.stdout), &got))
	assert.Equal(t, "C major", got.Key)
	assert.Equal(t, []string{"E2", "A2", "D3", "G3", "B3", "E4"}, got.Tuning)
	assert.Zero(t, *got.Capo)
	assert.Equal(t, "open", got.Position)
	assert.JSONEq(t, `[{"lower": 3, "upper": 2, "thirds": [
		{"degree": 5, "interval": "M3", "shape": 0,
			"lower": {"pitch": "G3", "string": 3, "fret": 0}, "upper": {"pitch": "B3", "string": 2, "fret": 0}},
		{"degree": 6, "interval": "m3", "shape": 1,
			"lower": {"pitch": "A3", "string": 3, "fret": 2}, "upper": {"pitch": "C4", "string": 2, "fret": 1}},
		{"degree": 7, "interval": "m3", "shape": 1,
			"lower": {"pitch": "B3", "string": 3, "fret": 4}, "upper": {"pitch": "D4", "string": 2, "fret": 3}}
	]}]`, string(got.Patterns))
	require.Len(t, got.Positions, 5)
	for _, p := range got.Positions {
		assert.LessOrEqual(t, p.High-p.Low, 4, p.Position)
		assert.Equal(t, []int{1, 2, 3, 4, 5, 6, 7}, p.Degrees, p.Position)
		assert.Greater(t, len(p.Reached), 3*len(p.Missing), p.Position)
	}
	assert.Equal(t, "open", got.Positions[0].Position)
}

func TestNeckForProgramsNamesNoPositionWhereNoneIsAskedFor(t *testing.T) {
	r := thirdwise("neck", "F#", "minor", "--json")
	require.Equal(t, done, r.status, r.stderr)
	var got map[string]any
	require.NoError(t, json.Unmarshal([]byte(r.stdout), &got))
	assert.Equal(t, "F# minor", got["key"])
	assert.NotContains(t, got, "position")
	assert.Len(t, got["patterns"], 5)
}
