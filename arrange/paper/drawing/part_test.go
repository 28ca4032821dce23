package drawing

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Each page's parts hang in the tree in their order, by the numbers that the pages'
// contents have; and the tables of objects point to them (ISO 32000-1, 7.5.4 to 7.5.6
// and 14.7).
func TestPDFIsTagged(t *testing.T) {
	words := func(text string) Mark { return Text(1, 2, 1, Regular, FromLeft, text) }
	page := Page{
		Marks: []Mark{words("Title"), words("some"), words("words"), words("7")},
		Parts: []Part{{Role: Heading1, End: 1}, {Role: Figure, Says: "Ä", End: 3}},
	}
	var out bytes.Buffer
	require.NoError(t, WritePDF(&out, &Sheet{Title: "Tags", Paper: A4, Space: 1.7, Pages: []Page{page, page}}))
	document := out.String()
	for number, offset := range objectsOf(t, document) {
		require.Regexp(t, fmt.Sprintf(`^%d 0 obj\n`, number), document[offset:])
	}
	roles := regexp.MustCompile(`/S /(H1|Figure) .*/K (\d)( /Alt <FEFF00C4>)?>>`).FindAllStringSubmatch(document, -1)
	var got []string
	for _, r := range roles {
		got = append(got, r[1]+r[2]+r[3])
	}
	require.Equal(t, []string{"H10", "Figure1 /Alt <FEFF00C4>", "H10", "Figure1 /Alt <FEFF00C4>"}, got)
	require.Regexp(t, `/Type /Catalog\n(.*\n)*/MarkInfo <</Marked true>>\n(.*\n)*/StructTreeRoot \d+ 0 R\n>>`, document)
	require.Contains(t, document, "/StructParents 0\n/Tabs /S>>")
	require.Contains(t, document, "/StructParents 1\n/Tabs /S>>")
}

// From the trailer's root one comes to each part, and back from it to its page: the tree
// is whole, and the table of parents tells the same (ISO 32000-1, 7.7.2 and 14.7.2 to 14.7.4).
func TestTheTreeOfTagsIsWhole(t *testing.T) {
	var out bytes.Buffer
	sheet := everyMark()
	require.NoError(t, WritePDF(&out, sheet))
	document := out.String()
	offsets := objectsOf(t, document)
	object := func(number string) string {
		n, err := strconv.Atoi(number)
		require.NoError(t, err)
		text, _, _ := strings.Cut(document[offsets[n]:], "endobj")
		return text
	}
	of := func(object, name string) string { // what an entry of a dictionary refers to
		found := regexp.MustCompile("/" + name + ` (\d+) 0 R`).FindStringSubmatch(object)
		require.NotNil(t, found, "%s of %s", name, object)
		return found[1]
	}
	references := func(list string) (numbers []string) {
		for _, found := range regexp.MustCompile(`(\d+) 0 R`).FindAllStringSubmatch(list, -1) {
			numbers = append(numbers, found[1])
		}
		return numbers
	}
	trailer := document[strings.LastIndex(document, "trailer"):]
	require.Contains(t, trailer, fmt.Sprintf("/Size %d\n", len(offsets)+1), "all objects and the one that is always free")
	require.Contains(t, object(of(trailer, "Info")), "/Title")
	catalog := object(of(trailer, "Root"))
	require.Contains(t, catalog, "/Type /Catalog")
	pages := references(regexp.MustCompile(`/Kids \[(.*)\]`).FindStringSubmatch(object(of(catalog, "Pages")))[1])
	require.Len(t, pages, len(sheet.Pages))

	root := of(catalog, "StructTreeRoot")
	tree := object(root)
	require.Contains(t, tree, "/Type /StructTreeRoot")
	require.Contains(t, tree, fmt.Sprintf("/ParentTreeNextKey %d", len(pages)))
	whole := of(tree, "K")
	require.Contains(t, object(whole), "/S /Document")
	require.Equal(t, root, of(object(whole), "P"))
	parts := references(regexp.MustCompile(`/K \[(.*)\]`).FindStringSubmatch(object(whole))[1])
	lists := regexp.MustCompile(`(\d+) \[([^\]]*)\]`).FindAllStringSubmatch(object(of(tree, "ParentTree")), -1)
	require.Len(t, lists, len(pages))
	for i, page := range sheet.Pages {
		require.Contains(t, object(pages[i]), fmt.Sprintf("/StructParents %d\n", i))
		require.Equal(t, fmt.Sprint(i), lists[i][1])
		require.Equal(t, parts[:len(page.Parts)], references(lists[i][2]))
		for j, p := range page.Parts {
			element := object(parts[j])
			require.Contains(t, element, fmt.Sprintf("/Type /StructElem /S /%s ", [...]string{Heading1: "H1", Paragraph: "P", Figure: "Figure"}[p.Role]))
			require.Equal(t, whole, of(element, "P"))
			require.Equal(t, pages[i], of(element, "Pg"))
			require.Regexp(t, fmt.Sprintf(`/K %d\b`, j), element)
		}
		parts = parts[len(page.Parts):]
	}
	require.Empty(t, parts)
}

// objectsOf reads the tables of a document from its end back, and returns where each
// object in use stands.
func objectsOf(t *testing.T, document string) map[int]int {
	objects := map[int]int{}
	entry := regexp.MustCompile(`^(\d{10}) \d{5} ([nf]) \n`)
	section := regexp.MustCompile(`^(\d+) (\d+)\n`)
	at := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`).FindStringSubmatch(document)[1]
	for at != "" {
		offset, err := strconv.Atoi(at)
		require.NoError(t, err)
		rest := document[offset:]
		require.Equal(t, "xref\n", rest[:5])
		rest = rest[5:]
		for {
			head := section.FindStringSubmatch(rest)
			if head == nil {
				break
			}
			rest = rest[len(head[0]):]
			first, _ := strconv.Atoi(head[1])
			count, _ := strconv.Atoi(head[2])
			for number := first; number < first+count; number++ {
				row := entry.FindStringSubmatch(rest)
				require.NotNil(t, row, "object %d", number)
				rest = rest[len(row[0]):]
				if _, newer := objects[number]; !newer && row[2] == "n" {
					objects[number], _ = strconv.Atoi(row[1])
				}
			}
		}
		at = ""
		if before := regexp.MustCompile(`^trailer\n<<\n(?:/\w+ \d+(?: 0 R)?\n)*?/Prev (\d+)\n`).FindStringSubmatch(rest); before != nil {
			at = before[1]
		}
	}
	require.NotEmpty(t, objects)
	return objects
}
