package page

import (
	"fmt"
	"math"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/system"
)

// A Strip is a score's music for a screen: rows of staff and tab below one
// another, without a page around them.
type Strip struct {
	Width  float64 `json:"width"`  // of the rows, in staff spaces
	Staves string  `json:"staves"` // both, tab or notation
	SVG    string  `json:"svg"`    // in staff spaces
	Bars   []Box   `json:"bars"`   // as written, in their order
}

// A Box is the rectangle of a bar, in staff spaces.
type Box struct {
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
	Row    int     `json:"row"` // counted from 0
}

// Distances of a strip, in staff spaces.
const (
	rowSpace    = 3.5 // between two rows
	stripMargin = 1.0 // around all
)

// NewStrip sets a score's music in rows of a width in staff spaces, or wider
// where a bar needs it, on both staves, "both", or on one, "tab" or "notation".
func NewStrip(n *paper.Notation, width float64, staves string) (Strip, error) {
	var shown system.Staves
	if err := shown.UnmarshalText([]byte(staves)); err != nil {
		return Strip{}, err
	}
	if len(n.Measures) == 0 {
		return Strip{}, fmt.Errorf("%q has no bars to show", n.Score.Title)
	}
	music := system.Of(n, shown, system.UsualFinger)
	rows, ok := music.Break(width, 0)
	for !ok {
		width *= 1.1
		rows, ok = music.Break(width, 0)
	}
	strip := Strip{Width: width, Staves: staves}
	var marks []drawing.Mark
	y := stripMargin
	for i, row := range rows {
		set, boxes := music.SetWithBoxes(row)
		bounds := drawing.BoundsOf(set)
		down := y - bounds.Top
		marks = append(marks, drawing.Moved(set, stripMargin, down)...)
		for _, box := range boxes {
			strip.Bars = append(strip.Bars, Box{
				X: thousandths(box.Left + stripMargin), Y: thousandths(box.Top + down),
				Width: thousandths(box.Right - box.Left), Height: thousandths(box.Bottom - box.Top), Row: i,
			})
		}
		y += bounds.Bottom - bounds.Top + rowSpace
	}
	var svg strings.Builder
	err := drawing.WriteSVG(&svg, &drawing.Sheet{
		Title: n.Score.Title,
		Paper: drawing.Paper{Width: width + 2*stripMargin, Height: y - rowSpace + stripMargin},
		Space: 1,
		Pages: []drawing.Page{{Marks: marks}},
	})
	strip.SVG = svg.String()
	return strip, err
}

// thousandths rounds a length as the SVG does: in the last digit of a power,
// processors differ.
func thousandths(length float64) float64 { return math.Round(length*1000) / 1000 }
