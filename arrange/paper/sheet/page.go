package sheet

import (
	"fmt"
	"math"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet/flow"
	"thirdwise/arrange/paper/system"
)

// A block is marks that stay together on a page. Their place is told by their
// bounds: where they were drawn does not matter from top to bottom, and counts
// from the left margin.
type block struct {
	marks     []drawing.Mark
	box       drawing.Box // that they lie within
	after     float64     // least distance to the next block
	stretches bool        // whether that may grow to fill the page
	row       *system.Row // of music; nil for other blocks
	section   string      // that begins with it, or ""
	ending    bool        // whether it begins with another ending of a repeat
	role      drawing.Role
	says      string // what a figure shows, in words
}

func (b block) height() float64 { return b.box.Bottom - b.box.Top }

// A division is blocks in their order, and which of them begin pages. On a page that is
// full they may stand closer than they ask for.
type division struct {
	blocks []block
	starts []int
}

// rows returns the rows of music.
func (l *layout) rows(rows []system.Row) (music []block) {
	for i, row := range rows {
		first := l.notation.Measures[row.First]
		music = append(music, block{
			marks: l.music.Set(row), after: systemSpace, stretches: i < len(rows)-1,
			row: &row, section: first.Section, role: drawing.Figure,
			ending: first.Ending != nil && first.Ending.Begins && first.Ending.Times[0] > 1,
		})
	}
	return boxed(music)
}

// boxed returns blocks with their bounds.
func boxed(blocks []block) []block {
	for i := range blocks {
		blocks[i].box = drawing.BoundsOf(blocks[i].marks)
	}
	return blocks
}

// What a division into pages costs. Pages should be few and about equally full,
// none should have a single row of music or what stands below it alone, one that
// ends with a section reads best, and nobody turns a page for another ending.
const (
	pageCost   = 10.0
	orphanCost = 8.0  // a single row of music, but on the first page
	emptyCost  = 16.0 // none
	slackCost  = 1.0  // for a whole page left empty, squared; a quarter of that for the last
	turnCost   = 0.1  // a page ends inside a section
	endingCost = 1.0  // a page ends between two endings of a repeat
)

// bare is how much of the last page is left empty at most where a section of a single row
// may stand on it, above what else there is.
const bare = 2.0 / 3

// paginate divides blocks that go below one another into as many pages as they need: a
// shortest path over all breaks. Of the distances between blocks at least a part is kept.
func (l *layout) paginate(blocks []block, closeness float64) division {
	n := len(blocks)
	cost := make([]float64, n+1) // of the best division of blocks i to n-1
	next := make([]int, n)
	for i := n - 1; i >= 0; i-- {
		cost[i] = math.MaxFloat64
		used, room := 0.0, l.room(i)
		for j := i; j < n; j++ {
			if used += blocks[j].height(); used > room && j > i {
				break
			}
			c := pageCost + cost[j+1] + l.pageCost(blocks, i, j, 1-used/room)
			if c < cost[i] {
				cost[i], next[i] = c, j+1
			}
			used += closeness * blocks[j].after
		}
	}
	d := division{blocks: blocks}
	for i := 0; i < n; i = next[i] {
		d.starts = append(d.starts, i)
	}
	return d
}

// page returns the blocks of a page, counted from 0, and the height that they have.
func (l *layout) page(d division, i int) (blocks []block, room float64) {
	end := len(d.blocks)
	if i+1 < len(d.starts) {
		end = d.starts[i+1]
	}
	return d.blocks[d.starts[i]:end], l.room(d.starts[i])
}

// pages sets the pages of a division, the blocks of a full page spread over its height.
func (l *layout) pages(d division) []drawing.Page {
	pages := make([]drawing.Page, len(d.starts))
	for i := range pages {
		blocks, room := l.page(d, i)
		pages[i] = l.stack(blocks, room, i == len(pages)-1)
	}
	return pages
}

// kept returns what part of the distances between blocks the fullest page keeps.
func (l *layout) kept(d division) float64 {
	least := 1.0
	for i := range d.starts {
		kept, _ := spread(l.page(d, i))
		least = min(least, kept)
	}
	return least
}

// pageCost returns what a page of blocks first to last costs that leaves a part of
// its height empty.
func (l *layout) pageCost(blocks []block, first, last int, slack float64) float64 {
	systems := 0
	for _, b := range blocks[first : last+1] {
		if b.row != nil {
			systems++
		}
	}
	final := last == len(blocks)-1
	cost := slackCost * slack * slack
	switch {
	case final:
		cost /= 4
	case blocks[last+1].section == "":
		cost += turnCost
	}
	switch {
	case systems == 0:
		cost += emptyCost
	case systems == 1 && first > 0 && !(final && blocks[first].section != "" && slack < bare):
		cost += orphanCost
	}
	if !final && blocks[last+1].ending {
		cost += endingCost
	}
	return cost
}

// room returns the height that blocks have on a page that begins with block i: the
// first page has the cautions at its foot, others have a running foot.
func (l *layout) room(first int) float64 {
	if first == 0 {
		return l.height - 2*l.margin - l.footHeight()
	}
	return l.height - 2*l.margin - 1
}

// spread returns what part of the distances between a page's blocks is kept where they have
// a height together, and how much of the height is left when all of them are.
func spread(page []block, room float64) (kept, left float64) {
	distances := 0.0
	for i, b := range page {
		room -= b.height()
		if i < len(page)-1 {
			distances += b.after
		}
	}
	if room < distances {
		return room / distances, 0
	}
	return 1, room - distances
}

// stack sets the blocks of a page below one another, spread over its height as far
// as that looks well; on the last page, which is not filled, less.
func (l *layout) stack(page []block, room float64, last bool) (p drawing.Page) {
	gaps := 0
	for _, b := range page[:len(page)-1] {
		if b.stretches {
			gaps++
		}
	}
	most := loosestSpace
	if last {
		most = openSpace
	}
	kept, left := spread(page, room)
	extra := min(most, left/float64(gaps)) // of no account where there are no gaps
	y := l.margin
	for _, b := range page {
		if b.section != "" {
			p.Headings = append(p.Headings, drawing.Heading{Name: b.section, Y: y})
		}
		p.Marks = append(p.Marks, drawing.Moved(b.marks, l.margin, y-b.box.Top)...)
		if b.row != nil {
			b.says = rowInWords(l.notation.Measures[b.row.First : b.row.Last+1])
		}
		p.Parts = append(p.Parts, drawing.Part{Role: b.role, Says: b.says, End: len(p.Marks)})
		y += b.height() + kept*b.after
		if b.stretches {
			y += extra
		}
	}
	return p
}

// footSize is the size of the cautions' font, 6.5 points or more.
func (l *layout) footSize() float64 { return max(footSize, l.points(6.5)) }

// point is a point in millimetres: 1/72 of an inch.
const point = 25.4 / 72

// points returns a size of font in staff spaces.
func (l *layout) points(size float64) float64 { return size * point / l.space }

func (l *layout) footHeight() float64 { return footLine*float64(len(l.cautions)) + 2 }

// foot writes the cautions at the foot of the first page, and title and page number
// on each where there are several.
func (l *layout) foot(pages []drawing.Page) {
	lines := l.cautions
	y := l.height - l.margin - footLine*float64(len(lines)-1)
	for _, line := range lines {
		pages[0].Marks = append(pages[0].Marks, drawing.Text(l.margin, y, l.footSize(), drawing.Regular, drawing.FromLeft, line))
		y += footLine
	}
	pages[0].Parts = append(pages[0].Parts, drawing.Part{Role: drawing.Paragraph, End: len(pages[0].Marks)})
	for i := range pages {
		if len(pages) > 1 {
			number := fmt.Sprintf(", %d of %d", i+1, len(pages))
			title := flow.Shortened(l.score.Title, l.width/2, l.footSize(), drawing.Regular)
			pages[i].Marks = append(pages[i].Marks,
				drawing.Text(l.margin+l.width, l.height-l.margin+footLine+0.6, l.footSize(), drawing.Regular, drawing.FromRight, title+number))
		}
	}
}
