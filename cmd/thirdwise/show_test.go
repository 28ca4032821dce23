package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory"
	"thirdwise/theory/neck"
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

// The shapes are common practice: on strings a fourth apart a major third lies
// one fret apart and a minor third two; on the pair a major third apart, G and
// B, a major third lies on one fret and a minor third one apart.
func TestShapesAreThoseThatPlayersLearn(t *testing.T) {
	key := theory.Key{Tonic: theory.Tone{Letter: theory.G}, Mode: theory.Major}
	rows := shapes(neck.Neck{Tuning: neck.Standard()}, key.Thirds())
	assert.Equal(t, []shapeRow{
		{[]string{"6–5", "5–4", "4–3", "2–1"}, []int{1, 2, 2, 1, 1, 2, 2}},
		{[]string{"3–2"}, []int{0, 1, 1, 0, 0, 1, 1}},
	}, rows)
}

func TestShowForProgramsSaysWhatTheBoardSays(t *testing.T) {
	r := thirdwiseWith(small, "show", "--json", "-")
	require.Equal(t, done, r.status, r.stderr)
	var b boardDescription
	require.NoError(t, json.Unmarshal([]byte(r.stdout), &b))
	assert.Equal(t, "Small Steps", b.Title)
	assert.Equal(t, "C major", b.Key)
	assert.Equal(t, degreeThird{2, "D4", "F4", "m3"}, b.Thirds[1])
	assert.Equal(t, degreeChord{6, "Am", "vi"}, b.Triads[5])
	assert.Equal(t, degreeChord{5, "G7", "V7"}, b.Sevenths[4])
	assert.Len(t, b.Bars, 2)
	require.NotEmpty(t, b.Line)
	assert.Equal(t, "arrival", b.Line[0].Role)
	for _, third := range b.Line {
		assert.Equal(t, third.Lower.String, third.Upper.String+1, "neighbouring strings")
	}
}

func TestCountIsWhatPlayersSay(t *testing.T) {
	for _, row := range []struct {
		meter string
		tick  int
		want  string
	}{
		{"4/4", 0, "1"}, {"4/4", 720, "2½"}, {"4/4", 1800, "4¾"}, {"4/4", 640, "2⅓"},
		{"6/8", 1200, "6"}, {"6/8", 360, "2½"}, {"2/2", 240, "1¼"}, {"4/4", 48, "1 1/10"},
	} {
		text := strings.Replace(small, "passes", "meter: "+row.meter+"\npasses", 1)
		all, found, err := (&console{stdin: strings.NewReader(text)}).arrange("-", asWritten)
		require.NoError(t, err)
		require.Len(t, all, 1, found)
		assert.Equal(t, row.want, (&board{score: all[0].score}).count(row.tick), row)
	}
}
