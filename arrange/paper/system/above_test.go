package system

import (
	"strings"
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

// What is set near to other things keeps a blank on every side.
func TestWhatIsSetAmongOthersKeepsClear(t *testing.T) {
	at := drawing.Box{Left: 10, Top: 10, Right: 20, Bottom: 20}
	for distance, inTheWay := range map[float64]bool{0.2: true, 0.4: false} {
		for _, line := range [][4]float64{
			{15, 5, 15, 10 - distance}, {15, 20 + distance, 15, 25}, {5, 15, 10 - distance, 15}, {20 + distance, 15, 25, 15},
		} {
			mark := drawing.Stroke(line[0], line[1], line[2], line[3], 0)
			alone := &system{marks: []drawing.Mark{mark}}
			assert.Equal(t, inTheWay, alone.inTheWay(at), "%v", line)
			third := &system{thirds: []*third{{group: drawing.Group{Marks: []drawing.Mark{mark}}}}}
			assert.Equal(t, inTheWay, third.inTheWay(at), "%v of a third", line)
		}
	}
}

// A short name of a section stands left of the first chord symbol, with a blank between;
// where one of a piece is longer, all stand above the symbols.
func TestShortNamesStandOverTheClef(t *testing.T) {
	for letters := 1; letters <= 12; letters++ {
		for _, staves := range []Staves{Both, Tab, Chords} {
			s := arrangetest.Score(t, "title: Names\nkey: C major\nchart: |\n  | C | F |\n  ["+strings.Repeat("I", letters)+"] | G | C |\nline: {density: 0%}\n")
			m := Of(paper.Notate(s), staves, UsualFinger)
			drawn := newSystem(m, Row{First: 2, Last: 3, Stretch: 2})
			name := drawing.BoundsOf(drawn.sectionMarks(0, 0))
			const blank = 0.8 // at least, and half of a box's line
			assert.Equal(t, name.Right+blank < drawn.prefix()+barPadding+0.08, m.shortNames, "%d letters", letters)
			if m.shortNames {
				assert.Less(t, name.Right, drawn.xs[0][0])
			}
		}
	}
}

// The name of a section and the words beside a fermata stand within their row, however near
// to its end they begin and however long they are.
func TestWordsEndWithinTheirRow(t *testing.T) {
	for _, text := range []string{
		"chart: |\n  | C | F |\n  [Last of all, and slowly] | C |\nline: {density: 0%}",
		"chart: |\n  [The very first of them all, and slowly] | C |\nline: {density: 0%}",
		"chart: |\n  | C | F | G | G C |\nline: {density: 50%}",
		"chart: |\n  | C | F | G | C |\nline: {rhythm: 'x . . . . . . x'}",
	} {
		m := Of(paper.Notate(arrangetest.Score(t, "title: Words\nkey: C major\n"+text+"\n")), Both, UsualFinger)
		row := Row{First: 0, Last: len(m.bars) - 1, Stretch: 0.7}
		s := newSystem(m, row)
		for _, box := range s.above {
			assert.LessOrEqual(t, box.Right, s.width+0.1, text)
			assert.GreaterOrEqual(t, box.Left, -0.1, text)
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

// The bracket of an ending with which a row of chords begins, or goes on, begins behind the
// number of its bar.
func TestTheBracketOfAnEndingStandsClearOfTheNumber(t *testing.T) {
	s := arrangetest.Score(t, "title: Endings\nkey: C major\nchart: '|: C | F |1. G | Am :|2. Dm | G | C |'\n")
	s.Line = nil
	m := Of(paper.Notate(s), Chords, UsualFinger)
	for first := 2; first < 6; first++ {
		row := newSystem(m, Row{First: first, Last: first, Stretch: 2})
		number := drawing.BoundsOf([]drawing.Mark{drawing.Text(0, -1.9, numberSize, drawing.Italic, drawing.FromLeft, row.number())})
		assert.Positive(t, number.Right)
		brackets := 0
		for _, mark := range row.marks {
			if box := mark.Bounds(); box.Bottom-box.Top < 0.5 && box.Right-box.Left > 5 && box.Top < -2 {
				assert.Greater(t, box.Left, number.Right)
				brackets++
			}
		}
		assert.Equal(t, 1, brackets, "bar %d", first)
	}
}
