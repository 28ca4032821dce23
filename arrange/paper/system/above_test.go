package system

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// What stands above the chord symbols has a blank between it and its neighbours on either
// side; what would come closer is lifted.
func TestWhatStandsAboveKeepsApart(t *testing.T) {
	first := drawing.Box{Left: 10, Top: -2, Right: 20, Bottom: 0}
	for right, lifted := range map[float64]bool{9.9: true, 9.5: false} { // of what stands to the left
		s := &system{above: []drawing.Box{first}}
		s.addAbove([]drawing.Mark{drawing.Stroke(5, -1, right, -1, 0)})
		assert.Equal(t, lifted, s.above[1].Bottom < -1.5, "to the left, up to %g", right)
	}
	for left, lifted := range map[float64]bool{20.1: true, 20.5: false} { // of what stands to the right
		s := &system{above: []drawing.Box{first}}
		s.addAbove([]drawing.Mark{drawing.Stroke(left, -1, 25, -1, 0)})
		assert.Equal(t, lifted, s.above[1].Bottom < -1.5, "to the right, from %g", left)
	}
}

// The name of a section and the words beside a fermata end within their row, however near
// to its end they begin.
func TestWordsEndWithinTheirRow(t *testing.T) {
	for _, text := range []string{
		"chart: |\n  | C | F |\n  [Last of all, and slowly] | C |\nline: {density: 0%}",
		"chart: |\n  | C | F | G | G C |\nline: {density: 50%}",
		"chart: |\n  | C | F | G | C |\nline: {rhythm: 'x . . . . . . x'}",
	} {
		m := Of(paper.Notate(arrangetest.Score(t, "title: Words\nkey: C major\n"+text+"\n")), Both, UsualFinger)
		row := Row{First: 0, Last: len(m.bars) - 1, Stretch: 0.7}
		s := newSystem(m, row)
		for _, box := range s.above {
			assert.LessOrEqual(t, box.Right, s.width+0.1, text)
		}
		require.NotEmpty(t, s.above, text)
	}
}

// A tab has the time signature at its beginning alone (common practice), also where its
// first row is a single bar.
func TestATabTellsItsMeterOnce(t *testing.T) {
	m := Of(paper.Notate(arrangetest.Score(t, "title: Meter\nkey: C major\nchart: '| C | C | C | C |'\nline: {density: 0%}\n")), Tab, UsualFinger)
	marks := func(bar int) int { return len(m.Set(Row{First: bar, Last: bar, Stretch: 1})) }
	assert.Equal(t, marks(2), marks(1))
	assert.Greater(t, marks(0), marks(1))
}

func TestStavesAreRead(t *testing.T) {
	for text, want := range map[string]Staves{"both": Both, "tab": Tab, "notation": Notation} {
		got := FillIn
		require.NoError(t, got.UnmarshalText([]byte(text)))
		assert.Equal(t, want, got)
	}
	var got Staves
	assert.ErrorContains(t, got.UnmarshalText([]byte("staves")), "both, tab or notation")
}
