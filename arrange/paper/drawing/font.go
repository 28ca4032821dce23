package drawing

import (
	"slices"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A Font is a face of the Go fonts, which Bigelow & Holmes drew and the Go
// project gives away under its own licence.
type Font int

// The fonts.
const (
	Regular Font = iota
	Bold
	Italic
	fontCount
)

// files holds the fonts as TrueType files.
var files = [fontCount][]byte{Regular: goregular.TTF, Bold: gobold.TTF, Italic: goitalic.TTF}

// CapHeight is the height of a capital letter in the Go fonts, as a part of the
// font's size: 1480 of 2048 units.
const CapHeight = 1480.0 / 2048

// A letter is a character of a font at size 1: how far it moves on, and its
// outline, y down from the baseline.
type letter struct {
	advance float64
	outline Path
}

// letters returns the characters of a font. The fonts have some 700, none beyond
// U+FFFF.
var letters = [fontCount]func() map[rune]letter{
	Regular: readLetters(Regular), Bold: readLetters(Bold), Italic: readLetters(Italic),
}

func readLetters(f Font) func() map[rune]letter {
	return sync.OnceValue(func() map[rune]letter {
		table := map[rune]letter{}
		face, err := sfnt.Parse(files[f])
		if err != nil {
			panic("a font that is built in cannot be read: " + err.Error())
		}
		var buffer sfnt.Buffer
		em := fixed.Int26_6(face.UnitsPerEm())
		for r := rune(' '); r <= 0xffff; r++ {
			glyph, err := face.GlyphIndex(&buffer, r)
			if err != nil || glyph == 0 {
				continue
			}
			advance, err := face.GlyphAdvance(&buffer, glyph, em, font.HintingNone)
			if err != nil {
				continue
			}
			outline, err := face.LoadGlyph(&buffer, glyph, em, nil)
			if err != nil {
				continue
			}
			table[r] = letter{float64(advance) / float64(em), pathOf(outline, float64(em))}
		}
		return table
	})
}

// pathOf returns the outline of a glyph whose em is so many units. The fonts are TrueType,
// which has no cubic curves.
func pathOf(outline sfnt.Segments, em float64) Path {
	at := func(p fixed.Point26_6) Point { return Point{float64(p.X) / em, float64(p.Y) / em} }
	var path Path
	var last Point
	for i, segment := range outline {
		switch segment.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				path = append(path, Step{Verb: Close})
			}
			last = at(segment.Args[0])
			path = append(path, Step{MoveTo, [3]Point{last}})
		case sfnt.SegmentOpLineTo:
			last = at(segment.Args[0])
			path = append(path, Step{LineTo, [3]Point{last}})
		case sfnt.SegmentOpQuadTo: // as a cubic: two thirds of the way to the handle
			handle, end := at(segment.Args[0]), at(segment.Args[1])
			near := func(p Point) Point { return Point{p.X + (handle.X-p.X)*2/3, p.Y + (handle.Y-p.Y)*2/3} }
			path = append(path, Step{CurveTo, [3]Point{near(last), near(end), end}})
			last = end
		}
	}
	if len(path) > 0 {
		path = append(path, Step{Verb: Close})
	}
	return path
}

// advances holds how far the first characters of Unicode move on in each font, for
// those that most texts are made of; 0 for one that a font does not have.
var advances = [fontCount]func() *[0x250]float64{
	Regular: readAdvances(Regular), Bold: readAdvances(Bold), Italic: readAdvances(Italic),
}

func readAdvances(f Font) func() *[0x250]float64 {
	return sync.OnceValue(func() *[0x250]float64 {
		var list [0x250]float64
		for r, l := range letters[f]() {
			if int(r) < len(list) {
				list[r] = l.advance
			}
		}
		return &list
	})
}

// has reports whether the font can set a character.
func (f Font) has(r rune) bool {
	_, ok := letters[f]()[r]
	return ok
}

// missing stands for a character that a font does not have.
const missing = '□'

// Missing returns the characters of a text that no sheet can show, each once, in
// the order in which they come.
func Missing(text string) string {
	var lacking []rune
	for _, r := range text {
		if _, ok := inlineSigns[r]; !ok && !Regular.has(r) && !slices.Contains(lacking, r) {
			lacking = append(lacking, r)
		}
	}
	return string(lacking)
}

// Width returns how wide a text is at a size. It may hold accidentals, which
// are set from outlines, and characters that the font lacks, for which a box stands.
func (f Font) Width(size float64, text string) float64 {
	table, usual := letters[f](), advances[f]()
	var sum float64
	for _, r := range text {
		if int(r) < len(usual) {
			sum += usual[r]
			continue
		}
		if g, ok := inlineSigns[r]; ok {
			sum += g.advance
			continue
		}
		glyph, ok := table[r]
		if !ok {
			glyph = table[missing]
		}
		sum += glyph.advance
	}
	return sum * size
}

// inlineSigns are the accidentals within text: which glyph, its size and its
// height above the baseline at a font of size 1, and how far the text moves on.
var inlineSigns = map[rune]struct {
	glyph               Glyph
	size, rise, advance float64
}{
	'♯': {SharpSign, 0.29, 0.38, 0.32},
	'♭': {FlatSign, 0.34, 0.31, 0.33},
	'♮': {NaturalSign, 0.29, 0.38, 0.24},
}
