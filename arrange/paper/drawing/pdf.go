package drawing

import (
	"fmt"
	"io"
	"strings"
	"sync"

	"thirdwise/arrange/paper/drawing/pdf"
)

// WritePDF writes a sheet as a PDF document, fonts embedded, text selectable, tagged.
// The same sheet gives the same bytes: no date is in it. Numbers of sections are those of
// ISO 32000-1.
func WritePDF(w io.Writer, s *Sheet) error {
	if len(s.Pages) == 0 {
		return fmt.Errorf("the sheet %q has no pages", s.Title)
	}
	out := &pdfWriter{sheet: s, scale: s.Space * 72 / 25.4}
	for f, characters := range charactersOf(s.Pages) {
		if len(characters) > 0 {
			out.fonts[f] = embedded[f]().Subset(characters)
		}
	}
	if _, err := w.Write(out.document()); err != nil {
		return fmt.Errorf("writing the sheet %q as PDF: %w", s.Title, err)
	}
	return nil
}

// embedded are the fonts as documents embed them.
var embedded = [fontCount]func() *pdf.Font{Regular: readEmbedded(Regular), Bold: readEmbedded(Bold), Italic: readEmbedded(Italic)}

func readEmbedded(f Font) func() *pdf.Font {
	return sync.OnceValue(func() *pdf.Font {
		font, err := pdf.ReadFont(files[f])
		if err != nil {
			panic("a font that is built in cannot be read: " + err.Error())
		}
		return font
	})
}

// pdfFonts and a sign's own name are what contents of pages call fonts and signs.
var pdfFonts = [fontCount]string{Regular: "/R", Bold: "/B", Italic: "/I"}

// A pdfWriter writes the document of a sheet.
type pdfWriter struct {
	pdf.Document
	sheet *Sheet
	scale float64 // points a staff space
	fonts [fontCount]*pdf.Subset
	signs [glyphCount]bool // that pages show

	content   []byte  // of the page that is being written
	thickness float64 // of lines there
	ink       Ink     // of what is filled there
}

// document returns the whole document.
func (w *pdfWriter) document() []byte {
	resources, tree := w.Reserve(), w.Reserve()
	var pages []pdf.Ref
	var kids strings.Builder
	for i, page := range w.sheet.Pages {
		w.content, w.thickness, w.ink = append(w.content[:0], "1 j\n"...), 0, Black // joins are round
		w.parts(page)
		content := w.AddStream("", w.content)
		p := w.Add(fmt.Sprintf("<</Type /Page /Parent %s /Resources %s /Contents %s /StructParents %d /Tabs /S>>", tree, resources, content, i))
		pages = append(pages, p)
		fmt.Fprintf(&kids, " %s", p)
	}
	w.Put(resources, w.resources())
	w.Put(tree, fmt.Sprintf("<</Type /Pages /Kids [%s ] /Count %d /MediaBox [0 0 %.2f %.2f]>>", kids.String(), len(pages), w.sheet.Paper.Width*72/25.4, w.height()))
	catalog := w.Add(fmt.Sprintf("<</Type /Catalog /Pages %s /Lang (en) /Outlines %s /PageMode /UseOutlines /ViewerPreferences <</DisplayDocTitle true>> /MarkInfo <</Marked true>> /StructTreeRoot %s>>",
		tree, w.outline(pages), w.structure(pages)))
	about := w.Add(fmt.Sprintf("<</Title %s /Subject %s /Creator (thirdwise) /Producer (thirdwise)>>", pdf.Text(w.sheet.Title), pdf.Text(w.sheet.About)))
	return w.Finish(catalog, about)
}

// height returns the paper's height in points.
func (w *pdfWriter) height() float64 { return w.sheet.Paper.Height * 72 / 25.4 }

// resources embeds the fonts, and the signs as form XObjects (8.10), and returns the
// dictionary that all pages share (7.8.3).
func (w *pdfWriter) resources() string {
	var fonts, signs strings.Builder
	for f, subset := range w.fonts {
		if subset != nil {
			fmt.Fprintf(&fonts, "%s %s ", pdfFonts[f], subset.Add(&w.Document))
		}
	}
	for g, shown := range w.signs {
		if shown {
			fmt.Fprintf(&signs, "/%s %s ", Glyph(g).Name(), w.AddPacked(forms()[g]))
		}
	}
	return fmt.Sprintf("<</Font <<%s>> /XObject <<%s>>>>", fonts.String(), signs.String())
}

// forms are the signs as objects of a document, about their origins, y up.
var forms = sync.OnceValue(func() (all [glyphCount]pdf.Packed) {
	for g := range all {
		b := outlineBounds[g]
		form := pdfWriter{scale: 1, sheet: &Sheet{}}
		form.path(outlines[g], "f")
		box := fmt.Sprintf("%s %s %s %s", appendNumber(nil, b.Left), appendNumber(nil, -b.Bottom), appendNumber(nil, b.Right), appendNumber(nil, -b.Top))
		all[g] = pdf.Pack("/Type /XObject /Subtype /Form /BBox ["+box+"] /Resources <<>>", form.content)
	}
	return all
})

// outline writes the tree of the headings, which hang below the title, and returns its
// root (12.3.3).
func (w *pdfWriter) outline(pages []pdf.Ref) pdf.Ref {
	root, title := w.Reserve(), w.Reserve()
	var items []pdf.Ref
	var places []string // what each item says, and where it leads
	for i, page := range w.sheet.Pages {
		for _, h := range page.Headings {
			items = append(items, w.Reserve())
			places = append(places, fmt.Sprintf("/Title %s /Dest [%s /XYZ 0 %s null]", pdf.Text(h.Name), pages[i], appendNumber(nil, w.height()-h.Y*w.scale)))
		}
	}
	below := ""
	for i, item := range items {
		beside := ""
		if i > 0 {
			beside += " /Prev " + items[i-1].String()
		}
		if i < len(items)-1 {
			beside += " /Next " + items[i+1].String()
		}
		w.Put(item, fmt.Sprintf("<<%s /Parent %s%s>>", places[i], title, beside))
	}
	if len(items) > 0 {
		below = fmt.Sprintf(" /First %s /Last %s /Count %d", items[0], items[len(items)-1], len(items))
	}
	w.Put(title, fmt.Sprintf("<</Title %s /Dest [%s /XYZ 0 %s null] /Parent %s%s>>", pdf.Text(w.sheet.Title), pages[0], appendNumber(nil, w.height()), root, below))
	w.Put(root, fmt.Sprintf("<</Type /Outlines /First %s /Last %s /Count %d>>", title, title, 1+len(items)))
	return root
}

func (w *pdfWriter) marks(marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Line:
			w.stroked(m.Thickness)
			w.point(m.X1, m.Y1).write("m ").point(m.X2, m.Y2).write("l S\n")
		case Shape:
			if m.Thickness > 0 {
				w.stroked(m.Thickness)
				w.path(m.Path, "S")
				continue
			}
			w.filled(m.Ink)
			w.path(m.Path, "f")
		case Sign:
			w.signs[m.Glyph] = true
			w.filled(m.Ink)
			w.write("q ").number(m.Size*w.scale).write("0 0 ").number(m.Size*w.scale).point(m.X, m.Y).write("cm /" + m.Glyph.Name() + " Do Q\n")
		case Words:
			if m.Text == "" {
				continue
			}
			w.filled(m.Ink)
			w.write("BT "+pdfFonts[m.Font]+" ").number(m.Size*w.scale).write("Tf ").point(m.X, m.Y).write("Td ")
			w.content = w.fonts[m.Font].Append(w.content, m.Text)
			w.write(" Tj ET\n")
		case Group:
			w.group(m)
		}
	}
}

// group writes a group's marks; where they spell out text with signs among the
// letters, a reader that copies or searches finds that text in their stead (14.9.4,
// replacement text).
func (w *pdfWriter) group(g Group) {
	if g.Reads == "" {
		w.marks(g.Marks)
		return
	}
	w.write("/Span <</ActualText " + pdf.Text(g.Reads) + ">> BDC\n")
	w.marks(g.Marks)
	w.write("EMC\n")
}

// stroked sets how thick the lines that follow are, in staff spaces.
func (w *pdfWriter) stroked(thickness float64) {
	if thickness != w.thickness {
		w.thickness = thickness
		w.number(thickness * w.scale).write("w\n")
	}
}

// filled sets the ink of what follows.
func (w *pdfWriter) filled(i Ink) {
	if i != w.ink {
		w.ink = i
		w.write([...]string{Black: "0 g\n", White: "1 g\n"}[i])
	}
}

// path draws a path, and then does with it what an operator says.
func (w *pdfWriter) path(p Path, operator string) {
	for _, step := range p {
		for _, q := range step.Points[:step.Verb.count()] {
			w.point(q.X, q.Y)
		}
		w.write(step.Verb.operator())
	}
	w.write(operator + "\n")
}

// operator returns what a verb is in the content of a page (8.5.2).
func (v Verb) operator() string {
	switch v {
	case MoveTo:
		return "m\n"
	case LineTo:
		return "l\n"
	case CurveTo:
		return "c\n"
	}
	return "h\n"
}

// write, number and point append to the content of the page; numbers and points with a
// space behind them.
func (w *pdfWriter) write(text string) *pdfWriter {
	w.content = append(w.content, text...)
	return w
}

func (w *pdfWriter) number(v float64) *pdfWriter {
	w.content = append(appendNumber(w.content, v), ' ')
	return w
}

// point appends a place on the page in points from its foot.
func (w *pdfWriter) point(x, y float64) *pdfWriter {
	return w.number(x * w.scale).number(w.height() - y*w.scale)
}
