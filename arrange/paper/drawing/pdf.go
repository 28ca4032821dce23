package drawing

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"time"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"

	"thirdwise/arrange/paper/drawing/tags"
)

// WritePDF writes a sheet as a PDF document, fonts embedded, text selectable, tagged.
// The same sheet gives the same bytes.
func WritePDF(w io.Writer, s *Sheet) error {
	pdf := fpdf.NewCustom(&fpdf.InitType{
		UnitStr: "mm",
		Size:    fpdf.SizeType{Wd: s.Paper.Width, Ht: s.Paper.Height},
	})
	// Nothing in the file may depend on the clock or on the order of a map.
	always := time.Unix(0, 0).UTC()
	pdf.SetCreationDate(always)
	pdf.SetModificationDate(always)
	pdf.SetCatalogSort(true)
	pdf.SetLang("en")
	pdf.SetTitle(inPairs(s.Title), true)
	pdf.SetSubject(inPairs(s.About), true)
	pdf.SetCreator("thirdwise", true)
	pdf.SetProducer("thirdwise", true)
	pdf.SetLineJoinStyle("round")
	for f, characters := range charactersOf(s.Pages) {
		if len(characters) > 0 {
			pdf.AddUTF8FontFromBytes("go", pdfStyles[f], slices.Clone(files[f]))
		}
	}
	out := &pdfWriter{Fpdf: pdf, space: s.Space}
	parts := make([][]tags.Part, len(s.Pages))
	for i, page := range s.Pages {
		pdf.AddPage()
		out.parts(page)
		parts[i] = tagsOf(page)
		if i == 0 {
			pdf.Bookmark(inPairs(s.Title), 0, 0)
		}
		for _, h := range page.Headings {
			pdf.Bookmark(inPairs(h.Name), 1, h.Y*s.Space)
		}
	}
	var document bytes.Buffer
	err := pdf.Output(&document)
	if err == nil {
		var whole []byte
		if whole, err = tags.Add(document.Bytes(), parts); err == nil {
			_, err = w.Write(whole)
		}
	}
	if err != nil {
		return fmt.Errorf("writing the sheet %q as PDF: %w", s.Title, err)
	}
	return nil
}

// inPairs encodes a text as fpdf reads it: each unit of UTF-16 in three bytes at most,
// so that a character beyond U+FFFF is two. Its own reading of UTF-8 ends there.
func inPairs(text string) string {
	var out []byte
	for _, unit := range utf16.Encode([]rune(text)) {
		switch {
		case unit < 0x80:
			out = append(out, byte(unit))
		case unit < 0x800:
			out = append(out, 0xc0|byte(unit>>6), 0x80|byte(unit&0x3f))
		default:
			out = append(out, 0xe0|byte(unit>>12), 0x80|byte(unit>>6&0x3f), 0x80|byte(unit&0x3f))
		}
	}
	return string(out)
}

// pdfStyles are the fonts' styles as fpdf names them.
var pdfStyles = [fontCount]string{Regular: "", Bold: "B", Italic: "I"}

type pdfWriter struct {
	*fpdf.Fpdf
	space float64 // a staff space in millimetres
}

func (w *pdfWriter) marks(marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Line:
			w.SetLineWidth(m.Thickness * w.space)
			w.Line(m.X1*w.space, m.Y1*w.space, m.X2*w.space, m.Y2*w.space)
		case Shape:
			if m.Thickness > 0 {
				w.SetLineWidth(m.Thickness * w.space)
				w.path(m.Path, "D")
				continue
			}
			w.fillIn(m.Ink)
			w.path(m.Path, "f")
		case Sign:
			w.fillIn(m.Ink)
			w.path(m.Glyph.outline().placed(m.X, m.Y, m.Size), "f")
		case Words:
			w.SetTextColor(greyOf(m.Ink), greyOf(m.Ink), greyOf(m.Ink))
			w.SetFont("go", pdfStyles[m.Font], 0)
			w.SetFontUnitSize(m.Size * w.space)
			w.Text(m.X*w.space, m.Y*w.space, m.Text)
		case Group:
			w.group(m)
		}
	}
}

// group writes a group's marks; where they spell out text with signs among the
// letters, a reader that copies or searches finds that text in their stead (ISO
// 32000-1, 14.9.4, replacement text).
func (w *pdfWriter) group(g Group) {
	if g.Reads == "" {
		w.marks(g.Marks)
		return
	}
	w.RawWriteStr("/Span <</ActualText " + tags.Text(g.Reads) + ">> BDC")
	w.marks(g.Marks)
	w.RawWriteStr("EMC")
}

func (w *pdfWriter) fillIn(i Ink) { w.SetFillColor(greyOf(i), greyOf(i), greyOf(i)) }

// greyOf returns an ink's lightness, 0 to 255.
func greyOf(i Ink) int { return [...]int{Black: 0, White: 255}[i] }

func (w *pdfWriter) path(p Path, style string) {
	for _, step := range p {
		q := step.Points
		switch step.Verb {
		case MoveTo:
			w.MoveTo(q[0].X*w.space, q[0].Y*w.space)
		case LineTo:
			w.LineTo(q[0].X*w.space, q[0].Y*w.space)
		case CurveTo:
			w.CurveBezierCubicTo(q[0].X*w.space, q[0].Y*w.space, q[1].X*w.space, q[1].Y*w.space, q[2].X*w.space, q[2].Y*w.space)
		case Close:
			w.ClosePath()
		}
	}
	w.DrawPath(style)
}
