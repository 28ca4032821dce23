package pdf

import (
	"encoding/binary"
	"maps"
	"slices"

	"golang.org/x/image/font/sfnt"
)

// glyphs returns the glyph of each code of the subset in its font, from that for no
// character, which is code 0, on.
func (s *Subset) glyphs() []uint16 {
	list := make([]uint16, 1, len(s.runes)+1)
	var buffer sfnt.Buffer
	for _, r := range s.runes {
		glyph, err := s.font.face.GlyphIndex(&buffer, r)
		if err != nil {
			glyph = 0 // shown as one that the font does not have
		}
		list = append(list, uint16(glyph))
	}
	return list
}

// cut returns a font file of some glyphs, in their order, and behind them those that they
// are composed of; and how far each moves on, in the font's own units.
func (f *Font) cut(glyphs []uint16) (file []byte, advances []int) {
	var outlines, places, metrics []byte
	for i := 0; i < len(glyphs); i++ { // glyphs grows
		places = binary.BigEndian.AppendUint32(places, uint32(len(outlines)))
		at := len(outlines)
		outlines = append(outlines, f.outline(glyphs[i])...)
		for _, part := range partsOf(outlines[at:]) {
			number := slices.Index(glyphs[1:], binary.BigEndian.Uint16(part)) + 1
			if number == 0 {
				number = len(glyphs)
				glyphs = append(glyphs, binary.BigEndian.Uint16(part))
			}
			binary.BigEndian.PutUint16(part, uint16(number))
		}
		for len(outlines)%4 != 0 {
			outlines = append(outlines, 0)
		}
		advance, bearing := f.metric(glyphs[i])
		metrics = binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(metrics, advance), bearing)
		advances = append(advances, int(advance))
	}
	places = binary.BigEndian.AppendUint32(places, uint32(len(outlines)))
	tables := map[string][]byte{
		"glyf": outlines, "loca": places, "hmtx": metrics,
		"head": f.changed("head", 50, 1), // places are four bytes each
		"hhea": f.changed("hhea", 34, len(glyphs)),
		"maxp": f.changed("maxp", 4, len(glyphs)),
	}
	for _, tag := range []string{"cvt ", "fpgm", "prep"} { // what hints refer to
		if table, ok := f.tables[tag]; ok {
			tables[tag] = table
		}
	}
	return assembled(tables), advances
}

// outline returns a glyph's row of the table of outlines; nothing for a space.
func (f *Font) outline(glyph uint16) []byte {
	place := func(i int) uint32 {
		if binary.BigEndian.Uint16(f.tables["head"][50:]) == 0 {
			return 2 * uint32(binary.BigEndian.Uint16(f.tables["loca"][2*i:]))
		}
		return binary.BigEndian.Uint32(f.tables["loca"][4*i:])
	}
	return f.tables["glyf"][place(int(glyph)):place(int(glyph)+1)]
}

// metric returns how far a glyph moves on, and how far its outline begins to the right.
// The last glyphs of a font may share the first of these.
func (f *Font) metric(glyph uint16) (advance, bearing uint16) {
	full := int(binary.BigEndian.Uint16(f.tables["hhea"][34:]))
	table, i := f.tables["hmtx"], int(glyph)
	if i < full {
		return binary.BigEndian.Uint16(table[4*i:]), binary.BigEndian.Uint16(table[4*i+2:])
	}
	return binary.BigEndian.Uint16(table[4*full-4:]), binary.BigEndian.Uint16(table[4*full+2*(i-full):])
}

// Of a part of a composed glyph: which of its fields are there, and how long (OpenType,
// table glyf).
const (
	argumentsAreWords = 1 << 0
	hasScale          = 1 << 3
	moreParts         = 1 << 5
	hasTwoScales      = 1 << 6
	hasMatrix         = 1 << 7
)

// partsOf returns where an outline names the glyphs that it is composed of.
func partsOf(outline []byte) (parts [][]byte) {
	if len(outline) == 0 || int16(binary.BigEndian.Uint16(outline)) >= 0 {
		return nil
	}
	for at := 10; ; {
		flags := binary.BigEndian.Uint16(outline[at:])
		parts = append(parts, outline[at+2:at+4])
		at += 6
		if flags&argumentsAreWords != 0 {
			at += 2
		}
		switch {
		case flags&hasScale != 0:
			at += 2
		case flags&hasTwoScales != 0:
			at += 4
		case flags&hasMatrix != 0:
			at += 8
		}
		if flags&moreParts == 0 {
			return parts
		}
	}
}

// changed returns a table with another number in one place.
func (f *Font) changed(tag string, at, number int) []byte {
	table := slices.Clone(f.tables[tag])
	binary.BigEndian.PutUint16(table[at:], uint16(number))
	return table
}

// assembled returns a font file of tables. The table head has a sum over all, its own
// place for that being zero.
func assembled(tables map[string][]byte) []byte {
	tags := slices.Sorted(maps.Keys(tables))
	const header, row, ofAll = 12, 16, 8
	exponent := 0
	for 2<<exponent <= len(tags) {
		exponent++
	}
	file := []byte{0, 1, 0, 0}
	for _, number := range []int{len(tags), row << exponent, exponent, row*len(tags) - row<<exponent} {
		file = binary.BigEndian.AppendUint16(file, uint16(number))
	}
	file = append(file, make([]byte, row*len(tags))...)
	head := 0
	for i, tag := range tags {
		at, length := len(file), len(tables[tag])
		file = append(file, tables[tag]...)
		for len(file)%4 != 0 {
			file = append(file, 0)
		}
		if tag == "head" {
			head = at
			clear(file[at+ofAll : at+ofAll+4])
		}
		entry := file[header+i*row:]
		copy(entry, tag)
		binary.BigEndian.PutUint32(entry[4:], sumOf(file[at:]))
		binary.BigEndian.PutUint32(entry[8:], uint32(at))
		binary.BigEndian.PutUint32(entry[12:], uint32(length))
	}
	binary.BigEndian.PutUint32(file[head+ofAll:], 0xb1b0afba-sumOf(file))
	return file
}

// sumOf returns the sum of a table's numbers of four bytes.
func sumOf(table []byte) (sum uint32) {
	for ; len(table) > 0; table = table[4:] {
		sum += binary.BigEndian.Uint32(table)
	}
	return sum
}
