package drawing

import (
	"bufio"
	"html"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"sync"
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
	out.text(`<svg xmlns="http://www.w3.org/2000/svg" lang="en" width="`).number(width).text(`mm" height="`).number(height)
	out.text(`mm" viewBox="0 0 `).number(width / s.Space).text(" ").number(height / s.Space).text("\" fill=\"currentColor\">\n")
	out.text("<title>", html.EscapeString(s.Title), "</title>\n<desc>", html.EscapeString(s.About), "</desc>\n")
	out.text("<style>line,.stroke{fill:none;stroke:currentColor;stroke-linejoin:round}.paper{fill:#fff}text{fill:none;stroke:none}</style>\n")
	out.defs(new(Outlines).news(s.Pages))
	for i, page := range s.Pages {
		out.text(`<g id="page-`, strconv.Itoa(i+1), `" transform="translate(0 `).number(float64(i) * s.Paper.Height / s.Space).text(")\">\n")
		out.marks(page.Marks)
		out.text("</g>\n")
	}
	out.text("</svg>\n")
	return out.Flush()
}

// WriteInline writes marks as an SVG image for a page that has the rules of a sheet's
// style and, from [Outlines], those of signs and letters. It shows what is
// within a box. It is light, to be drawn while one waits: strokes that follow one another
// are one, and of the texts those alone are laid over their letters that are worth
// being read.
func WriteInline(w io.Writer, shown Box, marks []Mark, read func(text string) bool) error {
	buffer := buffers.Get().(*bufio.Writer)
	defer buffers.Put(buffer)
	buffer.Reset(w)
	out := &svgWriter{Writer: buffer, light: true, read: read}
	out.text(`<svg xmlns="http://www.w3.org/2000/svg" lang="en" viewBox="`).number(shown.Left).text(" ").number(shown.Top)
	out.text(" ").number(shown.Right - shown.Left).text(" ").number(shown.Bottom - shown.Top).text("\" fill=\"currentColor\">\n")
	out.marks(marks)
	out.text("</svg>\n")
	return out.Flush()
}

// buffers take what is written of inline images, of which a page has many.
var buffers = sync.Pool{New: func() any { return bufio.NewWriterSize(nil, 1<<15) }}

// Outlines are those of signs and letters that have been written. The zero value is
// none.
type Outlines struct {
	signs   [glyphCount]bool
	letters [fontCount]map[rune]bool
}

// Write writes the outlines of the signs and letters of marks that have not been written
// yet as an SVG image that shows nothing, each under the name by which [WriteInline] draws
// it. Where there are none it writes nothing.
func (o *Outlines) Write(w io.Writer, marks []Mark) error {
	out := &svgWriter{Writer: bufio.NewWriter(w)}
	if news := o.news([]Page{{Marks: marks}}); len(news) > 0 {
		out.text("<svg xmlns=\"http://www.w3.org/2000/svg\">\n").defs(news).text("</svg>\n")
	}
	return out.Flush()
}

// A named is an outline with its name.
type named struct {
	name string
	path Path
}

// news returns the outlines of signs and letters on pages that have not been written yet,
// and counts them as written.
func (o *Outlines) news(pages []Page) (news []named) {
	var used [glyphCount]bool
	for _, page := range pages {
		walk(page.Marks, func(m Mark) {
			if sign, ok := m.(Sign); ok {
				used[sign.Glyph] = true
			}
		})
	}
	for g := range used {
		if used[g] && !o.signs[g] {
			o.signs[g] = true
			news = append(news, named{Glyph(g).Name(), Glyph(g).outline()})
		}
	}
	for f, characters := range charactersOf(pages) {
		if o.letters[f] == nil {
			o.letters[f] = map[rune]bool{}
		}
		for _, r := range characters {
			if outline := letters[f]()[r].outline; len(outline) > 0 && !o.letters[f][r] {
				o.letters[f][r] = true
				news = append(news, named{letterName(Font(f), r), outline})
			}
		}
	}
	return news
}

type svgWriter struct {
	*bufio.Writer
	light bool                   // see WriteInline
	read  func(text string) bool // nil where every text is
}

// svgFonts names what each font is in style sheets.
var svgFonts = [fontCount]string{
	Regular: `font-family="Go,sans-serif"`,
	Bold:    `font-family="Go,sans-serif" font-weight="bold"`,
	Italic:  `font-family="Go,sans-serif" font-style="italic"`,
}

// charactersOf returns the characters of each font that pages use, in order.
func charactersOf(pages []Page) [fontCount][]rune {
	var used [fontCount]map[rune]bool
	for f := range used {
		used[f] = map[rune]bool{}
	}
	for _, page := range pages {
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

// defs writes outlines to refer to.
func (w *svgWriter) defs(outlines []named) *svgWriter {
	w.text("<defs>\n")
	for _, o := range outlines {
		w.text(`<path id="`, o.name, `" d="`).path(o.path).text("\"/>\n")
	}
	return w.text("</defs>\n")
}

// letterName names the outline of a letter: "b43" for a bold C.
func letterName(f Font, r rune) string {
	return string([fontCount]byte{Regular: 'r', Bold: 'b', Italic: 'i'}[f]) + strconv.FormatInt(int64(r), 16)
}

// words draws a text from the outlines of its letters and lays the text itself,
// unpainted, over them.
func (w *svgWriter) words(m Words) {
	w.text(`<g`, inkClass(m.Ink), ` transform="translate(`).number(m.X).text(" ").number(m.Y).text(") scale(").number(m.Size).text(`)">`)
	table := letters[m.Font]()
	x := 0.0
	for _, r := range m.Text {
		if len(table[r].outline) > 0 {
			w.text(`<use href="#`, letterName(m.Font, r), `"`)
			if x > 0 {
				w.text(` x="`).number(x).text(`"`)
			}
			w.text("/>")
		}
		x += table[r].advance
	}
	if w.read == nil || w.read(m.Text) {
		w.text("<text ", svgFonts[m.Font], ` font-size="1" textLength="`).number(x).text(`">`, html.EscapeString(m.Text), "</text>")
	}
	w.text("</g>\n")
}

// strokes writes the lines with which marks begin, all of one thickness, as one path,
// and returns how many they are.
func (w *svgWriter) strokes(marks []Mark) int {
	first := marks[0].(Line)
	w.text(`<path class="stroke" stroke-width="`).number(first.Thickness).text(`" d="`)
	for i, m := range marks {
		l, ok := m.(Line)
		if !ok || l.Thickness != first.Thickness {
			w.text("\"/>\n")
			return i
		}
		w.text("M").number(l.X1).text(" ").number(l.Y1).text("L").number(l.X2).text(" ").number(l.Y2)
	}
	w.text("\"/>\n")
	return len(marks)
}

func (w *svgWriter) marks(marks []Mark) {
	for i := 0; i < len(marks); i++ {
		switch m := marks[i].(type) {
		case Line:
			if w.light {
				i += w.strokes(marks[i:]) - 1
				continue
			}
			w.text(`<line x1="`).number(m.X1).text(`" y1="`).number(m.Y1)
			w.text(`" x2="`).number(m.X2).text(`" y2="`).number(m.Y2).text(`" stroke-width="`).number(m.Thickness).text("\"/>\n")
		case Shape:
			if m.Thickness > 0 {
				w.text(`<path class="stroke" stroke-width="`).number(m.Thickness).text(`"`)
			} else {
				w.text("<path", inkClass(m.Ink))
			}
			w.text(` d="`).path(m.Path).text("\"/>\n")
		case Sign:
			w.text("<use", inkClass(m.Ink), ` href="#`, m.Glyph.Name(), `" transform="translate(`).number(m.X).text(" ").number(m.Y).text(")")
			if m.Size != 1 {
				w.text(" scale(").number(m.Size).text(")")
			}
			w.text("\"/>\n")
		case Words:
			w.words(m)
		case Group:
			w.group(m)
		}
	}
}

func (w *svgWriter) group(g Group) {
	w.text("<g")
	if g.ID != "" {
		w.text(` id="`, html.EscapeString(g.ID), `"`)
	}
	for _, a := range g.Attributes {
		w.text(" data-", a.Name, `="`, html.EscapeString(a.Value), `"`)
	}
	if g.Reads != "" {
		w.text(` role="img" aria-label="`, html.EscapeString(g.Reads), `"`)
	}
	w.text(">\n")
	w.marks(g.Marks)
	w.text("</g>\n")
}

// inkClass returns an ink's class attribute.
func inkClass(i Ink) string {
	if i == White {
		return ` class="paper"`
	}
	return ""
}

// text writes texts one after the other; number and path go on behind them. A sheet
// is many thousand marks, which package fmt would take long to write.
func (w *svgWriter) text(texts ...string) *svgWriter {
	for _, t := range texts {
		w.WriteString(t)
	}
	return w
}

// number writes a length with at most three decimals: a few thousandths of a
// millimetre.
func (w *svgWriter) number(v float64) *svgWriter {
	w.Write(appendNumber(w.AvailableBuffer(), v))
	return w
}

func (w *svgWriter) path(p Path) *svgWriter {
	for _, step := range p {
		w.WriteByte(byte(step.Verb))
		for i, q := range step.Points[:step.Verb.count()] {
			if i > 0 {
				w.WriteByte(' ')
			}
			w.number(q.X).text(" ").number(q.Y)
		}
	}
	return w
}

func appendNumber(text []byte, v float64) []byte {
	thousandths := int64(math.Round(v * 1000))
	if thousandths < 0 {
		text, thousandths = append(text, '-'), -thousandths
	}
	text = strconv.AppendInt(text, thousandths/1000, 10)
	rest := thousandths % 1000
	if rest == 0 {
		return text
	}
	text = append(text, '.', byte('0'+rest/100), byte('0'+rest/10%10), byte('0'+rest%10))
	for text[len(text)-1] == '0' {
		text = text[:len(text)-1]
	}
	return text
}
