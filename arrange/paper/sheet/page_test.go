package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/system"
)

// blocksOf returns blocks of so many spaces, so far apart. In a text a number is a row of
// music, one in brackets something else, a name before a row a section that begins, and
// a colon before one another ending.
func blocksOf(t *testing.T, text string, after float64) (blocks []block) {
	section := ""
	for _, field := range strings.Fields(text) {
		b := block{after: after, section: section, marks: []drawing.Mark{drawing.Stroke(0, 0, 0, height(t, field), 0.1)}}
		switch {
		case field[0] == '(':
		case field[0] >= 'A':
			section = field
			continue
		case field[0] == ':':
			b.ending = true
			fallthrough
		default:
			b.row, b.stretches = &system.Row{}, true
		}
		section = ""
		blocks = append(blocks, b)
	}
	return boxed(blocks)
}

func height(t *testing.T, field string) (spaces float64) {
	for _, digit := range strings.Trim(field, "():") {
		spaces = 10*spaces + float64(digit-'0')
	}
	return spaces
}

// On a paper with room for 78 spaces on the first page, 79 on others: a page is filled
// before the next begins, but none has a single row of music or none; pages are about
// equally full and end with a section where they can.
func TestRowsFallOnPagesAsAReaderTurnsThem(t *testing.T) {
	l := &layout{height: 100, margin: 10}
	for _, c := range []struct {
		why, blocks string
		after       float64
		starts      []int
	}{
		{"one page", "20 20 20", 5, []int{0}},
		{"a page that is just full", "26 26 26", 0, []int{0}},
		{"one that is just too small", "26 26 27", 0, []int{0, 1}},
		{"another page that is just full", "39 39 39 40", 0, []int{0, 2}},
		{"equally full", "20 20 20 20", 5, []int{0, 2}},
		{"equally full, by heights", "10 10 10 10 10 35 35", 0, []int{0, 5}},
		{"the last less than others", "20 20 20 20 20", 5, []int{0, 3}},
		{"the first well filled", "10 10 10 10 10 10 10", 5, []int{0, 5}},
		{"but a section begins a page", "10 10 10 10 A 10 10 10", 5, []int{0, 4}},
		{"a row more for what stands below it", "20 20 20 (20)", 5, []int{0, 1}},
		{"the last row alone where it is a section, above the map", "A 25 25 25 B 25 25 C 25 (20)", 0, []int{0, 3, 5}},
		{"but not where it is none", "A 25 25 25 B 25 25 25 (20)", 0, []int{0, 2, 4}},
		{"nor on a page that is nearly empty", "A 25 25 25 B 25 25 25 C 25", 0, []int{0, 3, 5}},
		{"no turn to another ending", "20 20 20 :20 20", 0, []int{0, 2}},
		{"no page of what stands above the music", "(60) 30 30", 0, []int{0, 1}},
		{"higher than a page", "30 200 30", 0, []int{0, 1, 2}},
	} {
		assert.Equal(t, c.starts, l.paginate(blocksOf(t, c.blocks, c.after), 1).starts, "%s: %s", c.why, c.blocks)
	}
	assert.Equal(t, []int{0}, l.paginate(blocksOf(t, "24 24 24", 4), 0.5).starts, "closer, on one page")
	assert.Equal(t, []int{0, 1}, l.paginate(blocksOf(t, "24 24 24", 4), 1).starts)
}

// A full page is spread to its foot, as far as that looks well; the last is not.
func TestAFullPageIsSpreadOverItsHeight(t *testing.T) {
	for _, c := range []struct {
		blocks string
		last   bool
		tops   []float64
	}{
		{"(10) 20 20 20", false, []float64{10, 20, 44, 68}},   // 8 spaces are left for two gaps
		{"(10) 10 10 10", false, []float64{10, 20, 36, 52}},   // 38 are, of which each takes 6
		{"(10) 20 20 20", true, []float64{10, 20, 42, 64}},    // 2 at most on the last page
		{"(18) 20 20 20", false, []float64{10, 28, 48, 68}},   // it is full
		{"(10) (20)", false, []float64{10, 20}},               // nothing that may grow
		{"A 20 20 20 (15)", false, []float64{10, 31, 52, 73}}, // between music and map too
	} {
		l := &layout{height: 100, margin: 10}
		blocks := blocksOf(t, c.blocks, 0)
		for i := range blocks {
			blocks[i].row = nil // its words are another's
		}
		page := l.stack(blocks, 78, c.last)
		var tops []float64
		for _, m := range page.Marks {
			tops = append(tops, m.Bounds().Top)
			require.Equal(t, 10.0, (m.Bounds().Left+m.Bounds().Right)/2)
		}
		assert.Equal(t, c.tops, tops, c.blocks)
	}
}

// On a page that is too full for all distances each keeps the same part of its own, as much
// as there is room for, however close the rows might have been.
func TestAFullPageKeepsWhatDistancesItCan(t *testing.T) {
	l := &layout{height: 100, margin: 10}
	for _, c := range []struct {
		blocks string
		tops   []float64
		kept   float64
	}{
		{"(18) 18 18 18", []float64{10, 30, 50, 70}, 0.5},  // 6 spaces are left for three distances of 4
		{"(18) 18 15 18", []float64{10, 31, 52, 70}, 0.75}, // 9
		{"(18) 18 18 12", []float64{10, 32, 54, 76}, 1},    // just all of them
		{"(18) 18 18 6", []float64{10, 32, 56, 80}, 1},     // and rows may be farther apart
	} {
		d := l.paginate(blocksOf(t, c.blocks, 4), 0.5)
		require.Equal(t, []int{0}, d.starts)
		require.InDelta(t, c.kept, l.kept(d), 1e-9, c.blocks)
		for i := range d.blocks {
			d.blocks[i].row = nil // its words are another's
		}
		var tops []float64
		for _, m := range l.pages(d)[0].Marks {
			tops = append(tops, m.Bounds().Top)
		}
		require.InDeltaSlice(t, c.tops, tops, 1e-9, c.blocks)
	}
}

// The cautions end on the bottom margin of the first page; title and number stand a line
// below it at the right of every page, where there are several.
func TestEveryPageHasItsFoot(t *testing.T) {
	long := strings.Repeat("A long title ", 9)
	for _, c := range []struct {
		width float64 // of the paper, in millimetres
		bars  int
		foot  string
	}{
		{210, 64, ", 1 of 3"}, {130, 32, ", 1 of 2"}, {210, 4, ""},
	} {
		n := paper.Notate(arrangetest.Score(t, "title: "+long+"\nkey: C major\nchart: '|"+strings.Repeat(" C |", c.bars)+"'\n"))
		o := Options{Paper: drawing.Paper{Name: "some", Width: c.width, Height: 297}}
		sheet, err := Lay(n, o)
		require.NoError(t, err)
		bottom := (o.Paper.Height - paperMargin) / sheet.Space
		for i, page := range sheet.Pages {
			boxes, texts := wordsOf(page.Marks)
			if len(sheet.Pages) > 1 {
				last := len(boxes) - 1
				assert.Equal(t, i == 0, strings.HasSuffix(texts[last], c.foot), texts[last])
				assert.InDelta(t, (c.width-paperMargin)/sheet.Space, boxes[last].Right, 0.02)
				assert.InDelta(t, bottom+footLine+0.6, boxes[last].Bottom, 1e-9)
				assert.Less(t, boxes[last].Right-boxes[last].Left, (c.width-2*paperMargin)/sheet.Space*2/3, "half of the width, and the number")
				boxes, texts = boxes[:last], texts[:last]
			}
			if i > 0 {
				continue
			}
			said := ""
			for y := bottom; said != paper.Caution; y -= footLine {
				last := len(boxes) - 1
				require.InDelta(t, y, boxes[last].Bottom, 1e-9, texts[last])
				said = strings.TrimSpace(texts[last] + " " + said)
				boxes, texts = boxes[:last], texts[:last]
			}
		}
	}
}
