package flow

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/paper/drawing"
)

// What just fits stands in the row; what is wider than a row has one of its own.
func TestAsManyStandInARowAsFit(t *testing.T) {
	for _, c := range []struct {
		wide []float64
		most int
		want []int
	}{
		{[]float64{4, 4, 4}, 3, []int{2, 1}},
		{[]float64{4, 5, 4}, 3, []int{1, 1, 1}},
		{[]float64{2, 2, 2, 2}, 4, []int{3, 1}},
		{[]float64{2, 2, 2, 2}, 2, []int{2, 2}},
		{[]float64{20, 3, 3}, 3, []int{1, 2}},
		{nil, 0, nil},
	} {
		assert.Equal(t, c.want, PerRow(c.wide, 2, 10, c.most), "%v", c.wide)
	}
}

// Rows are about equally long, but a row more than there must be is never made.
func TestRowsAreNoMoreThanTheyMustBe(t *testing.T) {
	assert.Equal(t, []int{6, 5}, Evenly([]float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}, 2, 24))
	assert.Equal(t, []int{5, 2}, Evenly([]float64{2, 2, 2, 2, 2, 8, 8}, 2, 20))
	assert.Equal(t, []int{1}, Evenly([]float64{30}, 2, 20))
	assert.Empty(t, Evenly(nil, 2, 20))
}

func TestLinesOfATextAreAboutEquallyLong(t *testing.T) {
	const f = drawing.Regular
	three := "note note note"
	wide := f.Width(2, three)
	assert.Equal(t, []string{three}, Lines(three, wide, 2, f), "what just fits is one line")
	assert.Equal(t, []string{"note note", "note"}, Lines(three, wide-0.01, 2, f))
	assert.Equal(t, []string{"note note", "note note"}, Lines("note note note note", wide, 2, f), "not three and one")
	assert.Equal(t, []string{three, three, three}, Lines(three+" "+three+" "+three, f.Width(2, "note note note note"), 2, f))
}

// A title at a page's foot is cut behind a word, and within one that is too long itself.
func TestAShortenedTextFits(t *testing.T) {
	const f, text = drawing.Regular, "Over the long bridge"
	require.Equal(t, text, Shortened(text, f.Width(2, text), 2, f))
	require.Equal(t, "Over the…", Shortened(text, f.Width(2, "Over the…"), 2, f))
	require.Equal(t, "Over…", Shortened(text, f.Width(2, "Over the…")-0.01, 2, f))
	require.Equal(t, "Ov…", Shortened(text, f.Width(2, "Ov…"), 2, f))
	require.Equal(t, "O…", Shortened(text, f.Width(2, "Ov…")-0.01, 2, f))
}

// What does not fit one line stands in two of about the same length, and not one thing alone
// below the others.
func TestCentredLinesAreAboutEquallyLong(t *testing.T) {
	var items [][]drawing.Mark
	for range 6 {
		items = append(items, []drawing.Mark{drawing.Stroke(0, 0, 4, 0, 0.1)})
	}
	lines := map[float64]int{}
	for _, m := range Centred(items, 5*(4+Space)+1, 3) {
		lines[m.Bounds().Top]++
	}
	require.Len(t, lines, 2)
	for _, n := range lines {
		require.Equal(t, 3, n)
	}
}
