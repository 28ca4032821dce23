package drawing

import (
	"bufio"
	"fmt"
	"html"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// WriteSVG writes a sheet as one SVG image, the pages below one another, each
// in a group "page-1", "page-2" and so on. It needs nothing beside it and looks the
// same in every viewer: letters are drawn from their outlines, and the text itself
// lies over them, unpainted, to be read aloud, searched and copied. Where the image
// stands inline in a page, black is the colour of the text around it, and what is
// white on black has the class "paper".
func WriteSVG(w io.Writer, s *Sheet) error {
	out := &svgWriter{Writer: bufio.NewWriter(w)}
	width, height := s.Paper.Width, s.Paper.Height*float64(len(s.Pages))
	fmt.Fprintf(out, `<svg xmlns="http://www.w3.org/2000/svg" lang="en" width="%smm" height="%smm" viewBox="0 0 %s %s" fill="currentColor">`+"\n",
		number(width), number(height), number(width/s.Space), number(height/s.Space))
	fmt.Fprintf(out, "<title>%s</title>\n<desc>%s</desc>\n", html.EscapeString(s.Title), html.EscapeString(s.About))
	out.WriteString("<style>line,.stroke{fill:none;stroke:currentColor;stroke-linejoin:round}.paper{fill:#fff}text{fill:none;stroke:none}</style>\n")
	out.outlines(s)
	for i, page := range s.Pages {
		fmt.Fprintf(out, `<g id="page-%d" transform="translate(0 %s)">`+"\n", i+1, number(float64(i)*s.Paper.Height/s.Space))
		out.marks(page.Marks)
		out.WriteString("</g>\n")
	}
	out.WriteString("</svg>\n")
	return out.Flush()
}

type svgWriter struct{ *bufio.Writer }

// svgFonts names what each font is in style sheets.
var svgFonts = [fontCount]string{
	Regular: `font-family="Go,sans-serif"`,
	Bold:    `font-family="Go,sans-serif" font-weight="bold"`,
	Italic:  `font-family="Go,sans-serif" font-style="italic"`,
}

// charactersOf returns the characters of each font that a sheet uses, in order.
func charactersOf(s *Sheet) [fontCount][]rune {
	var used [fontCount]map[rune]bool
	for f := range used {
		used[f] = map[rune]bool{}
	}
	for _, page := range s.Pages {
		walk(page.Marks, func(m Mark) {
			words, ok := m.(Words)
			if !ok {
				return
			}
			for _, r := range words.Text {
				used[words.Font][r] = true
			}
		})
	}
	var out [fontCount][]rune
	for f := range used {
		out[f] = slices.Sorted(maps.Keys(used[f]))
	}
	return out
}

// walk calls f on each mark that is no group.
func walk(marks []Mark, f func(Mark)) {
	for _, m := range marks {
		if g, ok := m.(Group); ok {
			walk(g.Marks, f)
			continue
		}
		f(m)
	}
}

// outlines writes the outlines of the signs and letters that occur, once each.
func (w *svgWriter) outlines(s *Sheet) {
	var used [glyphCount]bool
	for _, page := range s.Pages {
		walk(page.Marks, func(m Mark) {
			if sign, ok := m.(Sign); ok {
				used[sign.Glyph] = true
			}
		})
	}
	w.WriteString("<defs>\n")
	for g := range used {
		if used[g] {
			fmt.Fprintf(w, `<path id="%s" d="%s"/>`+"\n", Glyph(g).Name(), pathText(Glyph(g).outline()))
		}
	}
	for f, characters := range charactersOf(s) {
		for _, r := range characters {
			if outline := letters[f]()[r].outline; len(outline) > 0 {
				fmt.Fprintf(w, `<path id="%s" d="%s"/>`+"\n", letterName(Font(f), r), pathText(outline))
			}
		}
	}
	w.WriteString("</defs>\n")
}

// letterName names the outline of a letter: "b43" for a bold C.
func letterName(f Font, r rune) string {
	return fmt.Sprintf("%c%x", [fontCount]rune{Regular: 'r', Bold: 'b', Italic: 'i'}[f], r)
}

// words draws a text from the outlines of its letters and lays the text itself,
// unpainted, over them.
func (w *svgWriter) words(m Words) {
	fmt.Fprintf(w, `<g%s transform="translate(%s %s) scale(%s)">`, inkClass(m.Ink), number(m.X), number(m.Y), number(m.Size))
	table := letters[m.Font]()
	x := 0.0
	for _, r := range m.Text {
		if len(table[r].outline) > 0 {
			at := ""
			if x > 0 {
				at = ` x="` + number(x) + `"`
			}
			fmt.Fprintf(w, `<use href="#%s"%s/>`, letterName(m.Font, r), at)
		}
		x += table[r].advance
	}
	fmt.Fprintf(w, `<text %s font-size="1" textLength="%s">%s</text></g>`+"\n", svgFonts[m.Font], number(x), html.EscapeString(m.Text))
}

func (w *svgWriter) marks(marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Line:
			fmt.Fprintf(w, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke-width="%s"/>`+"\n",
				number(m.X1), number(m.Y1), number(m.X2), number(m.Y2), number(m.Thickness))
		case Shape:
			if m.Thickness > 0 {
				fmt.Fprintf(w, `<path class="stroke" stroke-width="%s" d="%s"/>`+"\n", number(m.Thickness), pathText(m.Path))
				continue
			}
			fmt.Fprintf(w, `<path%s d="%s"/>`+"\n", inkClass(m.Ink), pathText(m.Path))
		case Sign:
			scale := ""
			if m.Size != 1 {
				scale = " scale(" + number(m.Size) + ")"
			}
			fmt.Fprintf(w, `<use%s href="#%s" transform="translate(%s %s)%s"/>`+"\n", inkClass(m.Ink), m.Glyph.Name(), number(m.X), number(m.Y), scale)
		case Words:
			w.words(m)
		case Group:
			w.group(m)
		}
	}
}

func (w *svgWriter) group(g Group) {
	w.WriteString("<g")
	if g.ID != "" {
		fmt.Fprintf(w, ` id="%s"`, html.EscapeString(g.ID))
	}
	for _, a := range g.Attributes {
		fmt.Fprintf(w, ` data-%s="%s"`, a.Name, html.EscapeString(a.Value))
	}
	if g.Reads != "" {
		fmt.Fprintf(w, ` role="img" aria-label="%s"`, html.EscapeString(g.Reads))
	}
	w.WriteString(">\n")
	w.marks(g.Marks)
	w.WriteString("</g>\n")
}

// inkClass returns an ink's class attribute.
func inkClass(i Ink) string {
	if i == White {
		return ` class="paper"`
	}
	return ""
}

func pathText(p Path) string {
	var b strings.Builder
	for _, step := range p {
		b.WriteByte(byte(step.Verb))
		for i, q := range step.Points[:step.Verb.count()] {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(number(q.X))
			b.WriteByte(' ')
			b.WriteString(number(q.Y))
		}
	}
	return b.String()
}

// number prints a length with at most three decimals: a few thousandths of a
// millimetre.
func number(v float64) string {
	thousandths := int64(math.Round(v * 1000))
	text := make([]byte, 0, 12)
	if thousandths < 0 {
		text, thousandths = append(text, '-'), -thousandths
	}
	text = strconv.AppendInt(text, thousandths/1000, 10)
	rest := thousandths % 1000
	if rest == 0 {
		return string(text)
	}
	text = append(text, '.', byte('0'+rest/100), byte('0'+rest/10%10), byte('0'+rest%10))
	for text[len(text)-1] == '0' {
		text = text[:len(text)-1]
	}
	return string(text)
}
