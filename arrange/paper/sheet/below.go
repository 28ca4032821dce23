package sheet

import (
	"fmt"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet/flow"
	"thirdwise/arrange/paper/system"
)

// shapes returns what stands below the music: what its signs mean, boxes to tick for
// the tempos and, where it does not stand beside the grips, the map of the key's thirds.
func (l *layout) shapes() []block {
	if l.kind == chordChart {
		return nil
	}
	var blocks []block
	if len(l.score.Line) > 0 {
		blocks = append(blocks, block{marks: l.arrivalLegend(), after: 2.6, role: drawing.Paragraph})
	}
	if l.kind == exercise {
		blocks = append(blocks, block{marks: l.tempoBoxes(), after: 3.4, role: drawing.Paragraph})
	}
	if m := newNeckMap(l, l.width); m != nil && !l.mapBeside {
		blocks = append(blocks, block{marks: l.mapMarks(m, l.width), role: drawing.Figure, says: l.mapHeading() + "."})
	}
	return blocks
}

// tempoBoxes sets a row of boxes to tick, one for each tempo and one for the climb.
func (l *layout) tempoBoxes() []drawing.Mark {
	const box = 1.5
	s := l.score
	var names []string
	for _, tempo := range s.Tempos {
		names = append(names, fmt.Sprint(tempo))
	}
	if s.Climb > 0 {
		names = append(names, fmt.Sprintf("climb by %d", s.Climb))
	}
	items := [][]drawing.Mark{{flow.Phrase(legendSize, drawing.Italic, "Practised at")}}
	for _, name := range names {
		top := -legendSize*drawing.CapHeight/2 - box/2
		items = append(items, []drawing.Mark{
			drawing.Shape{Thickness: 0.12, Path: drawing.Polygon(drawing.Pt(0, top), drawing.Pt(box, top), drawing.Pt(box, top+box), drawing.Pt(0, top+box))},
			drawing.Text(box+0.5, 0, legendSize, drawing.Regular, drawing.FromLeft, name),
		})
	}
	return flow.Centred(items, l.width, legendLine)
}

// arrivalLegend says how the sheet tells arrivals from the rest of the line, and how that
// goes; a ladder tells that itself.
func (l *layout) arrivalLegend() []drawing.Mark {
	words := func(text string) []drawing.Mark { return []drawing.Mark{flow.Phrase(legendSize, drawing.Italic, text)} }
	sign := system.ArrivalSign(0, -0.98)
	arrives := drawing.Moved(words("the line arrives: both notes belong to the chord"), sign.Bounds().Right+0.6, 0)
	items := [][]drawing.Mark{append([]drawing.Mark{sign}, arrives...)}
	if l.kind == exercise && l.score.Asked.Ladder.Along == "" {
		items = append(items, words("then by step, or by a skip within the chord"))
	}
	if l.options.Staves != system.Notation {
		items = append(items, words("small numbers: fingers"))
	}
	return flow.Centred(items, l.width, legendLine)
}
