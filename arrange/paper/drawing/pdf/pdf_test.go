package pdf

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// fonts are read from files of both kinds: the italic's places are four bytes each, the
// others' two.
var fonts = map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF, "italic": goitalic.TTF}

// The reference is golang.org/x/image/font/sfnt: it reads from the font that is embedded
// the outline and the advance that it reads from the whole font. What it wants and a PDF
// does not, such as the table of characters, is added here.
func TestEmbeddedLettersAreThoseOfTheFont(t *testing.T) {
	for name, file := range fonts {
		f, err := ReadFont(file)
		require.NoError(t, err)
		var runes []rune
		var buffer sfnt.Buffer
		for r := '!'; r <= 0xffff; r++ {
			if glyph, err := f.face.GlyphIndex(&buffer, r); err == nil && glyph > 0 {
				runes = append(runes, r)
			}
		}
		require.Greater(t, len(runes), 600, name)
		s := f.Subset(runes)
		program, _ := f.cut(s.glyphs())
		tables := map[string][]byte{}
		for tag, table := range f.tables {
			tables[tag] = table
		}
		for tag, table := range tablesOf(program) {
			tables[tag] = table
		}
		cut, err := sfnt.Parse(assembled(tables))
		require.NoError(t, err, name)
		em := fixed.Int26_6(f.units)
		for _, r := range runes {
			before, err := f.face.GlyphIndex(&buffer, r)
			require.NoError(t, err)
			want, err := f.face.LoadGlyph(&buffer, before, em, nil)
			require.NoError(t, err)
			wanted := append(sfnt.Segments(nil), want...)
			got, err := cut.LoadGlyph(&buffer, sfnt.GlyphIndex(s.codes[r]), em, nil)
			require.NoError(t, err)
			require.Equal(t, wanted, append(sfnt.Segments(nil), got...), "%s %c", name, r)
			wide, err := f.face.GlyphAdvance(&buffer, before, em, font.HintingNone)
			require.NoError(t, err)
			advance, err := cut.GlyphAdvance(&buffer, sfnt.GlyphIndex(s.codes[r]), em, font.HintingNone)
			require.NoError(t, err)
			require.Equal(t, wide, advance, "%s %c", name, r)
		}
	}
}

// tablesOf reads the directory of a font file.
func tablesOf(file []byte) map[string][]byte {
	tables := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(file[4:])) {
		row := file[12+16*i:]
		offset, length := binary.BigEndian.Uint32(row[8:]), binary.BigEndian.Uint32(row[12:])
		tables[string(row[:4])] = file[offset : offset+length]
	}
	return tables
}

// Each table's sum is that of its numbers, and the sum over the whole file is the number
// that the OpenType specification gives (table head, checksumAdjustment). The fields for a
// search are those of nine tables (its table directory: 8 is the greatest power of two).
func TestEmbeddedFontsAddUp(t *testing.T) {
	f, err := ReadFont(goregular.TTF)
	require.NoError(t, err)
	file, _ := f.cut(f.Subset([]rune("Żółw")).glyphs())
	require.Equal(t, uint32(0xb1b0afba), sumOf(file))
	require.Equal(t, []byte{0, 1, 0, 0, 0, 9, 0, 128, 0, 3, 0, 16}, file[:12])
	for i := range 9 {
		row := file[12+16*i:]
		offset, length := binary.BigEndian.Uint32(row[8:]), binary.BigEndian.Uint32(row[12:])
		if string(row[:4]) != "head" { // whose own place for the sum over all was empty
			require.Equal(t, binary.BigEndian.Uint32(row[4:]), sumOf(file[offset:offset+(length+3)/4*4]), string(row[:4]))
		}
	}
}

// What is copied or searched is what was written, and each letter is as wide as the font
// says (the advance of a capital A in Go Regular: 1366 of 2048 units).
func TestTextIsFoundByItsCharacters(t *testing.T) {
	f, err := ReadFont(goregular.TTF)
	require.NoError(t, err)
	runes := []rune("AΩЖ")
	for r := '0'; len(runes) < 150; r++ { // more than a block of the table holds
		if !strings.ContainsRune(string(runes), r) {
			runes = append(runes, r)
		}
	}
	s := f.Subset(runes)
	require.Equal(t, "<000200010003>", string(s.Append(nil, "ΩAЖ")))
	var d Document
	s.Add(&d)
	written := d.Finish(d.Add("<<>>"), d.Add("<<>>"))
	require.Contains(t, string(written), "/W [1 [ 667 ")
	require.Contains(t, string(written), "+GoRegular /Encoding /Identity-H")
	require.Regexp(t, `\n100 beginbfchar\n<0001> <0041>\n<0002> <03A9>\n<0003> <0416>\n(.*\n)*endbfchar\n50 beginbfchar\n<0065> `, contents(t, written))
	require.NotEqual(t, s.tag(), f.Subset(runes[1:]).tag())
}

// What a font remembers changes no document, also where it is more than it remembers.
func TestSubsetsThatAreRememberedAreTheSame(t *testing.T) {
	f, err := ReadFont(goregular.TTF)
	require.NoError(t, err)
	document := func(runes ...rune) string {
		var d Document
		f.Subset(runes).Add(&d)
		return string(d.Finish(d.Add("<<>>"), d.Add("<<>>")))
	}
	first := document('A', 'Z')
	require.Equal(t, first, document('A', 'Z'))
	for i := range knownSubsets + 1 {
		document('A', 'a'+rune(i))
	}
	require.LessOrEqual(t, len(f.subsets), knownSubsets)
	require.Equal(t, first, document('A', 'Z'))
}

// contents returns what the streams of a document hold.
func contents(t *testing.T, document []byte) string {
	var all strings.Builder
	for _, part := range bytes.Split(document, []byte(">>\nstream\n"))[1:] {
		content, err := zlib.NewReader(bytes.NewReader(part))
		require.NoError(t, err)
		text, err := io.ReadAll(content)
		require.NoError(t, err)
		all.Write(text)
	}
	return all.String()
}

// The table of objects leads to each (ISO 32000-1, 7.5.4), in whatever order they came.
func TestTheTableLeadsToTheObjects(t *testing.T) {
	var d Document
	later := d.Reserve()
	stream := d.AddStream("/Kind /Test", []byte("content"))
	d.Put(later, fmt.Sprintf("<</Of %s>>", stream))
	catalog := d.Add("<</Type /Catalog>>")
	document := string(d.Finish(catalog, later))
	require.True(t, strings.HasPrefix(document, "%PDF-1.7\n%"))
	ends := regexp.MustCompile(`trailer\n<</Size 4 /Root 3 0 R /Info 1 0 R>>\nstartxref\n(\d+)\n%%EOF\n$`).FindStringSubmatch(document)
	require.NotNil(t, ends)
	at, _ := strconv.Atoi(ends[1])
	rows := strings.SplitAfter(document[at:], "\n")
	require.Equal(t, []string{"xref\n", "0 4\n", "0000000000 65535 f \n"}, rows[:3])
	for i, row := range rows[3:6] {
		require.Len(t, row, 20)
		offset, err := strconv.Atoi(row[:10])
		require.NoError(t, err)
		require.Regexp(t, fmt.Sprintf(`^%d 0 obj\n`, i+1), document[offset:])
	}
	require.Equal(t, "content", contents(t, []byte(document)))
}

// A mark of byte order, and two units for a character beyond U+FFFF (7.9.2.2).
func TestTextsHoldAnyCharacter(t *testing.T) {
	require.Equal(t, "<FEFF00E905E9D834DD1E>", Text("éש\U0001D11E"))
}

func TestFontsThatCannotBeEmbeddedAreRefused(t *testing.T) {
	_, err := ReadFont([]byte("no font"))
	require.Error(t, err)
	tables := tablesOf(goregular.TTF)
	tables["OS/2"] = tables["OS/2"][:78] // version 0, without the height of capitals
	_, err = ReadFont(assembled(tables))
	require.ErrorContains(t, err, "OS/2")
}
