// Package pdf writes PDF documents: numbered objects, streams of content, and fonts of
// which the letters that are used are embedded. Objects come in as they stand in
// ISO 32000-1, which the numbers of sections below refer to; what they draw and say is the
// business of package drawing.
package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"strconv"
	"sync"
	"unicode/utf16"
)

// A Document is written object by object. Its zero value is empty.
type Document struct {
	body    bytes.Buffer
	offsets []int // of the objects within the document, from object 1 on; 0 for one that is still to come
}

// A Ref refers to an object of a document, by its number.
type Ref int

// String writes the reference as it stands in another object (7.3.10).
func (r Ref) String() string { return strconv.Itoa(int(r)) + " 0 R" }

// header tells the version, and in its comment that a document is no text (7.5.2).
const header = "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"

// Reserve returns a reference to an object that is still to be put.
func (d *Document) Reserve() Ref {
	d.offsets = append(d.offsets, 0)
	return Ref(len(d.offsets))
}

// Add adds an object.
func (d *Document) Add(object string) Ref {
	r := d.Reserve()
	d.Put(r, object)
	return r
}

// Put adds an object that was reserved.
func (d *Document) Put(r Ref, object string) {
	d.begin(r)
	d.body.WriteString(object)
	d.body.WriteString("\nendobj\n")
}

// A Packed is a stream as it stands in documents.
type Packed []byte

// Pack compresses a stream (7.4.4). Entries of its dictionary, which may be none, go
// before those that tell how it is stored.
func Pack(entries string, content []byte) Packed {
	packer := packers.Get().(*zlib.Writer)
	defer packers.Put(packer)
	var packed bytes.Buffer
	packer.Reset(&packed)
	packer.Write(content) // into memory, where nothing goes wrong
	packer.Close()
	p := fmt.Appendf(nil, "<<%s /Filter /FlateDecode /Length %d>>\nstream\n", entries, packed.Len())
	return append(append(p, packed.Bytes()...), "\nendstream"...)
}

// AddPacked adds a stream.
func (d *Document) AddPacked(p Packed) Ref {
	r := d.Reserve()
	d.begin(r)
	d.body.Write(p)
	d.body.WriteString("\nendobj\n")
	return r
}

// AddStream packs a stream and adds it.
func (d *Document) AddStream(entries string, content []byte) Ref {
	return d.AddPacked(Pack(entries, content))
}

// packers compress streams, one document's after another's: their tables are large.
var packers = sync.Pool{New: func() any {
	packer, err := zlib.NewWriterLevel(nil, zlib.BestSpeed)
	if err != nil {
		panic(err) // the level is one
	}
	return packer
}}

func (d *Document) begin(r Ref) {
	if d.body.Len() == 0 {
		d.body.WriteString(header)
	}
	d.offsets[r-1] = d.body.Len()
	fmt.Fprintf(&d.body, "%d 0 obj\n", int(r))
}

// Finish returns the whole document, behind whose objects stand the table of them and
// the trailer (7.5.4, 7.5.5). The catalog is its root; the other object tells about it.
func (d *Document) Finish(catalog, about Ref) []byte {
	table := d.body.Len()
	fmt.Fprintf(&d.body, "xref\n0 %d\n0000000000 65535 f \n", len(d.offsets)+1)
	for _, offset := range d.offsets {
		fmt.Fprintf(&d.body, "%010d 00000 n \n", offset)
	}
	fmt.Fprintf(&d.body, "trailer\n<</Size %d /Root %s /Info %s>>\nstartxref\n%d\n%%%%EOF\n", len(d.offsets)+1, catalog, about, table)
	return d.body.Bytes()
}

// Text writes a text as a string object, in UTF-16 (7.9.2.2).
func Text(text string) string {
	written := []byte("<FEFF")
	for _, unit := range utf16.Encode([]rune(text)) {
		written = appendHex(written, unit)
	}
	return string(append(written, '>'))
}

// appendHex appends a number in four digits.
func appendHex(written []byte, number uint16) []byte {
	const digits = "0123456789ABCDEF"
	return append(written, digits[number>>12], digits[number>>8&0xf], digits[number>>4&0xf], digits[number&0xf])
}
