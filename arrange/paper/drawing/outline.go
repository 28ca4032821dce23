package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// outlines and outlineBounds hold each glyph's path and the rectangle that it
// lies within.
var outlines, outlineBounds = func() (paths [glyphCount]Path, boxes [glyphCount]Box) {
	for g := range glyphs {
		path, err := parsePath(glyphs[g].path)
		if err != nil {
			panic(fmt.Sprintf("outline of the %s: %v", glyphs[g].name, err))
		}
		paths[g] = path
		boxes[g] = path.bounds()
	}
	return paths, boxes
}()

// Name returns the sign's name in files: "treble-clef".
func (g Glyph) Name() string { return glyphs[g].name }

// outline returns the sign's path about its origin.
func (g Glyph) outline() Path { return outlines[g] }

// Width returns how far the sign reaches to the right of its origin.
func (g Glyph) Width() float64 { return glyphs[g].width }

// parsePath reads a path in the syntax of SVG; of its commands it knows M, L, C
// and Z.
func parsePath(s string) (Path, error) {
	var path Path
	for s != "" {
		step := Step{Verb: Verb(s[0])}
		switch step.Verb {
		case MoveTo, LineTo, CurveTo, Close:
		default:
			return nil, fmt.Errorf("unknown command %q", s[0])
		}
		s = s[1:]
		end := strings.IndexAny(s, "MLCZ")
		if end < 0 {
			end = len(s)
		}
		numbers := strings.Fields(s[:end])
		s = s[end:]
		if len(numbers) != 2*step.Verb.count() {
			return nil, fmt.Errorf("command %c has %d numbers", step.Verb, len(numbers))
		}
		for i, n := range numbers {
			value, err := strconv.ParseFloat(n, 64)
			if err != nil {
				return nil, err
			}
			if i%2 == 0 {
				step.Points[i/2].X = value
			} else {
				step.Points[i/2].Y = value
			}
		}
		path = append(path, step)
	}
	return path, nil
}

// Circle returns the outline of a circle.
func Circle(x, y, r float64) Path {
	const k = 0.5523 // of the radius: a quarter circle as a Bézier curve
	a := k * r
	return Path{
		{MoveTo, [3]Point{{x + r, y}}},
		{CurveTo, [3]Point{{x + r, y + a}, {x + a, y + r}, {x, y + r}}},
		{CurveTo, [3]Point{{x - a, y + r}, {x - r, y + a}, {x - r, y}}},
		{CurveTo, [3]Point{{x - r, y - a}, {x - a, y - r}, {x, y - r}}},
		{CurveTo, [3]Point{{x + a, y - r}, {x + r, y - a}, {x + r, y}}},
		{Verb: Close},
	}
}

// Polygon returns the outline through the given points.
func Polygon(points ...Point) Path {
	var path Path
	for i, p := range points {
		verb := LineTo
		if i == 0 {
			verb = MoveTo
		}
		path = append(path, Step{verb, [3]Point{p}})
	}
	return append(path, Step{Verb: Close})
}

// Tie returns the outline of a tie from one point to another on the same height,
// curving up (or down where height is negative): thin at the ends, thick in the
// middle.
func Tie(x1, x2, y, height float64) Path {
	const thickness = 0.2
	lean := min(0.3*(x2-x1), 1.5)
	// A cubic's middle lies three quarters of the way to its handles.
	outer, inner := height/0.75, (height-math.Copysign(thickness, height))/0.75
	return Path{
		{MoveTo, [3]Point{{x1, y}}},
		{CurveTo, [3]Point{{x1 + lean, y - outer}, {x2 - lean, y - outer}, {x2, y}}},
		{CurveTo, [3]Point{{x2 - lean, y - inner}, {x1 + lean, y - inner}, {x1, y}}},
		{Verb: Close},
	}
}
