package drawing

import (
	"fmt"
	"math"
)

// A Sheet is pages of one size, ready to be written by [WriteSVG] and [WritePDF].
type Sheet struct {
	Title string
	About string // what the sheet holds, in a sentence or two, for who cannot see it
	Paper Paper
	Space float64 // a staff space, the distance between two lines of a staff, in millimetres
	Pages []Page
}

// A Paper is a size of sheet.
type Paper struct {
	Name          string
	Width, Height float64 // millimetres
}

// The sizes of paper: A4 (ISO 216) and US Letter (ANSI/ASME Y14.1).
var (
	A4     = Paper{Name: "a4", Width: 210, Height: 297}
	Letter = Paper{Name: "letter", Width: 215.9, Height: 279.4}
)

// UnmarshalText sets p to the size named by text: "a4" or "letter".
func (p *Paper) UnmarshalText(text []byte) error {
	for _, known := range []Paper{A4, Letter} {
		if string(text) == known.Name {
			*p = known
			return nil
		}
	}
	return fmt.Errorf("%q is not a size of paper; it must be %s or %s", text, A4.Name, Letter.Name)
}

// A Page is what is drawn on one sheet of paper. Lengths are in staff spaces of
// the [Sheet], from the page's top left corner, y down.
type Page struct {
	Marks    []Mark
	Headings []Heading
	Parts    []Part // in the order of the marks
}

// A Heading is a place on a page that a reader may want to go to.
type Heading struct {
	Name string
	Y    float64
}

// A Mark is a [Line], a [Shape], a [Sign], [Words] or a [Group] of marks.
type Mark interface {
	// Bounds returns the rectangle that the mark's ink lies within.
	Bounds() Box
	moved(dx, dy float64) Mark
	scaled(factor float64) Mark // about the page's origin
}

// An Ink is what a mark is drawn with.
type Ink int

// The inks.
const (
	Black Ink = iota
	White     // of the paper, on black
)

// A Line is a straight stroke with flat ends.
type Line struct {
	X1, Y1, X2, Y2 float64
	Thickness      float64
}

// Stroke returns the line from one point to another.
func Stroke(x1, y1, x2, y2, thickness float64) Line {
	return Line{X1: x1, Y1: y1, X2: x2, Y2: y2, Thickness: thickness}
}

// A Shape is an outline: filled with an ink, or where Thickness is not 0 stroked
// in black.
type Shape struct {
	Path      Path
	Thickness float64
	Ink       Ink
}

// A Sign is a sign of notation.
type Sign struct {
	X, Y  float64 // of the glyph's origin
	Size  float64 // 1 for a staff's own size
	Glyph Glyph
	Ink   Ink
}

// At returns the sign with its origin at a place, at a size.
func (g Glyph) At(x, y, size float64) Sign { return Sign{X: x, Y: y, Size: size, Glyph: g} }

// Words are set in one line, left to right, from X on; Y is the baseline.
type Words struct {
	X, Y float64
	Size float64 // of the font, in staff spaces
	Font Font
	Ink  Ink
	Text string
}

// A Group is marks that belong together.
type Group struct {
	ID         string      // unique in the sheet, or ""
	Attributes []Attribute // for programs that read the SVG
	Reads      string      // what the marks say together, where they spell out text; or ""
	Marks      []Mark
}

// An Attribute says something about a group. In SVG, its name follows "data-".
type Attribute struct{ Name, Value string }

// A Path is an outline: each step goes on from where the one before ended.
type Path []Step

// A Step is a move, a straight line, a cubic Bézier curve or the way back to
// where the last move went.
type Step struct {
	Verb   Verb
	Points [3]Point // as many as the verb needs, the end last
}

// A Verb is what a step of a path does.
type Verb byte

// The verbs, as SVG writes them.
const (
	MoveTo  Verb = 'M'
	LineTo  Verb = 'L'
	CurveTo Verb = 'C'
	Close   Verb = 'Z'
)

// count returns how many points a verb has.
func (v Verb) count() int {
	switch v {
	case MoveTo, LineTo:
		return 1
	case CurveTo:
		return 3
	}
	return 0
}

// A Point is a place on a page.
type Point struct{ X, Y float64 }

// Pt is shorthand for Point{X: x, Y: y}.
func Pt(x, y float64) Point { return Point{X: x, Y: y} }

// A Box is a rectangle.
type Box struct{ Left, Top, Right, Bottom float64 }

// Nothing returns the rectangle that holds no point: any other, added to it, stays
// as it is.
func Nothing() Box {
	far := math.Inf(1)
	return Box{far, far, -far, -far}
}

// With returns the smallest rectangle that holds both.
func (b Box) With(c Box) Box {
	return Box{min(b.Left, c.Left), min(b.Top, c.Top), max(b.Right, c.Right), max(b.Bottom, c.Bottom)}
}

// Overlaps reports whether two rectangles share an area.
func (b Box) Overlaps(c Box) bool {
	return b.Left < c.Right && c.Left < b.Right && b.Top < c.Bottom && c.Top < b.Bottom
}

// Bounds returns the rectangle that holds the line.
func (l Line) Bounds() Box {
	h := l.Thickness / 2
	b := Box{min(l.X1, l.X2), min(l.Y1, l.Y2), max(l.X1, l.X2), max(l.Y1, l.Y2)}
	if l.X1 == l.X2 {
		return Box{b.Left - h, b.Top, b.Right + h, b.Bottom}
	}
	if l.Y1 == l.Y2 {
		return Box{b.Left, b.Top - h, b.Right, b.Bottom + h}
	}
	return Box{b.Left - h, b.Top - h, b.Right + h, b.Bottom + h}
}

func (l Line) moved(dx, dy float64) Mark {
	l.X1, l.X2, l.Y1, l.Y2 = l.X1+dx, l.X2+dx, l.Y1+dy, l.Y2+dy
	return l
}

func (l Line) scaled(factor float64) Mark {
	return Line{l.X1 * factor, l.Y1 * factor, l.X2 * factor, l.Y2 * factor, l.Thickness * factor}
}

// Bounds returns the rectangle that holds the shape's points, those that a
// curve leans to included.
func (s Shape) Bounds() Box {
	b := s.Path.bounds()
	h := s.Thickness / 2
	return Box{b.Left - h, b.Top - h, b.Right + h, b.Bottom + h}
}

func (s Shape) moved(dx, dy float64) Mark {
	s.Path = s.Path.placed(dx, dy, 1)
	return s
}

func (s Shape) scaled(factor float64) Mark {
	s.Path, s.Thickness = s.Path.placed(0, 0, factor), s.Thickness*factor
	return s
}

func (p Path) bounds() Box {
	b := Nothing()
	for _, step := range p {
		for _, q := range step.Points[:step.Verb.count()] {
			b = b.With(Box{q.X, q.Y, q.X, q.Y})
		}
	}
	return b
}

// placed returns the path, scaled about its origin and then moved.
func (p Path) placed(dx, dy, scale float64) Path {
	out := make(Path, len(p))
	for i, step := range p {
		for j := range step.Points[:step.Verb.count()] {
			step.Points[j] = Point{step.Points[j].X*scale + dx, step.Points[j].Y*scale + dy}
		}
		out[i] = step
	}
	return out
}

// Bounds returns the rectangle that holds the sign.
func (s Sign) Bounds() Box {
	b := outlineBounds[s.Glyph]
	return Box{s.X + b.Left*s.Size, s.Y + b.Top*s.Size, s.X + b.Right*s.Size, s.Y + b.Bottom*s.Size}
}

func (s Sign) moved(dx, dy float64) Mark {
	s.X, s.Y = s.X+dx, s.Y+dy
	return s
}

func (s Sign) scaled(factor float64) Mark {
	s.X, s.Y, s.Size = s.X*factor, s.Y*factor, s.Size*factor
	return s
}

// Bounds returns a rectangle as wide as the words and as high as a capital
// letter.
func (w Words) Bounds() Box {
	return Box{w.X, w.Y - CapHeight*w.Size, w.X + w.Font.Width(w.Size, w.Text), w.Y}
}

func (w Words) moved(dx, dy float64) Mark {
	w.X, w.Y = w.X+dx, w.Y+dy
	return w
}

func (w Words) scaled(factor float64) Mark {
	w.X, w.Y, w.Size = w.X*factor, w.Y*factor, w.Size*factor
	return w
}

// Bounds returns the rectangle that holds all the group's marks.
func (g Group) Bounds() Box { return BoundsOf(g.Marks) }

func (g Group) moved(dx, dy float64) Mark {
	g.Marks = Moved(g.Marks, dx, dy)
	return g
}

func (g Group) scaled(factor float64) Mark {
	g.Marks = Scaled(g.Marks, factor)
	return g
}

// BoundsOf returns the rectangle that all the marks lie within.
func BoundsOf(marks []Mark) Box {
	b := Nothing()
	for _, m := range marks {
		b = b.With(m.Bounds())
	}
	return b
}

// Moved returns the marks, moved to the right and down.
func Moved(marks []Mark, dx, dy float64) []Mark {
	out := make([]Mark, len(marks))
	for i, m := range marks {
		out[i] = m.moved(dx, dy)
	}
	return out
}

// Scaled returns the marks, made larger or smaller by a factor about the origin.
func Scaled(marks []Mark, factor float64) []Mark {
	out := make([]Mark, len(marks))
	for i, m := range marks {
		out[i] = m.scaled(factor)
	}
	return out
}
