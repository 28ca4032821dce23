package drawing

import (
	"bytes"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// Each page's parts hang in the tree in their order, by the numbers that the pages'
// contents have (ISO 32000-1, 14.7 and 14.8).
func TestPDFIsTagged(t *testing.T) {
	words := func(text string) Mark { return Text(1, 2, 1, Regular, FromLeft, text) }
	page := Page{
		Marks: []Mark{words("Title"), words("some"), words("words"), words("7")},
		Parts: []Part{{Role: Heading1, End: 1}, {Role: Figure, Says: "Ä", End: 3}},
	}
	var out bytes.Buffer
	require.NoError(t, WritePDF(&out, &Sheet{Title: "Tags", Paper: A4, Space: 1.7, Pages: []Page{page, page}}))
	document := out.String()
	roles := regexp.MustCompile(`/S /(H1|Figure) .*/K (\d)( /Alt <FEFF00C4>)?>>`).FindAllStringSubmatch(document, -1)
	var got []string
	for _, r := range roles {
		got = append(got, r[1]+r[2]+r[3])
	}
	require.Equal(t, []string{"H10", "Figure1 /Alt <FEFF00C4>", "H10", "Figure1 /Alt <FEFF00C4>"}, got)
	require.Regexp(t, `/Type /Catalog .*/MarkInfo <</Marked true>> /StructTreeRoot \d+ 0 R>>`, document)
	require.Contains(t, document, "/StructParents 0 /Tabs /S>>")
	require.Contains(t, document, "/StructParents 1 /Tabs /S>>")
	require.Regexp(t, `/H1 <</MCID 0>> BDC\n(.*\n)+EMC\n/Figure <</MCID 1>> BDC\n(.*\n)+EMC\n/Artifact BMC\n(.*\n)+EMC\n$`, drawn(t, out.Bytes())[0])
}
