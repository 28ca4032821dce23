package drawing

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
)

// everyMark is a sheet of two pages with each kind of mark, its bounds in a thin line
// around it; on the second page all is half as large.
func everyMark() *Sheet {
	var marks []Mark
	x, y := 4.0, 6.0
	add := func(m Mark) {
		box := m.Bounds()
		if x+box.Right-box.Left > 110 {
			x, y = 4, y+10
		}
		placed := Moved([]Mark{m}, x-box.Left, y)
		box = placed[0].Bounds()
		marks = append(append(marks, placed...), Shape{Thickness: 0.03, Path: Polygon(
			Pt(box.Left, box.Top), Pt(box.Right, box.Top), Pt(box.Right, box.Bottom), Pt(box.Left, box.Bottom))})
		x = box.Right + 2.5
	}
	add(Stroke(0, 0, 4, 0, 0.5))
	add(Stroke(0, -2, 0, 2, 0.5))
	add(Stroke(0, 2, 4, -2, 0.5))
	add(Shape{Path: Circle(0, 0, 2)})
	add(Shape{Path: Circle(0, 0, 2), Thickness: 0.5})
	add(Shape{Path: Polygon(Pt(0, 0), Pt(3, 1), Pt(1, 3))})
	add(Group{Marks: []Mark{Shape{Path: Circle(0, 0, 2)}, Shape{Path: Circle(0, 0, 1), Ink: White}, Inked(Text(0, 0.3, 1, Bold, Centred, "♯4"), Black)}})
	add(Group{ID: "badge", Attributes: []Attribute{{Name: "role", Value: "a < b"}}, Reads: "flat three",
		Marks: []Mark{Shape{Path: Circle(0, 0, 2)}, Inked(Text(0, 0.6, 1.6, Bold, Centred, "♭3"), White), Inked(SharpSign.At(2, 2, 0.5), White)}})
	for _, tie := range []Path{Tie(1, 2.1, 0, 0.4), Tie(1, 2.1, 0, -0.4), Tie(1, 13, 0, 1.1), Tie(1, 13, 0, -1.1)} {
		add(Shape{Path: tie})
	}
	for g := range glyphCount {
		add(g.At(0, 0, 1))
	}
	add(TrebleClef.At(0, 0, 0.6))
	for _, f := range []Font{Regular, Bold, Italic} {
		add(Text(0, 0, 2, f, FromLeft, "Ångström & Żółw <12> ½"))
		add(Text(0, 0, 2, f, Centred, "F♯m7♭5 / B♮ in"))
		add(Text(0, 0, 1.5, f, FromRight, "Лестница ♭ □ 字"))
	}
	return &Sheet{Title: "Marks <&>", About: "One of each kind.", Paper: Paper{Name: "wide", Width: 240, Height: 80}, Space: 2, Pages: []Page{
		{Marks: marks, Headings: []Heading{{Name: "First", Y: 10}, {Name: "♯", Y: 20.5}}, Parts: []Part{{Role: Heading1, End: 10}, {Role: Figure, Says: "signs", End: len(marks) - 1}}},
		{Marks: Scaled(marks, 0.5), Headings: []Heading{{Name: "Second", Y: 5}}, Parts: []Part{{Role: Paragraph, End: len(marks)}}},
	}}
}

// Marks that a person has looked at, in the SVG and as the PDF draws them.
func TestMarksLookAsTheyDid(t *testing.T) {
	var svg, inline, pdf bytes.Buffer
	require.NoError(t, WriteSVG(&svg, everyMark()))
	goldentest.Equal(t, filepath.Join("testdata", "marks.svg"), svg.String())
	require.NoError(t, WriteInline(&inline, Box{1, 2, 111, 42}, everyMark().Pages[0].Marks, nil))
	goldentest.Equal(t, filepath.Join("testdata", "inline.svg"), inline.String())
	require.NoError(t, WritePDF(&pdf, everyMark()))
	goldentest.Equal(t, filepath.Join("testdata", "marks.pdf.txt"), drawnBy(t, pdf.String()))
}

// drawnBy returns the operators of a document's pages, and what its outline leads to.
func drawnBy(t *testing.T, document string) string {
	var out strings.Builder
	for _, part := range strings.Split(document, "stream\n")[1:] {
		content, err := zlib.NewReader(strings.NewReader(part))
		if err != nil {
			continue
		}
		text, err := io.ReadAll(content)
		require.NoError(t, err)
		if bytes.Contains(text, []byte(" BDC")) {
			// The letters' numbers are those in the fonts that are embedded.
			out.Write(regexp.MustCompile(`(?s)\((?:[^\\)]|\\.)*\) Tj`).ReplaceAllFunc(text, func(shown []byte) []byte {
				return fmt.Appendf(nil, "%q Tj", shown[:len(shown)-3])
			}))
		}
	}
	for _, dest := range regexp.MustCompile(`/Title \(.*\)\n(/\w+ \d+ 0 R\n)*/Dest .*`).FindAllString(document, -1) {
		fmt.Fprintf(&out, "%q\n", dest)
	}
	return out.String()
}

func TestBoxesOverlapWhereTheyShareAnArea(t *testing.T) {
	box := Box{Left: 1, Top: 2, Right: 3, Bottom: 5}
	for _, c := range []struct {
		other Box
		want  bool
	}{
		{box, true}, {Box{0, 0, 9, 9}, true}, {Box{2, 3, 2.5, 4}, true},
		{Box{2, 4, 9, 9}, true}, {Box{0, 0, 2, 3}, true},
		{Box{3, 2, 4, 5}, false}, {Box{0, 2, 1, 5}, false}, {Box{1, 5, 3, 6}, false}, {Box{1, 0, 3, 2}, false}, // side by side
		{Box{4, 2, 5, 5}, false}, {Box{1, 6, 3, 7}, false}, {Box{4, 6, 5, 7}, false},
	} {
		require.Equal(t, c.want, box.Overlaps(c.other), "%v", c.other)
		require.Equal(t, c.want, c.other.Overlaps(box), "%v", c.other)
	}
}
