package page

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/system"
)

// A Strip is a score's music for a screen: rows of staff and tab below one
// another, without a page around them. Lengths are in staff spaces.
type Strip struct {
	Width    float64 `json:"width"`    // of a row's music
	Staves   string  `json:"staves"`   // both, tab or notation
	Outlines string  `json:"outlines"` // SVG, of the signs and letters in the rows that are drawn here and in no strip before it
	Rows     []Row   `json:"rows"`
	Bars     []Box   `json:"bars"` // as written, in their order
}

// A Row is one row of a strip. Its thirds are numbered from its first, so that it stays
// the same where a row before it has more of them.
type Row struct {
	SVG   string `json:"svg,omitempty"` // left out where the page shows the row
	Shown int    `json:"shown"`         // index of the row that the page shows; -1 for none
	Third int    `json:"third"`         // how many thirds of the line go before the row
	drawn string // the SVG in any case

	Strings []float64 `json:"strings,omitempty"` // heights of the tab's strings, the highest string first
}

// A Box is the rectangle of a bar, from the left end of its row's first staff line on,
// and where its notes and rests begin.
type Box struct {
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
	Row    int     `json:"row"` // counted from 0

	Ticks []int     `json:"ticks"` // from the bar's start
	Xs    []float64 `json:"xs"`    // the place of each
}

// Distances of a strip, in staff spaces.
const (
	rowSpace    = 3.5 // between two rows
	stripMargin = 1.0 // left and right
)

// Redraw sets a score's music in rows of a width in staff spaces, or wider where a bar
// needs it, on both staves, "both", or on one, "tab" or "notation". It is for a page on
// which one waits for it at every key: rows that the page shows already are not drawn
// again, and numbers are drawn without text for a reader, who has the tab.
func Redraw(n *paper.Notation, width float64, staves string, shown []Row) (Strip, error) {
	music, err := musicOn(n, staves)
	if err != nil {
		return Strip{}, err
	}
	rows, width := broken(music, width)
	return newStrip(music, rows, width, staves, shown, new(drawing.Outlines), func(text string) bool { return strings.ContainsFunc(text, unicode.IsLetter) })
}

// musicOn lays a score's music out on staves.
func musicOn(n *paper.Notation, staves string) (*system.Music, error) {
	var on system.Staves
	if err := on.UnmarshalText([]byte(staves)); err != nil {
		return nil, err
	}
	if len(n.Measures) == 0 {
		return nil, fmt.Errorf("%q has no bars to show", n.Score.Title)
	}
	return system.Of(n, on, system.UsualFinger), nil
}

// broken breaks music into rows of a width, or of a greater one where a bar needs it.
func broken(music *system.Music, width float64) ([]system.Row, float64) {
	rows, _, ok := music.Break(width, 0)
	for !ok {
		width *= 1.1
		rows, _, ok = music.Break(width, 0)
	}
	return rows, width
}

// newStrip draws rows of music of a width, those that are not shown. The strip brings the
// outlines that have not been written yet.
func newStrip(music *system.Music, rows []system.Row, width float64, staves string, shown []Row, written *drawing.Outlines, read func(text string) bool) (Strip, error) {
	strip := Strip{Width: width, Staves: staves}
	var drawn []drawing.Mark // in this strip
	for i, r := range rows {
		set := music.SetAlone(r)
		row, err := newRow(set, width, read)
		if err != nil {
			return Strip{}, err
		}
		row.Shown = slices.IndexFunc(shown, func(other Row) bool { return other.drawn == row.drawn })
		if row.Shown < 0 {
			row.SVG = row.drawn
			drawn = append(drawn, set.Marks...)
		}
		strip.Rows = append(strip.Rows, row)
		for j, bar := range set.Bars {
			box := Box{
				X: thousandths(bar.Left), Y: thousandths(bar.Top),
				Width: thousandths(bar.Right - bar.Left), Height: thousandths(bar.Bottom - bar.Top), Row: i,
			}
			for _, onset := range set.Onsets[j] {
				box.Ticks, box.Xs = append(box.Ticks, onset.Tick), append(box.Xs, thousandths(onset.X))
			}
			strip.Bars = append(strip.Bars, box)
		}
	}
	var outlines strings.Builder
	err := written.Write(&outlines, drawn)
	strip.Outlines = outlines.String()
	return strip, err
}

// newRow draws a row of a width.
func newRow(set system.Alone, width float64, read func(text string) bool) (Row, error) {
	bounds := drawing.BoundsOf(set.Marks)
	shown := drawing.Box{
		Left: -stripMargin, Top: bounds.Top - rowSpace/2,
		Right: width + stripMargin, Bottom: bounds.Bottom + rowSpace/2,
	}
	var svg strings.Builder
	err := drawing.WriteInline(&svg, shown, set.Marks, read)
	row := Row{Third: set.Third, drawn: svg.String()}
	for _, y := range set.Strings {
		row.Strings = append(row.Strings, thousandths(y))
	}
	return row, err
}

// thousandths rounds a length as the SVG does: in the last digit of a power,
// processors differ.
func thousandths(length float64) float64 { return math.Round(length*1000) / 1000 }
