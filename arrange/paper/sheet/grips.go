package sheet

import (
	"fmt"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet/flow"
	"thirdwise/arrange/paper/symbol"
	"thirdwise/arrange/score"
	"thirdwise/theory/neck"
)

// Measures of a chord diagram.
const (
	gridString = 1.2 // from string to string
	gridFret   = 1.5 // from fret to fret
	gridLine   = 0.1
	nutLine    = 0.4
	gridFrets  = 4 // at least
	gripDot    = 0.46
	gripSpace  = 3.2  // between two diagrams
	smallest   = 7    // points, of a finger's number
	gripSymbol = 1.98 // of the font of the chord symbol
)

// grips returns a diagram of each grip of the chart, in the order in which they
// are first played, in rows of a width that are centred and about equally long.
// Where one name has several grips, each tells the bar in which it first comes.
func (l *layout) grips(width float64) [][]drawing.Mark {
	type known struct{ symbol, grip string }
	seen := map[known]bool{}
	ways := map[string]int{} // to play what a symbol names
	type first struct {
		score.ChordSpan
		bar int
	}
	var firsts []first
	for _, b := range l.score.Bars {
		for _, span := range b.Chords {
			key := known{span.Symbol(), span.Grip.String()}
			if len(span.Grip) == 0 || seen[key] {
				continue
			}
			seen[key] = true
			ways[key.symbol]++
			firsts = append(firsts, first{span, b.Number})
		}
	}
	var diagrams [][]drawing.Mark
	for _, f := range firsts {
		bar := ""
		if ways[f.Symbol()] > 1 {
			bar = fmt.Sprintf("bar %d", f.bar)
		}
		diagrams = append(diagrams, l.gripDiagram(f.ChordSpan, bar))
	}
	return flow.InRows(diagrams, flow.Evenly(flow.Widths(diagrams), gripSpace, width), gripSpace, width)
}

// gripDiagram draws a grip as chord books do: strings upright, the lowest at the
// left; the nut as a thick line, or the lowest fret's number; dots for fingers
// with the finger's number below, a bar for a barre, o and x for strings that
// sound open or not at all. Where it is told, the bar stands below.
func (l *layout) gripDiagram(span score.ChordSpan, bar string) []drawing.Mark {
	grip := span.Grip
	low, high, _ := grip.Stopped()
	fromNut := high <= gridFrets
	if fromNut {
		low = 1
	}
	frets := max(gridFrets, high-low+1)
	right, bottom := float64(len(grip)-1)*gridString, float64(frets)*gridFret
	name := symbol.Width(gripSymbol, span)
	marks := []drawing.Mark{symbol.Set(right/2-name/2, -2.2, gripSymbol, span)}
	for i := range grip {
		x := float64(i) * gridString
		marks = append(marks, drawing.Stroke(x, 0, x, bottom, gridLine))
	}
	for i := range frets + 1 {
		y := float64(i) * gridFret
		marks = append(marks, drawing.Stroke(-gridLine/2, y, right+gridLine/2, y, gridLine))
	}
	if fromNut {
		marks = append(marks, drawing.Stroke(-gridLine/2, -nutLine/2, right+gridLine/2, -nutLine/2, nutLine))
	} else {
		marks = append(marks, drawing.Text(right+0.7, gridFret/2+0.45, 1.3, drawing.Regular, drawing.FromLeft, fmt.Sprintf("%d", low)))
	}
	at := func(fret int) float64 { return (float64(fret-low) + 0.5) * gridFret }
	fingers, held := grip.Fingers()
	fingerSize := max(1.25, l.points(smallest))
	for i, fret := range grip {
		x := float64(i) * gridString
		switch {
		case fret == neck.NotPlayed:
			marks = append(marks,
				drawing.Stroke(x-0.28, -1.13, x+0.28, -0.57, 0.13), drawing.Stroke(x-0.28, -0.57, x+0.28, -1.13, 0.13))
		case fret == 0:
			marks = append(marks, drawing.Shape{Thickness: 0.12, Path: drawing.Circle(x, -0.85, 0.29)})
		default:
			marks = append(marks, drawing.Shape{Path: drawing.Circle(x, at(fret), gripDot)})
			if held {
				marks = append(marks, drawing.Text(x, bottom+fingerSize+0.1, fingerSize, drawing.Regular, drawing.Centred, fmt.Sprint(fingers.Of[i])))
			}
		}
	}
	if held {
		for _, b := range fingers.Barres {
			from, to := float64(len(grip)-b.From)*gridString, float64(len(grip)-b.To)*gridString
			marks = append(marks, drawing.Stroke(from, at(b.Fret), to, at(b.Fret), 2*gripDot*0.8))
		}
	}
	if bar != "" {
		marks = append(marks, drawing.Text(right/2, bottom+2.25*fingerSize, fingerSize, drawing.Italic, drawing.Centred, bar))
	}
	return []drawing.Mark{drawing.Group{Attributes: []drawing.Attribute{{Name: "grip", Value: grip.String()}}, Marks: marks}}
}
