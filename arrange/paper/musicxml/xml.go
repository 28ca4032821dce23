package musicxml

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"slices"
)

// An xmlWriter writes XML to be read by people too: an element a line, indented
// by depth. Attributes are given as name and value in turn.
type xmlWriter struct {
	bytes.Buffer
	open []string // the elements begun and not yet ended
}

// begin opens an element that holds others.
func (x *xmlWriter) begin(name string, attributes ...string) {
	x.tag(name, attributes)
	x.WriteString(">\n")
	x.open = append(x.open, name)
}

// end closes the element that was opened last.
func (x *xmlWriter) end() {
	last := len(x.open) - 1
	name := x.open[last]
	x.open = x.open[:last]
	x.indent()
	fmt.Fprintf(x, "</%s>\n", name)
}

// leaf writes an element that holds a text or a number.
func (x *xmlWriter) leaf(name string, content any, attributes ...string) {
	x.tag(name, attributes)
	x.WriteString(">")
	x.escape(fmt.Sprint(content))
	fmt.Fprintf(x, "</%s>\n", name)
}

// empty writes an element that holds nothing.
func (x *xmlWriter) empty(name string, attributes ...string) {
	x.tag(name, attributes)
	x.WriteString("/>\n")
}

func (x *xmlWriter) tag(name string, attributes []string) {
	x.indent()
	x.WriteString("<" + name)
	for pair := range slices.Chunk(attributes, 2) {
		x.WriteString(" " + pair[0] + `="`)
		x.escape(pair[1])
		x.WriteString(`"`)
	}
}

func (x *xmlWriter) indent() {
	for range x.open {
		x.WriteString("  ")
	}
}

// escape never fails: a buffer takes all that it is given.
func (x *xmlWriter) escape(s string) { _ = xml.EscapeText(x, []byte(s)) }
