package drawing

import (
	"bufio"
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/go-pdf/fpdf"
)

// WriteSVG writes a sheet as one SVG image, the pages below one another, each
// in a group "page-1", "page-2" and so on. It needs nothing beside it: the
// characters used of the fonts are embedded. Where the image stands inline in a
// page, black is the colour of the text around it, and what is white on black
// has the class "paper".
func WriteSVG(w io.Writer, s *Sheet) error {
	out := &svgWriter{Writer: bufio.NewWriter(w)}
	width, height := s.Paper.Width, s.Paper.Height*float64(len(s.Pages))
	fmt.Fprintf(out, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" role="img">`+"\n",
		number(width), number(height), number(width/s.Space), number(height/s.Space))
	fmt.Fprintf(out, "<title>%s</title>\n", html.EscapeString(s.Title))
	out.styles(s)
	out.signs(s)
	for i, page := range s.Pages {
		fmt.Fprintf(out, `<g id="page-%d" transform="translate(0 %s)">`+"\n", i+1, number(float64(i)*s.Paper.Height/s.Space))
		out.marks(page.Marks)
		out.WriteString("</g>\n")
	}
	out.WriteString("</svg>\n")
	return out.Flush()
}

type svgWriter struct{ *bufio.Writer }

// svgFonts names each font's class and weight.
var svgFonts = [fontCount]struct{ class, style string }{
	Regular: {"regular", ""},
	Bold:    {"bold", "font-weight:bold;"},
	Italic:  {"italic", "font-style:italic;"},
}

// styles writes the style sheet with the characters of each font that occur.
func (w *svgWriter) styles(s *Sheet) {
	w.WriteString("<style>\n")
	for f, characters := range charactersOf(s) {
		if characters == "" {
			continue
		}
		name := svgFonts[f]
		font := base64.StdEncoding.EncodeToString(fpdf.UTF8CutFont(slices.Clone(files[f]), characters))
		fmt.Fprintf(w, "@font-face{font-family:'thirdwise %s';src:url(data:font/ttf;base64,%s)}\n", name.class, font)
		fmt.Fprintf(w, ".%s{font-family:'thirdwise %s','Go',sans-serif;%sfill:currentColor;stroke:none}\n", name.class, name.class, name.style)
	}
	w.WriteString("path,line,use{fill:currentColor;stroke:none}line,.stroke{fill:none;stroke:currentColor;stroke-linejoin:round}.paper{fill:#fff}\n</style>\n")
}

// charactersOf returns the characters of each font that a sheet uses, in order.
func charactersOf(s *Sheet) [fontCount]string {
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
	var out [fontCount]string
	for f := range used {
		runes := make([]rune, 0, len(used[f]))
		for r := range used[f] {
			runes = append(runes, r)
		}
		slices.Sort(runes)
		out[f] = string(runes)
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

// signs writes the outlines of the signs that occur, once each.
func (w *svgWriter) signs(s *Sheet) {
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
	w.WriteString("</defs>\n")
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
			fmt.Fprintf(w, `<path%s d="%s"/>`+"\n", inkClass(m.Ink, ""), pathText(m.Path))
		case Sign:
			scale := ""
			if m.Size != 1 {
				scale = " scale(" + number(m.Size) + ")"
			}
			fmt.Fprintf(w, `<use href="#%s" transform="translate(%s %s)%s"/>`+"\n", m.Glyph.Name(), number(m.X), number(m.Y), scale)
		case Words:
			fmt.Fprintf(w, `<text%s x="%s" y="%s" font-size="%s">%s</text>`+"\n",
				inkClass(m.Ink, svgFonts[m.Font].class), number(m.X), number(m.Y), number(m.Size), html.EscapeString(m.Text))
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
		fmt.Fprintf(w, ` aria-label="%s"`, html.EscapeString(g.Reads))
	}
	w.WriteString(">\n")
	w.marks(g.Marks)
	w.WriteString("</g>\n")
}

// inkClass returns an ink's class attribute, beside another class.
func inkClass(i Ink, class string) string {
	if i == White {
		class = strings.TrimSpace(class + " paper")
	}
	if class == "" {
		return ""
	}
	return ` class="` + class + `"`
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
	return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64)
}
