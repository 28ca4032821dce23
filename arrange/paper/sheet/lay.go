package sheet

import (
	"fmt"
	"strings"

	"thirdwise/arrange"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Margins and distances of a page, in staff spaces.
const (
	margin       = 9.0
	footSize     = 1.35
	footLine     = 1.7 // from one line of the footer to the next
	systemSpace  = 3.0 // least distance between what two systems reach to
	loosestSpace = 6.0 // the most that is added to it to fill a page
	openSpace    = 2.0 // and on the last page, which is not filled
)

// fewPages is up to how many pages it is worth saving one.
const fewPages = 4

// tries are the ways to lay out a sheet, the best first: how much a line costs,
// so that there are fewer and fuller ones, and what part of the distances
// between lines is kept. A later one is taken only where it saves one of a few
// pages.
var tries = []struct{ thrift, closeness float64 }{
	{0, 1}, {1, 1}, {2, 1}, {4, 1}, {0, 0.6}, {4, 0.6},
}

// Lay sets a score on pages. The errors are a score without bars and a bar that
// is wider than the paper.
func Lay(s *arrange.Score, p drawing.Paper) (*drawing.Sheet, error) {
	if len(s.Bars) == 0 {
		return nil, fmt.Errorf("%q has no bars to print", s.Title)
	}
	n := paper.Notate(s)
	bars := barsOf(n)
	l := &layout{
		score: s, sheet: &drawing.Sheet{Title: s.Title, Paper: p},
		width: p.Width/drawing.Space - 2*margin, height: p.Height / drawing.Space,
	}
	var best []drawing.Page
	for _, try := range tries {
		lines, ok := breakLines(bars, try.thrift, func(first int) float64 {
			return l.width - prefixWidth(s, first == 0)
		})
		if !ok {
			return nil, fmt.Errorf("%q: a bar has more notes than fit across %s paper", s.Title, p.Name)
		}
		pages := l.paginate(l.blocks(n, bars, lines), try.closeness)
		if best == nil || len(pages) < len(best) {
			best = pages
		}
		if len(best) == 1 || len(best) > fewPages {
			break
		}
	}
	l.sheet.Pages = best
	l.foot()
	return l.sheet, nil
}

// blocks returns what the sheet holds, from top to bottom.
func (l *layout) blocks(n *paper.Notation, bars []bar, lines []row) []block {
	blocks := l.head()
	for i, line := range lines {
		blocks = append(blocks, block{
			marks: newSystem(n, bars[line.first:line.last+1], line.stretch, i == 0).all(),
			after: systemSpace, stretches: i < len(lines)-1,
		})
	}
	return append(blocks, l.shapes()...)
}

// A layout is a sheet in the making.
type layout struct {
	score         *arrange.Score
	sheet         *drawing.Sheet
	width, height float64 // between the margins; of the paper
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
	top, bottom := margin, l.height-margin-l.footHeight()
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
		marks = append(marks, drawing.Moved(b.marks, margin, y-box.Top)...)
		y += box.Bottom - box.Top + b.after
		if b.stretches {
			y += extra
		}
	}
	return marks
}

// footLines returns the cautions, broken to the width of the page.
func (l *layout) footLines() []string { return wrap(l.width, footSize, drawing.Regular, paper.Caution) }

func (l *layout) footHeight() float64 { return footLine*float64(len(l.footLines())) + 2 }

// foot writes the cautions at the foot of each page, and title and page number
// where there are several.
func (l *layout) foot() {
	lines := l.footLines()
	for i := range l.sheet.Pages {
		y := l.height - margin - footLine*float64(len(lines)-1)
		var marks []drawing.Mark
		for _, line := range lines {
			marks = append(marks, drawing.Text(margin, y, footSize, drawing.Regular, drawing.FromLeft, line))
			y += footLine
		}
		if len(l.sheet.Pages) > 1 {
			number := fmt.Sprintf("%s, %d of %d", l.sheet.Title, i+1, len(l.sheet.Pages))
			marks = append(marks, drawing.Text(margin+l.width, l.height-margin+footLine+0.6, footSize, drawing.Regular, drawing.FromRight, number))
		}
		l.sheet.Pages[i].Marks = append(l.sheet.Pages[i].Marks, marks...)
	}
}

// wrap divides a text into lines no wider than a width.
func wrap(width, size float64, f drawing.Font, s string) []string {
	var lines []string
	current := ""
	for _, word := range strings.Fields(s) {
		longer := strings.TrimSpace(current + " " + word)
		if current != "" && f.Width(size, longer) > width {
			lines = append(lines, current)
			longer = word
		}
		current = longer
	}
	return append(lines, current)
}
