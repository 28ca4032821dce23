// Package tags adds to a PDF document that a library has written what the library knows
// nothing of: its structure, by which a screen reader says what stands on each page
// (ISO 32000-1, 14.7 and 14.8). The pages' contents number the parts already.
package tags

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"
)

// A Part is one thing on a page to a reader who hears it.
type Part struct {
	Role string // as PDF names its structure types (ISO 32000-1, 14.8.4)
	Says string // what stands for it in words; "" where its own words do
}

// Text writes a text as a string object of PDF, in UTF-16.
func Text(text string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, unit := range utf16.Encode([]rune(text)) {
		fmt.Fprintf(&b, "%04X", unit)
	}
	return b.String() + ">"
}

// An update adds objects to a PDF document and replaces some: what is written behind
// it is an incremental update (ISO 32000-1, 7.5.6).
type update struct {
	bytes.Buffer
	offsets []int       // of the document's objects
	written map[int]int // offsets of the objects of the update
	next    int         // number of the next object
}

// documentEnd is what the library writes at a document's end.
var documentEnd = regexp.MustCompile(`trailer\n<<\n/Size (\d+)\n/Root (\d+) 0 R\n/Info (\d+) 0 R\n>>\nstartxref\n(\d+)\n%%EOF\n?$`)

// Add returns a document of the library with its structure added: the parts of each page in
// their order, with the numbers that they have in its contents, from 0. The error is a
// document that ends otherwise than the library's do.
func Add(document []byte, pages [][]Part) ([]byte, error) {
	end := documentEnd.FindSubmatch(document)
	if end == nil {
		return nil, errors.New("the end of the document is not as expected")
	}
	var numbers [4]int // size, root, info, offset of the table
	for i := range numbers {
		numbers[i], _ = strconv.Atoi(string(end[i+1])) // digits
	}
	u := &update{written: map[int]int{}, next: numbers[0]}
	u.Write(document)
	table := bytes.Split(document[numbers[3]:], []byte("\n"))[2:] // one line an object, behind xref and 0 SIZE
	for i := range numbers[0] {
		offset, err := strconv.Atoi(string(table[i][:10]))
		if err != nil {
			return nil, err
		}
		u.offsets = append(u.offsets, offset)
	}
	root := u.structure(document, pages)
	u.replace(document, numbers[1], fmt.Sprintf("/Version /1.7\n/MarkInfo <</Marked true>>\n/ViewerPreferences <</DisplayDocTitle true>>\n/StructTreeRoot %d 0 R\n", root))
	u.finish(numbers[1], numbers[2], numbers[3])
	return u.Bytes(), nil
}

// structure writes the tree of the parts, and returns the number of its root.
func (u *update) structure(document []byte, pages [][]Part) int {
	root, whole, parents := u.next, u.next+1, u.next+2
	u.next += 3
	var all []string
	var byPage strings.Builder
	number := 0
	for i, page := range pages {
		for number++; !bytes.HasPrefix(u.object(document, number), []byte("<</Type /Page\n")); number++ {
		}
		u.replace(document, number, fmt.Sprintf("/StructParents %d\n/Tabs /S", i))
		var here []string
		for j, p := range page {
			says := ""
			if p.Says != "" {
				says = " /Alt " + Text(p.Says)
			}
			here = append(here, fmt.Sprintf("%d 0 R", u.next))
			u.add(u.next, fmt.Sprintf("<</Type /StructElem /S /%s /P %d 0 R /Pg %d 0 R /K %d%s>>", p.Role, whole, number, j, says))
			u.next++
		}
		all = append(all, here...)
		fmt.Fprintf(&byPage, " %d [%s]", i, strings.Join(here, " "))
	}
	u.add(root, fmt.Sprintf("<</Type /StructTreeRoot /K %d 0 R /ParentTree %d 0 R /ParentTreeNextKey %d>>", whole, parents, len(pages)))
	u.add(whole, fmt.Sprintf("<</Type /StructElem /S /Document /P %d 0 R /K [%s]>>", root, strings.Join(all, " ")))
	u.add(parents, fmt.Sprintf("<</Nums [%s ]>>", byPage.String()))
	return root
}

// object returns what an object of the document holds.
func (u *update) object(document []byte, number int) []byte {
	_, object, _ := bytes.Cut(document[u.offsets[number]:], []byte(" 0 obj\n"))
	object, _, _ = bytes.Cut(object, []byte("\nendobj"))
	return object
}

// replace writes an object of the document again, a dictionary with more in it.
func (u *update) replace(document []byte, number int, more string) {
	object := bytes.TrimSuffix(u.object(document, number), []byte(">>"))
	u.add(number, string(object)+"\n"+more+">>")
}

func (u *update) add(number int, object string) {
	u.written[number] = u.Len()
	fmt.Fprintf(u, "%d 0 obj\n%s\nendobj\n", number, object)
}

// finish writes the table of the objects of the update, and the document's end.
func (u *update) finish(root, info, before int) {
	table := u.Len()
	u.WriteString("xref\n")
	for number := range u.next {
		if offset, ok := u.written[number]; ok {
			fmt.Fprintf(u, "%d 1\n%010d 00000 n \n", number, offset)
		}
	}
	fmt.Fprintf(u, "trailer\n<<\n/Size %d\n/Root %d 0 R\n/Info %d 0 R\n/Prev %d\n>>\nstartxref\n%d\n%%%%EOF\n", u.next, root, info, before, table)
}
