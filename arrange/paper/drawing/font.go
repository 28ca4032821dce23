package drawing

import (
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

// advances returns how far each character of a font moves on, as a part of the
// font's size. The fonts have some 700 characters, none beyond U+FFFF.
var advances = [fontCount]func() map[rune]float64{
	Regular: readAdvances(Regular), Bold: readAdvances(Bold), Italic: readAdvances(Italic),
}

func readAdvances(f Font) func() map[rune]float64 {
	return sync.OnceValue(func() map[rune]float64 {
		table := map[rune]float64{}
		face, err := sfnt.Parse(files[f])
		if err != nil {
			panic("a font that is built in cannot be read: " + err.Error())
		}
		var buffer sfnt.Buffer
		unit := fixed.Int26_6(face.UnitsPerEm())
		for r := rune(' '); r <= 0xffff; r++ {
			glyph, err := face.GlyphIndex(&buffer, r)
			if err != nil || glyph == 0 {
				continue
			}
			advance, err := face.GlyphAdvance(&buffer, glyph, unit, font.HintingNone)
			if err == nil {
				table[r] = float64(advance) / float64(unit)
			}
		}
		return table
	})
}

// has reports whether the font can set a character.
func (f Font) has(r rune) bool {
	_, ok := advances[f]()[r]
	return ok
}

// missing stands for a character that a font does not have.
const missing = '·'

// Width returns how wide a text is at a size. It may hold accidentals, which
// are set from outlines.
func (f Font) Width(size float64, text string) float64 {
	table := advances[f]()
	var sum float64
	for _, r := range text {
		if g, ok := inlineSigns[r]; ok {
			sum += g.advance
			continue
		}
		sum += table[r]
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
