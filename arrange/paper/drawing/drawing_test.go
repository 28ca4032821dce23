package drawing

import (
	"bytes"
	"compress/zlib"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The reference is go-pdf/fpdf, which reads the widths from the same font files
// with code of its own. It rounds each to a thousandth of the font's size.
func TestTextIsAsWideAsThePDFLibrarySays(t *testing.T) {
	const sample = "Porch Light: C major, 60–100, Żółw, 1½ × “ø°Δ”"
	for f, style := range pdfStyles {
		pdf := fpdf.New("P", "pt", "A4", "")
		pdf.AddUTF8FontFromBytes("go", style, bytes.Clone(files[f]))
		pdf.SetFont("go", style, 1000)
		require.InDelta(t, pdf.GetStringWidth(sample), Font(f).Width(1000, sample), 0.5*float64(len(sample)))
	}
}

// A path that does not close would be filled as if it did, and stroked open.
func TestOutlinesOfSignsAreClosed(t *testing.T) {
	for g := range glyphCount {
		path := g.outline()
		require.Equal(t, MoveTo, path[0].Verb, g.Name())
		require.Equal(t, Close, path[len(path)-1].Verb, g.Name())
		for i, step := range path[1:] {
			if step.Verb == MoveTo {
				require.Equal(t, Close, path[i].Verb, "%s: a part ends open", g.Name())
			}
		}
	}
}

// The sizes that handbooks of engraving give (Ross; Gould; from memory): a head
// is a space high and somewhat wider, the clef reaches above and below the staff
// from the G line, digits of a time signature are two spaces high.
func TestSignsHaveTheirUsualSizes(t *testing.T) {
	size := func(g Glyph) (width, height float64) {
		b := g.At(0, 0, 1).Bounds()
		return b.Right - b.Left, b.Bottom - b.Top
	}
	for _, head := range []Glyph{BlackHead, HalfHead} {
		width, height := size(head)
		require.InDelta(t, 1.2, width, 0.15, head.Name())
		require.InDelta(t, 1.0, height, 0.2, head.Name())
	}
	for g := Time0; g <= Time9; g++ {
		_, height := size(g)
		require.InDelta(t, 2.0, height, 0.06, g.Name())
	}
	clef := TrebleClef.At(0, 3, 1).Bounds()
	require.Less(t, clef.Top, -1.0)
	require.Greater(t, clef.Bottom, 5.0)
}

func TestParsePathRefusesWhatItCannotDraw(t *testing.T) {
	for path, says := range map[string]string{
		"Q0 0 1 1": `unknown command 'Q'`, "M0": "command M has 1 numbers", "M0 zero": `"zero"`, "C1 2 3 4": "command C has 4 numbers",
	} {
		_, err := parsePath(path)
		require.ErrorContains(t, err, says)
	}
}

// readsOf returns the text that marks spell out.
func readsOf(marks ...Mark) string {
	var b strings.Builder
	for _, m := range marks {
		switch m := m.(type) {
		case Words:
			b.WriteString(m.Text)
		case Group:
			if m.Reads != "" {
				b.WriteString(m.Reads)
			} else {
				b.WriteString(readsOf(m.Marks...))
			}
		}
	}
	return b.String()
}

func TestTextReadsAsItIs(t *testing.T) {
	for _, s := range []string{"plain", "F♯m7♭5/B♭", "♮", "漢字 🎸", ""} {
		require.Equal(t, s, readsOf(Text(0, 0, 2, Regular, Centred, s)))
	}
	b := Text(10, 0, 2, Bold, Centred, "Centre").Bounds()
	require.InDelta(t, 10, (b.Left+b.Right)/2, 1e-9)
	require.InDelta(t, 10, Text(10, 0, 2, Bold, FromRight, "F♯ minor").Bounds().Right, 1e-9)
}

func TestMovedMarksKeepTheirShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dx, dy := rapid.Float64Range(-50, 50).Draw(t, "dx"), rapid.Float64Range(-50, 50).Draw(t, "dy")
		marks := []Mark{
			Stroke(1, 2, 3, 4, 0.1), Stroke(1, 2, 1, 4, 0.1), SharpSign.At(2, 3, 0.7),
			Shape{Path: Circle(1, 2, 3)}, Shape{Path: Tie(1, 4, 2, -1), Thickness: 0.2},
			Group{Marks: []Mark{Text(1, 1, 2, Italic, FromLeft, "B♭ major")}},
		}
		for i, m := range Moved(marks, dx, dy) {
			before, after := marks[i].Bounds(), m.Bounds()
			require.InDelta(t, before.Left+dx, after.Left, 1e-9)
			require.InDelta(t, before.Top+dy, after.Top, 1e-9)
			require.InDelta(t, before.Right+dx, after.Right, 1e-9)
			require.InDelta(t, before.Bottom+dy, after.Bottom, 1e-9)
		}
	})
}

// sample is a sheet with one of each kind of mark.
func sample() *Sheet {
	return &Sheet{Title: "<Sample> & more", Paper: A4, Space: 1.7, Pages: []Page{
		{Marks: []Mark{
			Stroke(10, 10, 20, 10, 0.1),
			Group{ID: "one", Attributes: []Attribute{{Name: "role", Value: `"a" & b`}}, Marks: []Mark{TrebleClef.At(10, 13, 1)}},
			Shape{Path: Circle(30, 30, 2), Thickness: 0.2},
			Text(10, 40, 2, Regular, FromLeft, "a < b & c, in B♭"),
		}},
		{Marks: []Mark{Words{X: 5, Y: 5, Size: 2, Font: Bold, Ink: White, Text: "2"}}},
	}}
}

func TestSVGIsWellFormed(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, WriteSVG(&out, sample()))
	for d := xml.NewDecoder(&out); ; {
		_, err := d.Token()
		if err == io.EOF {
			return
		}
		require.NoError(t, err)
	}
}

func TestPagesOfAnSVGStandBelowOneAnother(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, WriteSVG(&out, sample()))
	require.Contains(t, out.String(), `width="210mm" height="594mm" viewBox="0 0 123.529 349.412"`)
	require.Contains(t, out.String(), `<g id="page-2" transform="translate(0 174.706)">`) // 297 mm in spaces of 1.7
}

// A tenth of a space of 1.7 mm is 0.48 points, and ten spaces are 48.19 (ISO
// 32000-1: line width, path construction; y counts from the foot of the page).
func TestPDFIsDrawnInMillimetres(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, WritePDF(&out, sample()))
	var drawn strings.Builder
	for _, part := range bytes.Split(out.Bytes(), []byte("stream\n"))[1:] {
		if content, err := zlib.NewReader(bytes.NewReader(part)); err == nil {
			text, _ := io.ReadAll(content) // what follows the stream is no part of it
			drawn.Write(text)
		}
	}
	require.Contains(t, drawn.String(), "0.48 w\n48.19 793.70 m 96.38 793.70 l S")
}

type fullDisk struct{}

var errFull = errors.New("no space left on device")

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

func TestFailureToWriteIsReported(t *testing.T) {
	require.ErrorIs(t, WriteSVG(fullDisk{}, sample()), errFull)
	require.ErrorIs(t, WritePDF(fullDisk{}, sample()), errFull)
}

// ISO 216 and ANSI/ASME Y14.1.
func TestPaperIsReadByItsName(t *testing.T) {
	var p Paper
	require.NoError(t, p.UnmarshalText([]byte("a4")))
	require.Equal(t, [2]float64{210, 297}, [2]float64{p.Width, p.Height})
	require.NoError(t, p.UnmarshalText([]byte("letter")))
	require.Equal(t, [2]float64{215.9, 279.4}, [2]float64{p.Width, p.Height})
	require.ErrorContains(t, p.UnmarshalText([]byte("a5")), `"a5"`)
}

// The Go fonts have Latin, Greek and Cyrillic, and no kana, Hebrew or Arabic.
func TestLettersThatFontsLackAreTold(t *testing.T) {
	require.Empty(t, Missing("Łódź, Ελλάδα, Лестница: F♯ – B♭"))
	require.Equal(t, "夜のש", Missing("a 夜のש の"))
}

// Title and outline hold any character, in UTF-16 with its mark of byte order (ISO
// 32000-1, 7.9.2.2): this one is two units.
func TestTitleAndOutlineOfAPDFHoldAnyCharacter(t *testing.T) {
	const clef = "\U0001D11E"
	var out bytes.Buffer
	require.NoError(t, WritePDF(&out, &Sheet{Title: "שלום \u0800\u0080\u007f" + clef, About: "é", Paper: A4, Space: 1.7, Pages: []Page{{
		Marks: []Mark{Text(1, 2, 1, Regular, FromLeft, "x")}, Headings: []Heading{{Name: clef, Y: 3}},
	}}}))
	require.Contains(t, out.String(), "/Title (\xfe\xff\x05\xe9\x05\xdc\x05\xd5\x05\xdd\x00 \x08\x00\x00\x80\x00\x7f\xd8\x34\xdd\x1e)")
	require.Contains(t, out.String(), "/Title (\xfe\xff\xd8\x34\xdd\x1e)")
	require.Contains(t, out.String(), "/Subject (\xfe\xff\x00\xe9)")
}

// A document that is made again is the same to the byte, so it has no date of its own, and
// of the fonts it holds those that it uses.
func TestAPDFHoldsNoMoreThanItNeeds(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, WritePDF(&out, &Sheet{Title: "Plain", Paper: A4, Space: 1.7, Pages: []Page{{
		Marks: []Mark{Text(1, 2, 1, Regular, FromLeft, "x"), Text(1, 4, 1, Italic, FromLeft, "x")},
	}}}))
	require.Contains(t, out.String(), "/CreationDate (D:19700101000000)")
	require.Contains(t, out.String(), "/ModDate (D:19700101000000)")
	require.Equal(t, 2, strings.Count(out.String(), "/FontFile2"))
}

// A box stands for what a font lacks, and has its room.
func TestWhatAFontLacksHasTheWidthOfItsBox(t *testing.T) {
	require.InDelta(t, Bold.Width(2, "□□□"), Bold.Width(2, "שיר"), 1e-9)
	require.InDelta(t, Bold.Width(2, "□□"), Bold.Width(2, "ɐɐ"), 1e-9)
}

// An apostrophe between letters is printed as one (common practice); quotation marks, of
// which each language has its own, and signs of feet and minutes stay as they are.
func TestApostrophesAreRaisedCommas(t *testing.T) {
	for words, want := range map[string]string{
		"": "", "Don't, it's Nora's": "Don’t, it’s Nora’s", "L'été d'Ève": "L’été d’Ève",
		"'Quoted'": "'Quoted'", "the players' turn": "the players' turn", "5' 6": "5' 6", "it’s": "it’s",
	} {
		require.Equal(t, want, Typeset(words))
	}
}
