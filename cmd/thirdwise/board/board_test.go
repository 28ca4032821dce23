package board

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

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

// A ukulele's fourth string is tuned above its third (common practice): no hand reaches a
// third there, and the board has no shape of one.
func TestShapesOutOfReachAreNotOnTheBoard(t *testing.T) {
	tuning, err := neck.ParseTuning("G4 C4 E4 A4")
	require.NoError(t, err)
	rows := shapes(neck.Neck{Tuning: tuning}, theory.Key{Tonic: theory.Tone{Letter: theory.C}, Mode: theory.Major}.Thirds())
	assert.Equal(t, []shapeRow{
		{[]string{"3–2"}, []int{0, 1, 1, 0, 0, 1, 1}},
		{[]string{"2–1"}, []int{1, 2, 2, 1, 1, 2, 2}},
	}, rows)
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
		s := arrangetest.Score(t, "title: Count\nkey: C major\nmeter: "+row.meter+"\nchart: '| C |'\n")
		assert.Equal(t, row.want, (&writer{score: s}).count(row.tick), row)
	}
}
