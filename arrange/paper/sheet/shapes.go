package sheet

import (
	"fmt"
	"math"
	"slices"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet/flow"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// Measures of the map of the key's thirds.
const (
	mapString  = 2.6 // from string to string
	closeMap   = 2.2 // the same beside the grips
	mapFret    = 7.5 // from fret to fret, at most
	mapDot     = 0.9
	mapSize    = 1.45 // of the font of a degree
	alterSize  = 1.15 // of one with an accidental
	majorLine  = 0.36 // joins a major third
	minorLine  = 0.12 // joins any other
	headSize   = 1.9
	legendSize = 1.5
	legendLine = 2.6
	stringLine = 0.10
	fretLine   = 0.16
	nut        = 0.5
	inlaySize  = 0.22
	nameRoom   = 1.8 // of the strings' names
)

// A neckMap is a part of the neck with the thirds that lie there. The neck lies
// flat: the highest string at the top, the nut at the left.
type neckMap struct {
	layout  *layout
	thirds  []mapThird
	dots    []mapDotAt
	low     int     // the lowest fret shown; 0 has a column of its own left of the nut
	columns int     // frets shown
	fret    float64 // width of a column
	str     float64 // from string to string
}

// A mapThird is a third of the map.
type mapThird struct {
	neck.Pair
	major bool
	used  bool // by the line
}

// A mapDotAt is what stands at a place of the map.
type mapDotAt struct {
	neck.Place
	degree  int
	altered string // the accidental that makes it another tone than the key's, or ""
	used    bool
}

// newNeckMap returns the map of the score's key in its position, no wider than a
// width, with what the line plays from outside the key; nil where the position has
// no third.
func newNeckMap(l *layout, width float64) *neckMap {
	m := &neckMap{layout: l, str: mapString}
	if l.mapBeside {
		m.str = closeMap
	}
	known := map[neck.Pair]bool{}
	add := func(notes theory.Third, places neck.Pair, used bool) {
		if known[places] {
			return
		}
		known[places] = true
		m.thirds = append(m.thirds, mapThird{places, notes.Interval().Semitones == 4, used})
		m.dot(notes.Lower, places.Lower, used)
		m.dot(notes.Upper, places.Upper, used)
	}
	for _, t := range l.score.Line {
		add(t.Notes, t.Places, true)
	}
	for _, pattern := range l.score.Neck.Map(l.score.Key, l.score.Position) {
		for _, t := range pattern.Thirds {
			add(t.Third, t.Pair, false)
		}
	}
	if len(m.thirds) == 0 {
		return nil
	}
	m.show(width)
	return m
}

// dot notes what stands at a place, the first time. What the line plays comes before what
// only lies there.
func (m *neckMap) dot(p theory.Pitch, at neck.Place, used bool) {
	if slices.ContainsFunc(m.dots, func(d mapDotAt) bool { return d.Place == at }) {
		return
	}
	key := m.layout.score.Key
	d := mapDotAt{Place: at, degree: key.Degree(p.Letter), used: used}
	if alter := p.Alter - key.Tones()[d.degree-1].Alter; alter != 0 {
		d.altered = theory.Tone{Alter: alter}.String()[1:]
	}
	m.dots = append(m.dots, d)
}

// show decides which frets are shown: all that have a third, or where the hand is
// free on the neck, those that the line plays and one more on both sides. Without a
// line these are the frets up to the twelfth, where all comes again.
func (m *neckMap) show(width float64) {
	_, fixed := m.layout.score.Position.Fret()
	free := !fixed && m.layout.score.Position != neck.Open
	var frets []int
	for _, d := range m.dots {
		if !free || d.used {
			frets = append(frets, d.Fret)
		}
	}
	last := m.layout.score.Neck.LastFret()
	switch {
	case frets == nil:
		frets = []int{0, min(last, 12)}
	case free:
		frets = append(frets, max(0, slices.Min(frets)-1), min(last, slices.Max(frets)+1))
	}
	low, high := slices.Min(frets), slices.Max(frets)
	m.low, m.columns = low, high-low+1
	m.fret = min(mapFret, (width-nameRoom)/float64(m.columns))
	shown := func(fret int) bool { return fret >= low && fret <= high }
	var thirds []mapThird
	for _, t := range m.thirds {
		if shown(t.Lower.Fret) && shown(t.Upper.Fret) {
			thirds = append(thirds, t)
		}
	}
	m.thirds = thirds
	var dots []mapDotAt
	for _, d := range m.dots {
		if shown(d.Fret) {
			dots = append(dots, d)
		}
	}
	m.dots = dots
}

// width returns the map's width, the strings' names included.
func (m *neckMap) width() float64 { return nameRoom + float64(m.columns)*m.fret }

// at returns where a place lies: in the middle of its column.
func (m *neckMap) at(p neck.Place) drawing.Point {
	return drawing.Pt((float64(p.Fret-m.low)+0.5)*m.fret, float64(p.String-1)*m.str)
}

// marks draws the neck, the line between the notes of each third, and the places.
// The names of the strings stand left of the origin.
func (m *neckMap) marks() []drawing.Mark {
	marks := m.neck()
	for _, t := range m.thirds {
		thickness := minorLine
		if t.major {
			thickness = majorLine
		}
		a, b := m.at(t.Lower), m.at(t.Upper)
		if t.used {
			marks = append(marks, drawing.Stroke(a.X, a.Y, b.X, b.Y, thickness))
		} else {
			marks = append(marks, dashes(a, b, thickness)...)
		}
	}
	for _, d := range m.dots {
		marks = append(marks, d.marks(m.at(d.Place))...)
	}
	return marks
}

// neck draws strings with their names, frets with their numbers, and inlays.
func (m *neckMap) neck() (marks []drawing.Mark) {
	s := m.layout.score
	right, bottom := float64(m.columns)*m.fret, float64(s.Neck.Strings()-1)*m.str
	left := 0.0
	if m.low == 0 {
		left = m.fret
	}
	for i, open := range s.Neck.Tuning {
		y := bottom - float64(i)*m.str
		marks = append(marks,
			drawing.Stroke(left, y, right, y, stringLine),
			drawing.Text(-0.6, y+legendSize*drawing.CapHeight/2, legendSize, drawing.Regular, drawing.FromRight, open.Tone.String()))
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
		marks = append(marks, drawing.Text(x, bottom+3.1, legendSize, drawing.Regular, drawing.Centred, fmt.Sprint(m.low+i)))
		inlays := neck.Inlays(m.low + i + s.Neck.Capo)
		if x < left {
			inlays = 0
		}
		for j := range inlays {
			at := x + (float64(j)-float64(inlays-1)/2)*4*inlaySize
			marks = append(marks, drawing.Shape{Path: drawing.Circle(at, bottom+1.35, inlaySize)})
		}
	}
	return marks
}

// dashes draws a broken line.
func dashes(from, to drawing.Point, thickness float64) (marks []drawing.Mark) {
	const dash, gap = 0.45, 0.4
	length := math.Hypot(to.X-from.X, to.Y-from.Y)
	along := func(d float64) drawing.Point {
		return drawing.Pt(from.X+(to.X-from.X)*d/length, from.Y+(to.Y-from.Y)*d/length)
	}
	for d := 0.0; d < length; d += dash + gap {
		a, b := along(d), along(min(d+dash, length))
		marks = append(marks, drawing.Stroke(a.X, a.Y, b.X, b.Y, thickness))
	}
	return marks
}

// marks draws a place with its degree in the key: in a ring, filled where the line
// plays it; the tonic in a double ring, what is not the key's in a square on its
// corner.
func (d mapDotAt) marks(at drawing.Point) []drawing.Mark {
	outline := drawing.Circle(at.X, at.Y, mapDot)
	size := mapSize
	if d.altered != "" {
		r := 1.4 * mapDot
		outline = drawing.Polygon(drawing.Pt(at.X, at.Y-r), drawing.Pt(at.X+r, at.Y), drawing.Pt(at.X, at.Y+r), drawing.Pt(at.X-r, at.Y))
		size = alterSize
	}
	ink := drawing.White
	marks := []drawing.Mark{drawing.Shape{Path: outline, Ink: drawing.White}, drawing.Shape{Path: outline, Thickness: 0.14}}
	if d.used {
		marks = []drawing.Mark{drawing.Shape{Path: outline}}
	} else {
		ink = drawing.Black
	}
	if d.degree == 1 && d.altered == "" {
		marks = append([]drawing.Mark{
			drawing.Shape{Path: drawing.Circle(at.X, at.Y, mapDot+0.42), Ink: drawing.White},
			drawing.Shape{Path: drawing.Circle(at.X, at.Y, mapDot+0.35), Thickness: 0.14},
		}, marks...)
	}
	name := d.altered + fmt.Sprint(d.degree)
	return append(marks, drawing.Inked(drawing.Text(at.X, at.Y+size*drawing.CapHeight/2, size, drawing.Bold, drawing.Centred, name), ink))
}

func (l *layout) mapHeading() string {
	return fmt.Sprintf("The thirds of %s, %s", l.score.Key, l.score.Position.Name())
}

// mapMarks sets a map with its heading and legend in the middle of a width.
func (l *layout) mapMarks(m *neckMap, width float64) []drawing.Mark {
	lines := flow.Lines(l.mapHeading(), width, headSize, drawing.Bold)
	var marks []drawing.Mark
	y := -2.8 - 1.3*headSize*float64(len(lines))
	for _, line := range lines {
		y += 1.3 * headSize
		marks = append(marks, drawing.Text(width/2, y, headSize, drawing.Bold, drawing.Centred, line))
	}
	marks = append(marks, drawing.Moved(m.marks(), (width-m.width())/2+nameRoom, 0)...)
	bottom := drawing.BoundsOf(marks).Bottom
	return append(marks, drawing.Moved(m.legend(width), 0, bottom+2.8)...)
}

// legend says what the signs of the map mean, as far as they occur.
func (m *neckMap) legend(width float64) []drawing.Mark {
	y := -legendSize * drawing.CapHeight / 2
	var items [][]drawing.Mark
	item := func(words string, sign ...drawing.Mark) {
		items = append(items, append(sign, drawing.Text(drawing.BoundsOf(sign).Right+0.6, 0, legendSize, drawing.Italic, drawing.FromLeft, words)))
	}
	var used, unused, tonic, altered *mapDotAt
	for i := range m.dots {
		switch d := &m.dots[i]; {
		case d.altered != "":
			altered = d
		case d.degree == 1:
			tonic = d
		case d.used:
			used = d
		default:
			unused = d
		}
	}
	for _, row := range []struct {
		dot   *mapDotAt
		words string
	}{
		{used, "in this line"}, {unused, "elsewhere in the key"}, {tonic, "the tonic"}, {altered, "altered for a chord"},
	} {
		if row.dot != nil {
			item(row.words, row.dot.marks(drawing.Pt(0, y))...)
		}
	}
	third := func(words string, thickness float64) { item(words, drawing.Stroke(0, y, 2.4, y, thickness)) }
	third("major third", majorLine)
	third("minor third", minorLine)
	return flow.Centred(items, width, legendLine)
}
