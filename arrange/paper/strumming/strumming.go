// Package strumming draws what the right hand does, as guitar books do: strokes down
// and up, damped ones, accents, plucked strings, and below them how the bar is counted.
//
// In go the patterns of a score; lengths are in staff spaces.
package strumming

import (
	"fmt"
	"slices"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
	"thirdwise/theory/meter"
)

// Measures of patterns, in staff spaces.
const (
	wordSize     = 1.8 // of the font of words
	legendSize   = 1.5
	strokeSlot   = 2.4 // from slot to slot, at most
	denseSlot    = 1.7 // and where patterns would need another row
	strokeHeight = 1.3
	strokeWidth  = 1.0
	strokeLine   = 0.22
	accentRise   = 2.1 // from the foot of a stroke to the middle of its accent
	pickSize     = 1.7 // of the font of a string's number
	pickLine     = 1.6 // from one of strings that sound together to the next
	countSize    = 1.4
	countLine    = 2.3 // from the foot of the strokes to the baseline of the counts
	patternRow   = 6.2 // from one row of patterns to the next
	patternSpace = 1.3 // on both sides of the bar line between two
)

// Draw draws the patterns of a score in the middle of a width: for each slot of a bar
// the sign of a down-stroke or an up-stroke, a cross for a damped one, the number of
// a string that is plucked, or nothing where the strings ring on. Bars that are played
// in turn stand behind one another. It returns nothing where a score has no pattern.
func Draw(s *score.Score, width float64) []drawing.Mark {
	if len(s.Patterns) == 0 {
		return nil
	}
	b := patterns(s, width, strokeSlot)
	least := denseSlot
	if s.Meter.Beats > 9 { // counts of two digits
		least = 2.1
	}
	if dense := patterns(s, width, least); len(dense.rows) < len(b.rows) {
		b = dense
	}
	return []drawing.Mark{drawing.Group{Reads: b.label + ": " + readsOf(s), Marks: b.centred()}}
}

// A block is patterns in rows, in the making: in a width, and with a width for each slot.
type block struct {
	label       string // that they begin with
	meter       meter.Meter
	width, slot float64
	rows        []row
}

// A row is patterns side by side.
type row struct {
	marks []drawing.Mark
	end   float64
}

func (b *block) last() *row { return &b.rows[len(b.rows)-1] }

// words adds a text to the last row.
func (b *block) words(text string) {
	r := b.last()
	r.marks = append(r.marks, drawing.Text(r.end, 0, wordSize, drawing.Italic, drawing.FromLeft, text))
	r.end += drawing.Italic.Width(wordSize, text) + patternSpace
}

// makeRoom begins another row where the last has none for so much.
func (b *block) makeRoom(width float64) {
	if b.last().end+width > b.width {
		b.rows = append(b.rows, row{})
	}
}

// barWidth returns the width of a bar: most of the block's at most.
func (b *block) barWidth(bar score.Pattern) float64 {
	return min(b.slot*float64(len(bar)), 0.84*b.width)
}

// bar adds a bar to the last row.
func (b *block) bar(bar score.Pattern) {
	r, width := b.last(), b.barWidth(bar)
	r.marks = append(r.marks, drawing.Moved(pattern(b.meter, bar, width/float64(len(bar))), r.end, 0)...)
	r.end += width
}

// barLine adds the line between two bars, unless a row begins with the second.
func (b *block) barLine() {
	r := b.last()
	if r.end == 0 {
		return
	}
	x := r.end + patternSpace
	r.marks = append(r.marks, drawing.Stroke(x, 0.3, x, -strokeHeight-0.3, 0.16))
	r.end = x + patternSpace
}

// inTurn adds the bars that are played in turn.
func (b *block) inTurn(bars []score.Pattern) {
	for i, bar := range bars {
		b.makeRoom(b.barWidth(bar) + 2*patternSpace)
		if i > 0 {
			b.barLine()
		}
		b.bar(bar)
	}
}

// fill adds the bar that fills the end of a phrase.
func (b *block) fill(bar score.Pattern) {
	const says = "end of a phrase"
	b.makeRoom(b.barWidth(bar) + 3*patternSpace + drawing.Italic.Width(wordSize, says))
	b.last().end += 2 * patternSpace // of no account where it begins a row, which is centred
	b.words(says)
	b.bar(bar)
}

// legend adds what the rarer signs mean, in a row of its own where need be, which is
// centred wherever it begins.
func (b *block) legend(text string) {
	x := b.last().end + 2*patternSpace
	if x+drawing.Italic.Width(legendSize, text) > b.width {
		b.rows = append(b.rows, row{})
	}
	b.last().marks = append(b.last().marks, drawing.Text(x, 0, legendSize, drawing.Italic, drawing.FromLeft, text))
}

// centred returns the rows below one another, each in the middle of the width.
func (b *block) centred() (marks []drawing.Mark) {
	for i, r := range b.rows {
		box := drawing.BoundsOf(r.marks)
		marks = append(marks, drawing.Moved(r.marks, (b.width-box.Left-box.Right)/2, float64(i)*patternRow)...)
	}
	return marks
}

// patterns sets the patterns of a score in rows, with a width for each slot.
func patterns(s *score.Score, width, slot float64) *block {
	label := "Strum"
	if slices.ContainsFunc(s.Patterns, score.Pattern.Picked) {
		label = "Pick"
	}
	b := &block{label: label, meter: s.Meter, width: width, slot: slot, rows: []row{{}}}
	b.words(label)
	b.inTurn(s.Patterns)
	if s.Fill != nil {
		b.fill(s.Fill)
	}
	if legend := legendOf(slices.Concat(slices.Concat(s.Patterns...), s.Fill)); legend != "" {
		b.legend(legend)
	}
	return b
}

// legendOf says what the rarer signs of strokes mean, as far as they occur.
func legendOf(strokes score.Pattern) string {
	var words []string
	has := func(sign func(score.Stroke) bool, means string) {
		if slices.ContainsFunc(strokes, sign) {
			words = append(words, means)
		}
	}
	has(func(s score.Stroke) bool { return s.Sign == score.Damped }, "cross: damped")
	has(func(s score.Stroke) bool { return s.Sign == score.Pick }, "R: the chord’s bass string, 1: the highest string")
	return strings.Join(words, ", ")
}

// readsOf says the patterns in words.
func readsOf(s *score.Score) string {
	bar := func(p score.Pattern) string {
		words := make([]string, len(p))
		for i, stroke := range p {
			switch stroke.Sign {
			case score.Down:
				words[i] = "down"
			case score.Up:
				words[i] = "up"
			case score.Damped:
				words[i] = "damped"
			default:
				words[i] = stroke.String()
			}
			if stroke.Accent {
				words[i] = "accented " + words[i]
			}
		}
		return strings.Join(words, " ")
	}
	var bars []string
	for _, p := range s.Patterns {
		bars = append(bars, bar(p))
	}
	text := strings.Join(bars, " | ")
	if s.Fill != nil {
		text += "; end of a phrase: " + bar(s.Fill)
	}
	return text
}

// pattern draws a bar's strokes and counts, so far apart, from x 0 on.
func pattern(m meter.Meter, p score.Pattern, slot float64) (marks []drawing.Mark) {
	for i, stroke := range p {
		x := (float64(i) + 0.5) * slot
		switch stroke.Sign {
		case score.Down:
			marks = append(marks, downStroke(x)...)
		case score.Up:
			marks = append(marks, upStroke(x)...)
		case score.Damped:
			marks = append(marks, cross(x)...)
		case score.Pick:
			marks = append(marks, plucked(x, stroke.Strings)...)
		}
		if stroke.Accent {
			marks = append(marks, accent(x)...)
		}
		if count := paper.Count(m, i*m.Bar()/len(p)); count != "" {
			marks = append(marks, drawing.Text(x, countLine, countSize, drawing.Regular, drawing.Centred, count))
		}
	}
	return marks
}

// plucked sets the numbers of strings that sound together, the highest string on top.
func plucked(x float64, strs []int) (marks []drawing.Mark) {
	strs = slices.Clone(strs)
	slices.SortFunc(strs, func(a, b int) int { // the lowest first
		if a == score.Root || b == score.Root {
			return a - b
		}
		return b - a
	})
	for i, str := range strs {
		name := "R"
		if str != score.Root {
			name = fmt.Sprint(str)
		}
		marks = append(marks, drawing.Text(x, -pickLine*float64(i), pickSize, drawing.Bold, drawing.Centred, name))
	}
	return marks
}

// cross draws the sign of a damped stroke about x.
func cross(x float64) []drawing.Mark {
	const half = 0.5
	y := -strokeHeight / 2
	return []drawing.Mark{
		drawing.Stroke(x-half, y-half, x+half, y+half, 0.18), drawing.Stroke(x-half, y+half, x+half, y-half, 0.18),
	}
}

// accent draws the sign of an accent over a stroke about x.
func accent(x float64) []drawing.Mark {
	const half, high = 0.6, 0.32
	return []drawing.Mark{
		drawing.Stroke(x-half, -accentRise-high, x+half, -accentRise, 0.14), drawing.Stroke(x+half, -accentRise, x-half, -accentRise+high, 0.14),
	}
}

// downStroke draws the sign of a down-stroke about x: a bar on two legs, as for a
// down-bow.
func downStroke(x float64) []drawing.Mark {
	w := strokeWidth / 2
	return []drawing.Mark{
		drawing.Stroke(x-w, 0, x-w, -strokeHeight, strokeLine/2),
		drawing.Stroke(x+w, 0, x+w, -strokeHeight, strokeLine/2),
		drawing.Stroke(x-w-strokeLine/4, -strokeHeight+strokeLine, x+w+strokeLine/4, -strokeHeight+strokeLine, 2*strokeLine),
	}
}

// upStroke draws the sign of an up-stroke about x: a wedge that points down, as for
// an up-bow.
func upStroke(x float64) []drawing.Mark {
	w := strokeWidth / 2
	return []drawing.Mark{
		drawing.Stroke(x-w, -strokeHeight, x, 0, strokeLine),
		drawing.Stroke(x, 0, x+w, -strokeHeight, strokeLine/2),
	}
}
