package system

import (
	"fmt"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Measures of ties and of tuplet brackets.
const (
	tieGap       = 0.12 // between a head and the tie's end
	tieDistance  = 0.55
	bracketLine  = 0.14
	bracketHook  = 0.7
	tupletSize   = 1.5 // of the number
	tupletSpace  = 0.8 // between the notes and the bracket or number
	shortestTie  = 1.1
	shortestHalf = 1.6 // a tie that goes on in another line
)

// drawTies draws the ties between this system's events, and the halves of those
// that come from the line before or go on in the next. Of a third's two ties the
// upper bends up and the lower down.
func (s *system) drawTies() {
	k := 0 // of s.thirds
	for i := range s.bars {
		b := &s.bars[i]
		for j := range b.Events {
			e := &b.Events[j]
			if e.Rest() {
				continue
			}
			x, v := s.xs[i][j], b.voices[j]
			from := x + headGlyph(e.Value).Width() + tieGap
			if k == 0 && e.TiedFrom {
				start := prefixWidth(s.notation.Score, s.first) - 0.2
				s.add(ties(v, min(start, x-tieGap-shortestHalf), x-tieGap)...)
			}
			if e.TiedTo {
				to := s.width - 0.2
				if k+1 < len(s.thirds) {
					to = s.following(i, j) - tieGap
				}
				s.add(ties(v, from, max(to, from+shortestTie))...)
			}
			k++
		}
	}
}

// following returns the x of the event after one.
func (s *system) following(i, j int) float64 {
	if j+1 < len(s.xs[i]) {
		return s.xs[i][j+1]
	}
	return s.xs[i+1][0]
}

func ties(v voice, from, to float64) []drawing.Mark {
	height := min(1.1, 0.35+0.09*(to-from))
	return []drawing.Mark{
		drawing.Shape{Path: drawing.Tie(from, to, v.upper-tieDistance+0.1, height)},
		drawing.Shape{Path: drawing.Tie(from, to, v.lower+tieDistance-0.1, -height)},
	}
}

// A tuplet is the number, and where no single beam shows what belongs together
// the bracket, of a tuplet.
type tuplet struct {
	*bar
	paper.Tuplet
}

func (t tuplet) marks(xs []float64) []drawing.Mark {
	ups, notes := 0, 0
	box := drawing.Nothing()
	for i := t.First; i <= t.Last; i++ {
		v := t.voices[i]
		if t.Events[i].Rest() {
			continue
		}
		notes++
		if v.up {
			ups++
		}
		box = box.With(drawing.Box{Top: min(v.upper-0.6, v.tip), Bottom: max(v.lower+0.6, v.tip)})
	}
	above := 2*ups >= notes
	left, right := xs[t.First]-0.1, xs[t.Last]+drawing.HeadWidth+0.1
	y := max(box.Bottom, bottomLine) + tupletSpace
	if above {
		y = min(box.Top, 0) - tupletSpace
	}
	label := t.label()
	if g, ok := t.underOneBeam(); ok {
		y1, y2 := t.voices[g.first].tip, t.voices[g.last].tip
		y, left, right = (y1+y2)/2+tupletSpace, stemX(xs[g.first], above), stemX(xs[g.last], above)
		if above {
			y = (y1+y2)/2 - tupletSpace
		}
		if y > -tupletSpace && y < bottomLine+tupletSpace { // clear of the staff's lines
			y = bottomLine + tupletSpace
			if above {
				y = -tupletSpace
			}
		}
		return []drawing.Mark{tupletNumber((left+right)/2, y, label)}
	}
	number := tupletNumber((left+right)/2, y, label)
	half := drawing.Italic.Width(tupletSize, label)/2 + 0.35
	hook := bracketHook
	if !above {
		hook = -hook
	}
	middle := (left + right) / 2
	return []drawing.Mark{
		number,
		drawing.Stroke(left, y, middle-half, y, bracketLine),
		drawing.Stroke(middle+half, y, right, y, bracketLine),
		drawing.Stroke(left, y, left, y+hook, bracketLine),
		drawing.Stroke(right, y, right, y+hook, bracketLine),
	}
}

// label returns the tuplet's number, as a ratio where it is not what a reader
// expects: the number alone stands in the time of the next lower power of two.
func (t tuplet) label() string {
	expected := 1
	for 2*expected < t.Actual {
		expected *= 2
	}
	if t.Normal == expected {
		return fmt.Sprint(t.Actual)
	}
	return fmt.Sprintf("%d:%d", t.Actual, t.Normal)
}

// tupletNumber sets a tuplet's number with its middle at a place.
func tupletNumber(x, y float64, label string) drawing.Mark {
	return drawing.Text(x, y+tupletSize*drawing.CapHeight/2, tupletSize, drawing.Italic, drawing.Centred, label)
}

// underOneBeam returns the beamed group that is the whole tuplet.
func (t tuplet) underOneBeam() (beamed, bool) {
	for _, g := range beamsOf(t.Measure) {
		if g.first == t.First && g.last == t.Last {
			return g, true
		}
	}
	return beamed{}, false
}
