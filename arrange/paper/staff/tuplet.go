package staff

import (
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

// Measures of tuplet brackets.
const (
	bracketLine = 0.14
	bracketHook = 0.7
	tupletSize  = 1.5 // of the number
	tupletSpace = 0.8 // between the notes and the bracket or number
)

// TupletMarks draws the tuplets of events at xs.
func (m *Measure) TupletMarks(xs []float64) (marks []drawing.Mark) {
	for _, t := range m.Tuplets {
		marks = append(marks, tuplet{m, t}.marks(xs)...)
	}
	return marks
}

// A tuplet is the number, and where no single beam shows what belongs together
// the bracket, of a tuplet.
type tuplet struct {
	*Measure
	paper.Tuplet
}

func (t tuplet) marks(xs []float64) []drawing.Mark {
	ups, notes := 0, 0
	box := drawing.Nothing()
	for i := t.First; i <= t.Last; i++ {
		f := t.Figures[i]
		if t.Events[i].Rest() {
			continue
		}
		notes++
		if f.Up {
			ups++
		}
		box = box.With(drawing.Box{Top: min(f.Upper-0.6, f.tip), Bottom: max(f.Lower+0.6, f.tip)})
	}
	above := 2*ups >= notes
	beside := func(top, bottom float64) float64 { // clear of notes and of the staff's lines
		if above {
			return min(top, 0) - tupletSpace
		}
		return max(bottom, BottomLine) + tupletSpace
	}
	label := t.Label()
	if g, ok := t.underOneBeam(); ok {
		beam := (t.Figures[g.first].tip + t.Figures[g.last].tip) / 2
		return []drawing.Mark{tupletNumber((stemX(xs[g.first], above)+stemX(xs[g.last], above))/2, beside(beam, beam), label)}
	}
	left, right, y := xs[t.First]-0.1, xs[t.Last]+drawing.HeadWidth+0.1, beside(box.Top, box.Bottom)
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

// tupletNumber sets a tuplet's number with its middle at a place.
func tupletNumber(x, y float64, label string) drawing.Mark {
	return drawing.Text(x, y+tupletSize*drawing.CapHeight/2, tupletSize, drawing.Italic, drawing.Centred, label)
}

// underOneBeam returns the beamed group that is the whole tuplet.
func (t tuplet) underOneBeam() (beamed, bool) {
	for _, g := range t.groups {
		if g.first == t.First && g.last == t.Last {
			return g, true
		}
	}
	return beamed{}, false
}
