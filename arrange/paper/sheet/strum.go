package sheet

import (
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
)

// Measures of the strumming pattern.
const (
	strokeSlot   = 2.4 // from slot to slot, at most
	strokeHeight = 1.3
	strokeWidth  = 1.0
	strokeLine   = 0.22
	countSize    = 1.4
	countLine    = 2.3 // from the foot of the strokes to the baseline of the counts
)

// strum draws the strumming pattern as guitar books do: for each slot of the bar
// the sign of a down-stroke or an up-stroke, or nothing where the strings ring on,
// and below how the bar is counted.
func (l *layout) strum() []drawing.Mark {
	s := l.score
	if len(s.Patterns) == 0 || s.Patterns[0].Picked() {
		return nil
	}
	pattern := s.Patterns[0]
	const label = "Strum"
	slot := min(strokeSlot, 0.8*l.width/float64(len(pattern)))
	ticks := s.Meter.Bar() / len(pattern)
	left := drawing.Italic.Width(factSize, label) + 1.6
	marks := []drawing.Mark{drawing.Text(0, 0, factSize, drawing.Italic, drawing.FromLeft, label)}
	var reads []string
	for i, stroke := range pattern {
		x := left + (float64(i)+0.5)*slot
		switch stroke.Sign {
		case score.Down, score.Damped:
			marks = append(marks, downStroke(x)...)
			reads = append(reads, "down")
		case score.Up:
			marks = append(marks, upStroke(x)...)
			reads = append(reads, "up")
		default:
			reads = append(reads, "-")
		}
		if count := paper.Count(s.Meter, i*ticks); count != "" {
			marks = append(marks, drawing.Text(x, countLine, countSize, drawing.Regular, drawing.Centred, count))
		}
	}
	box := drawing.BoundsOf(marks)
	return drawing.Moved([]drawing.Mark{drawing.Group{Reads: "Strum: " + strings.Join(reads, " "), Marks: marks}}, (l.width-box.Left-box.Right)/2, 0)
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
