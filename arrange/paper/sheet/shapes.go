package sheet

import (
	"fmt"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/system"
	"thirdwise/theory/neck"
)

// Measures of the map of the key's thirds.
const (
	mapString  = 2.6 // from string to string
	mapFret    = 7.5 // from fret to fret, at most
	mapDot     = 0.9
	mapSize    = 1.45 // of the font of a degree
	majorLine  = 0.36 // joins a major third
	minorLine  = 0.12 // joins any other
	headSize   = 1.9
	legendSize = 1.5
	stringLine = 0.10
	fretLine   = 0.16
	nut        = 0.5
)

// shapes returns the map of the key's thirds in the position, and what the signs
// of the sheet mean.
func (l *layout) shapes() []block {
	m := newNeckMap(l)
	heading := fmt.Sprintf("The thirds of %s, %s", l.score.Key, l.score.Position.Name())
	blocks := []block{{marks: l.arrivalLegend(), after: 3.4}}
	if m == nil {
		return blocks
	}
	width := float64(m.columns) * m.fret
	marks := []drawing.Mark{drawing.Text(l.width/2, -2.6, headSize, drawing.Bold, drawing.Centred, heading)}
	marks = append(marks, drawing.Moved(m.marks(), (l.width-width)/2, 0)...)
	legend := l.mapLegend()
	bottom := drawing.BoundsOf(marks).Bottom
	marks = append(marks, drawing.Moved(legend, 0, bottom+2.8)...)
	return append(blocks, block{marks: marks})
}

// A neckMap is a part of the neck with the thirds that lie there. The neck lies
// flat: the highest string at the top, the nut at the left.
type neckMap struct {
	layout   *layout
	patterns []neck.Pattern
	low      int     // the lowest fret shown; 0 has a column of its own left of the nut
	columns  int     // frets shown
	fret     float64 // width of a column
}

// newNeckMap returns the map of the score's key in its position; nil where the
// position has no third.
func newNeckMap(l *layout) *neckMap {
	m := &neckMap{layout: l, patterns: l.score.Neck.Map(l.score.Key, l.score.Position), low: neck.Frets}
	high := -1
	for _, pattern := range m.patterns {
		for _, t := range pattern.Thirds {
			m.low = min(m.low, t.Pair.Lower.Fret, t.Pair.Upper.Fret)
			high = max(high, t.Pair.Lower.Fret, t.Pair.Upper.Fret)
		}
	}
	if high < 0 {
		return nil
	}
	m.columns = high - m.low + 1
	m.fret = min(mapFret, l.width/float64(m.columns))
	return m
}

// at returns where a place lies: in the middle of its column.
func (m *neckMap) at(p neck.Place) drawing.Point {
	return drawing.Pt((float64(p.Fret-m.low)+0.5)*m.fret, float64(p.String-1)*mapString)
}

func (m *neckMap) marks() []drawing.Mark {
	strings := m.layout.score.Neck.Strings()
	right, bottom := float64(m.columns)*m.fret, float64(strings-1)*mapString
	left := 0.0
	if m.low == 0 {
		left = m.fret
	}
	var marks []drawing.Mark
	for str := range strings {
		y := float64(str) * mapString
		marks = append(marks, drawing.Stroke(left, y, right, y, stringLine))
	}
	for i := range m.columns + 1 {
		x, thickness := float64(i)*m.fret, fretLine
		if x < left {
			continue
		}
		if m.low == 0 && i == 1 {
			thickness = nut
		}
		marks = append(marks, drawing.Stroke(x, -fretLine/2, x, bottom+fretLine/2, thickness))
	}
	for i := range m.columns {
		x := (float64(i) + 0.5) * m.fret
		marks = append(marks, drawing.Text(x, bottom+2.6, legendSize, drawing.Regular, drawing.Centred, fmt.Sprint(m.low+i)))
	}
	marks = append(marks, m.joins()...)
	return append(marks, m.dots()...)
}

// joins draws the line between the two notes of each third.
func (m *neckMap) joins() []drawing.Mark {
	var marks []drawing.Mark
	for _, pattern := range m.patterns {
		for _, t := range pattern.Thirds {
			thickness := minorLine
			if t.Third.Interval().Semitones == 4 {
				thickness = majorLine
			}
			a, b := m.at(t.Pair.Lower), m.at(t.Pair.Upper)
			marks = append(marks, drawing.Stroke(a.X, a.Y, b.X, b.Y, thickness))
		}
	}
	return marks
}

// dots draws each place with its degree in the key, once.
func (m *neckMap) dots() []drawing.Mark {
	var marks []drawing.Mark
	drawn := map[neck.Place]bool{}
	dot := func(p neck.Place, degree int) {
		if drawn[p] {
			return
		}
		drawn[p] = true
		marks = append(marks, degreeDot(m.at(p), degree)...)
	}
	key := m.layout.score.Key
	for _, pattern := range m.patterns {
		for _, t := range pattern.Thirds {
			dot(t.Pair.Lower, key.Degree(t.Third.Lower.Letter))
			dot(t.Pair.Upper, key.Degree(t.Third.Upper.Letter))
		}
	}
	return marks
}

// degreeDot draws a degree of the key in a ring, the tonic in a full dot.
func degreeDot(at drawing.Point, degree int) []drawing.Mark {
	ring := drawing.Circle(at.X, at.Y, mapDot)
	number := drawing.Words{
		X: at.X - drawing.Bold.Width(mapSize, fmt.Sprint(degree))/2, Y: at.Y + mapSize*drawing.CapHeight/2,
		Size: mapSize, Font: drawing.Bold, Text: fmt.Sprint(degree),
	}
	if degree == 1 {
		number.Ink = drawing.White
		return []drawing.Mark{drawing.Shape{Path: ring}, number}
	}
	return []drawing.Mark{drawing.Shape{Path: ring, Ink: drawing.White}, drawing.Shape{Path: ring, Thickness: 0.14}, number}
}

// arrivalLegend says how the sheet tells arrivals from the rest of the line.
func (l *layout) arrivalLegend() []drawing.Mark {
	const words = "the line arrives: both notes belong to the chord. What is between leads on by step."
	sign := system.ArrivalSign(0, -0.98)
	text := drawing.Text(sign.Bounds().Right+0.6, 0, legendSize, drawing.Italic, drawing.FromLeft, words)
	marks := []drawing.Mark{sign, text}
	box := drawing.BoundsOf(marks)
	return drawing.Moved(marks, (l.width-box.Left-box.Right)/2, 0)
}

// mapLegend says what the signs of the map mean.
func (l *layout) mapLegend() []drawing.Mark {
	item := func(sign []drawing.Mark, words string) []drawing.Mark {
		return append(sign, drawing.Text(drawing.BoundsOf(sign).Right+0.6, 0, legendSize, drawing.Italic, drawing.FromLeft, words))
	}
	y := -legendSize * drawing.CapHeight / 2
	return l.flow([][]drawing.Mark{
		item(degreeDot(drawing.Pt(0, y), 1), "the tonic"),
		item(degreeDot(drawing.Pt(0, y), 3), "a degree of the key"),
		item([]drawing.Mark{drawing.Stroke(0, y, 2.4, y, majorLine)}, "major third"),
		item([]drawing.Mark{drawing.Stroke(0, y, 2.4, y, minorLine)}, "minor third"),
	})
}
