package drawing

import (
	"fmt"
	"strings"

	"thirdwise/arrange/paper/drawing/pdf"
)

// A Part is marks of a page that follow one another and are one thing to a reader who
// hears the page: a heading, a paragraph, a figure.
type Part struct {
	Role Role
	Says string // what a figure shows, in words
	End  int    // index into the page's marks: of the first that does not belong to it
}

// A Role says what a part of a page is.
type Role int

// The roles. What belongs to no part is decoration, such as the number of the page.
const (
	Heading1 Role = iota
	Paragraph
	Figure
)

// roleNames are the roles as PDF names its structure types (ISO 32000-1, 14.8.4).
var roleNames = [...]string{Heading1: "H1", Paragraph: "P", Figure: "Figure"}

// parts writes a page's marks, each part as marked content with its number, and what is
// left as an artifact (ISO 32000-1, 14.8.2).
func (w *pdfWriter) parts(page Page) {
	start := 0
	for i, p := range page.Parts {
		w.write(fmt.Sprintf("/%s <</MCID %d>> BDC\n", roleNames[p.Role], i))
		w.marks(page.Marks[start:p.End])
		w.write("EMC\n")
		start = p.End
	}
	if start < len(page.Marks) {
		w.write("/Artifact BMC\n")
		w.marks(page.Marks[start:])
		w.write("EMC\n")
	}
}

// structure writes the tree of the parts of all pages in their order, and returns its
// root (ISO 32000-1, 14.7.2).
func (w *pdfWriter) structure(pages []pdf.Ref) pdf.Ref {
	root, whole := w.Reserve(), w.Reserve()
	var all, byPage strings.Builder
	for i, page := range w.sheet.Pages {
		fmt.Fprintf(&byPage, " %d [", i)
		for j, p := range page.Parts {
			says := ""
			if p.Says != "" {
				says = " /Alt " + pdf.Text(p.Says)
			}
			part := w.Add(fmt.Sprintf("<</Type /StructElem /S /%s /P %s /Pg %s /K %d%s>>", roleNames[p.Role], whole, pages[i], j, says))
			fmt.Fprintf(&all, " %s", part)
			fmt.Fprintf(&byPage, " %s", part)
		}
		byPage.WriteString(" ]")
	}
	w.Put(whole, fmt.Sprintf("<</Type /StructElem /S /Document /P %s /K [%s ]>>", root, all.String()))
	parents := w.Add("<</Nums [" + byPage.String() + " ]>>")
	w.Put(root, fmt.Sprintf("<</Type /StructTreeRoot /K %s /ParentTree %s /ParentTreeNextKey %d>>", whole, parents, len(pages)))
	return root
}
