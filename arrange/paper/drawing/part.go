package drawing

import (
	"fmt"

	"thirdwise/arrange/paper/drawing/tags"
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
		w.RawWriteStr(fmt.Sprintf("/%s <</MCID %d>> BDC", roleNames[p.Role], i))
		w.marks(page.Marks[start:p.End])
		w.RawWriteStr("EMC")
		start = p.End
	}
	if start < len(page.Marks) {
		w.RawWriteStr("/Artifact BMC")
		w.marks(page.Marks[start:])
		w.RawWriteStr("EMC")
	}
}

// tagsOf returns a page's parts as tags.
func tagsOf(page Page) []tags.Part {
	parts := make([]tags.Part, len(page.Parts))
	for i, p := range page.Parts {
		parts[i] = tags.Part{Role: roleNames[p.Role], Says: p.Says}
	}
	return parts
}
