package sheet

import (
	"fmt"
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/system"
	"thirdwise/arrange/score"
)

// Distances of a page, in staff spaces but for the margin.
const (
	paperMargin  = 15.3 // millimetres
	footSize     = 1.35
	footLine     = 1.7 // from one line of the footer to the next
	systemSpace  = 3.0 // least distance between what two systems reach to
	loosestSpace = 6.0 // the most that is added to it to fill a page
	openSpace    = 2.0 // and on the last page, which is not filled
)

// A staff's height in millimetres: usually between the two sizes that handbooks
// advise for parts, 7.0 and 6.5; and the larger ones of a rastrum, up to that of
// books for beginners, the largest first (Gould, Behind Bars, from memory).
const usualStaff = 6.8

var largerStaves = []float64{9.2, 7.9, 7.4}

// roomy is the least stretch of a row that may have a larger staff.
const roomy = 0.9

// fewPages is up to how many pages it is worth saving one.
const fewPages = 4

// tries are the ways to lay out a sheet, the best first: how much a row costs,
// so that there are fewer and fuller ones, and what part of the distances
// between rows is kept. A later one is taken only where it saves one of a few
// pages.
var tries = []struct{ thrift, closeness float64 }{
	{0, 1}, {1, 1}, {2, 1}, {4, 1}, {0, 0.6}, {4, 0.6},
}

// Lay sets a score on pages. One that leaves much of a single page empty has a
// larger staff. The errors are a score without bars and a bar that is wider than
// the paper.
func Lay(n *paper.Notation, p drawing.Paper) (*drawing.Sheet, error) {
	s := n.Score
	if len(s.Bars) == 0 {
		return nil, fmt.Errorf("%q has no bars to print", s.Title)
	}
	l := newLayout(n, p, usualStaff)
	rows, pages, ok := l.fewestPages()
	if !ok {
		return nil, fmt.Errorf("%q: a bar has more notes than fit across %s paper", s.Title, p.Name)
	}
	if len(pages) == 1 {
		l, pages = l.enlarged(p, rows, pages)
	}
	l.foot(pages)
	return &drawing.Sheet{Title: s.Title, Paper: p, Space: l.space, Pages: pages}, nil
}

// A layout is a sheet in the making: a score, on a paper, in a size of staff.
type layout struct {
	notation      *paper.Notation
	score         *score.Score
	music         *system.Music
	space         float64 // a staff space in millimetres; what follows is in staff spaces
	margin        float64
	width, height float64 // between the margins; of the paper
}

func newLayout(n *paper.Notation, p drawing.Paper, staff float64) *layout {
	space := staff / 4
	return &layout{
		notation: n, score: n.Score, music: system.Of(n),
		space: space, margin: paperMargin / space,
		width: (p.Width - 2*paperMargin) / space, height: p.Height / space,
	}
}

// fits returns the measure of a text's lines in a font size.
func (l *layout) fits(size float64, f drawing.Font) func(line string) bool {
	return func(line string) bool { return f.Width(size, line) <= l.width }
}

// fewestPages returns the best division into rows, and the pages it takes; ok is
// false where a bar is too wide.
func (l *layout) fewestPages() (best []system.Row, pages []drawing.Page, ok bool) {
	for _, try := range tries {
		rows, ok := l.music.Break(l.width, try.thrift)
		if !ok {
			return nil, nil, false
		}
		set := l.paginate(l.blocks(rows), try.closeness)
		if pages == nil || len(set) < len(pages) {
			best, pages = rows, set
		}
		if len(pages) == 1 || len(pages) > fewPages {
			break
		}
	}
	return best, pages, true
}

// enlarged returns the layout of a single page with the largest staff that keeps
// its division into rows, or has one into rows of as many bars each.
func (l *layout) enlarged(p drawing.Paper, rows []system.Row, page []drawing.Page) (*layout, []drawing.Page) {
	for _, staff := range largerStaves {
		larger := newLayout(l.notation, p, staff)
		if page, ok := larger.onePage(rows); ok {
			return larger, page
		}
		division, ok := larger.music.Break(larger.width, 0)
		if !ok || !even(division) {
			continue
		}
		if page, ok := larger.onePage(division); ok {
			return larger, page
		}
	}
	return l, page
}

// even reports whether there are as many bars in each row.
func even(rows []system.Row) bool {
	return !slices.ContainsFunc(rows, func(r system.Row) bool { return r.Last-r.First != rows[0].Last-rows[0].First })
}

// onePage sets rows; ok is false where they would be crowded or need a second
// page.
func (l *layout) onePage(rows []system.Row) (page []drawing.Page, ok bool) {
	rows = slices.Clone(rows)
	l.music.Justify(rows, l.width)
	for _, row := range rows {
		if row.Stretch < roomy {
			return nil, false
		}
	}
	page = l.paginate(l.blocks(rows), 1)
	return page, len(page) == 1
}

// blocks returns what the sheet holds, from top to bottom.
func (l *layout) blocks(rows []system.Row) []block {
	blocks := l.head()
	for i, row := range rows {
		blocks = append(blocks, block{marks: l.music.Set(row), after: systemSpace, stretches: i < len(rows)-1})
	}
	return append(blocks, l.shapes()...)
}

// A block is marks that stay together on a page. Their place is told by their
// bounds: where they were drawn does not matter from top to bottom, and counts
// from the left margin.
type block struct {
	marks     []drawing.Mark
	after     float64 // least distance to the next block
	stretches bool    // whether that may grow to fill the page
}

// paginate puts blocks below one another, on as many pages as they need, and
// spreads those of a full page over its height. Of the distances between blocks
// it keeps a part.
func (l *layout) paginate(blocks []block, closeness float64) (pages []drawing.Page) {
	for i := range blocks {
		blocks[i].after *= closeness
	}
	top, bottom := l.margin, l.height-l.margin-l.footHeight()
	for len(blocks) > 0 {
		used, count := 0.0, 0
		for i, b := range blocks {
			height := blockHeight(b)
			if i > 0 && used+height > bottom-top {
				break
			}
			used += height + b.after
			count++
		}
		page := blocks[:count]
		blocks = blocks[count:]
		extra := 0.0
		if gaps := stretchable(page); gaps > 0 {
			most := loosestSpace
			if len(blocks) == 0 {
				most = openSpace
			}
			extra = min(most, max(0, (bottom-top-used+page[count-1].after)/float64(gaps)))
		}
		pages = append(pages, drawing.Page{Marks: l.stack(page, top, extra)})
	}
	return pages
}

func blockHeight(b block) float64 {
	box := drawing.BoundsOf(b.marks)
	return box.Bottom - box.Top
}

// stretchable counts the distances on a page that may grow.
func stretchable(page []block) int {
	n := 0
	for _, b := range page[:len(page)-1] {
		if b.stretches {
			n++
		}
	}
	return n
}

func (l *layout) stack(page []block, y, extra float64) []drawing.Mark {
	var marks []drawing.Mark
	for _, b := range page {
		box := drawing.BoundsOf(b.marks)
		marks = append(marks, drawing.Moved(b.marks, l.margin, y-box.Top)...)
		y += box.Bottom - box.Top + b.after
		if b.stretches {
			y += extra
		}
	}
	return marks
}

// footLines returns the cautions, broken to the width of the page.
func (l *layout) footLines() []string {
	return paper.Lines(paper.Caution, l.fits(footSize, drawing.Regular))
}

func (l *layout) footHeight() float64 { return footLine*float64(len(l.footLines())) + 2 }

// foot writes the cautions at the foot of each page, and title and page number
// where there are several.
func (l *layout) foot(pages []drawing.Page) {
	lines := l.footLines()
	for i := range pages {
		y := l.height - l.margin - footLine*float64(len(lines)-1)
		var marks []drawing.Mark
		for _, line := range lines {
			marks = append(marks, drawing.Text(l.margin, y, footSize, drawing.Regular, drawing.FromLeft, line))
			y += footLine
		}
		if len(pages) > 1 {
			number := fmt.Sprintf("%s, %d of %d", l.score.Title, i+1, len(pages))
			marks = append(marks, drawing.Text(l.margin+l.width, l.height-l.margin+footLine+0.6, footSize, drawing.Regular, drawing.FromRight, number))
		}
		pages[i].Marks = append(pages[i].Marks, marks...)
	}
}
