package pdf

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"golang.org/x/image/font/sfnt"
)

// A Font is a TrueType font of which documents embed what they use. Several documents
// may at the same time.
type Font struct {
	name   string // as PostScript has it
	face   *sfnt.Font
	tables map[string][]byte
	units  int // of an em

	mutex   sync.Mutex
	subsets map[string]*Subset // that were asked for, by their characters
}

// knownSubsets is how many subsets a font remembers, some 12 kB each: the sheets of one
// course use few characters that not all of them use.
const knownSubsets = 100

// ReadFont reads a font file. Its tables are those of Apple's TrueType Reference
// Manual and of the OpenType specification.
func ReadFont(file []byte) (*Font, error) {
	face, err := sfnt.Parse(file)
	if err != nil {
		return nil, err
	}
	name, err := face.Name(nil, sfnt.NameIDPostScript)
	if err != nil {
		return nil, err
	}
	f := &Font{name: name, face: face, tables: map[string][]byte{}, units: int(face.UnitsPerEm()), subsets: map[string]*Subset{}}
	const header, row = 12, 16
	for i := range int(binary.BigEndian.Uint16(file[4:])) {
		entry := file[header+i*row:]
		offset, length := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		f.tables[string(entry[:4])] = file[offset : offset+length]
	}
	for tag, least := range map[string]int{"OS/2": 96, "glyf": 0, "head": 54, "hhea": 36, "hmtx": 0, "loca": 0, "maxp": 32, "post": 32} {
		if table, ok := f.tables[tag]; !ok || len(table) < least {
			return nil, errors.New("the font has no table " + tag)
		}
	}
	return f, nil
}

// A Subset is the characters of a font that a document uses. Each has a code of its own,
// from 1 on, which is also its glyph in the font that is embedded.
type Subset struct {
	font  *Font
	runes []rune          // in the order of their codes
	codes map[rune]uint16 // of each
	parts func() parts
}

// The parts of a subset are what is in a document of it that refers to nothing else.
type parts struct {
	program, read Packed // the font file, and how its codes are read
	widths        string
}

// Subset returns the subset of some characters, each listed once. One that the font does
// not have is shown as such.
func (f *Font) Subset(runes []rune) *Subset {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	known, ok := f.subsets[string(runes)]
	if ok {
		return known
	}
	s := &Subset{font: f, runes: runes, codes: make(map[rune]uint16, len(runes))}
	for i, r := range runes {
		s.codes[r] = uint16(i + 1)
	}
	s.parts = sync.OnceValue(s.cut)
	if len(f.subsets) == knownSubsets {
		clear(f.subsets)
	}
	f.subsets[string(runes)] = s
	return s
}

// cut makes the parts of the subset.
func (s *Subset) cut() parts {
	program, advances := s.font.cut(s.glyphs())
	var widths strings.Builder
	for _, advance := range advances[1 : len(s.runes)+1] {
		fmt.Fprintf(&widths, " %d", s.font.thousandths(advance))
	}
	return parts{
		program: Pack(fmt.Sprintf("/Length1 %d", len(program)), program),
		read:    Pack("", []byte(s.toUnicode())), widths: widths.String(),
	}
}

// Append appends a text as a string object of the content of a page (9.4.3).
func (s *Subset) Append(content []byte, text string) []byte {
	content = append(content, '<')
	for _, r := range text {
		content = appendHex(content, s.codes[r])
	}
	return append(content, '>')
}

// Add embeds the subset in a document, as a composite font whose codes are two bytes
// (9.7).
func (s *Subset) Add(d *Document) Ref {
	f, of := s.font, s.parts()
	file := d.AddPacked(of.program)
	name := "/" + s.tag() + "+" + f.name
	metric := func(tag string, at int) int {
		return f.thousandths(int(int16(binary.BigEndian.Uint16(f.tables[tag][at:]))))
	}
	angle := int16(binary.BigEndian.Uint16(f.tables["post"][4:]))
	const symbolic, italic = 1 << 2, 1 << 6 // 9.8.2: it has codes of its own
	flags := symbolic
	if angle != 0 {
		flags |= italic
	}
	descriptor := d.Add(fmt.Sprintf("<</Type /FontDescriptor /FontName %s /Flags %d /FontBBox [%d %d %d %d] /ItalicAngle %d /Ascent %d /Descent %d /CapHeight %d /StemV %d /FontFile2 %s>>",
		name, flags, metric("head", 36), metric("head", 38), metric("head", 40), metric("head", 42),
		angle, metric("hhea", 4), metric("hhea", 6), metric("OS/2", 88), f.stem(), file))
	descendant := d.Add(fmt.Sprintf("<</Type /Font /Subtype /CIDFontType2 /BaseFont %s /CIDSystemInfo <</Registry (Adobe) /Ordering (Identity) /Supplement 0>> /FontDescriptor %s /CIDToGIDMap /Identity /W [1 [%s ]]>>",
		name, descriptor, of.widths))
	read := d.AddPacked(of.read)
	return d.Add(fmt.Sprintf("<</Type /Font /Subtype /Type0 /BaseFont %s /Encoding /Identity-H /DescendantFonts [%s] /ToUnicode %s>>", name, descendant, read))
}

// thousandths returns a length of the font in thousandths of an em.
func (f *Font) thousandths(length int) int {
	return int(math.Round(float64(length) * 1000 / float64(f.units)))
}

// stem returns about how thick the font's stems are, in thousandths of an em: files do not
// say, and who shows a font that is embedded does not look. 400 is a regular weight and
// 700 a bold one.
func (f *Font) stem() int { return int(binary.BigEndian.Uint16(f.tables["OS/2"][4:])) / 5 }

// tag returns six letters that tell the subset from others (9.6.4).
func (s *Subset) tag() string {
	hash := uint32(2166136261) // FNV-1a
	for _, r := range s.runes {
		hash = (hash ^ uint32(r)) * 16777619
	}
	var letters [6]byte
	for i := range letters {
		letters[i] = 'A' + byte(hash%26)
		hash /= 26
	}
	return string(letters[:])
}

// toUnicode returns the table by which a reader that searches or copies reads the codes
// (9.10.3).
func (s *Subset) toUnicode() string {
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	const most = 100 // rows of a block
	for from := 0; from < len(s.runes); from += most {
		block := s.runes[from:min(from+most, len(s.runes))]
		fmt.Fprintf(&b, "%d beginbfchar\n", len(block))
		for i, r := range block {
			fmt.Fprintf(&b, "<%04X> <%s>\n", from+i+1, strings.TrimSuffix(strings.TrimPrefix(Text(string(r)), "<FEFF"), ">"))
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend")
	return b.String()
}
