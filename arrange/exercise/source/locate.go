package source

import (
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml/token"
)

// The YAML parser says where a token begins, not where each character of a value
// stands: indentation and line breaks have been taken out of it. So the value is
// looked for in the file, character by character.

// locateToken finds the characters of a scalar that is no block. The parser's
// column is off where blanks follow a plain scalar, so it is looked for behind
// the token before it first.
func (f *File) locateToken(t *token.Token) Text {
	at := f.tokenSpan(t)
	switch {
	case t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType:
		return f.locate(t.Value, at, Pos{at.Line, at.Column + 1})
	case t.Prev != nil:
		before := f.tokenSpan(t.Prev)
		return f.locate(t.Value, at, Pos{before.Line, before.Column + before.Length}, at.Pos)
	}
	return f.locate(t.Value, at, at.Pos)
}

// locate finds the characters of a value in the file, from the first of the
// places that they follow. Where they follow none, because the value is written
// with escapes, all of them stand at the value's start.
func (f *File) locate(value string, start Span, places ...Pos) Text {
	t := Text{file: f, runes: []rune(value), start: start}
	for _, place := range places {
		if at, ok := f.find(t.runes, place); ok {
			t.at = at
			return t
		}
	}
	f.escaped[start.Pos] = true
	t.at = make([]Pos, len(t.runes))
	for i := range t.at {
		t.at[i] = start.Pos
	}
	return t
}

// find meets the characters of a value in the file one by one, from a place on.
// White space is passed over.
func (f *File) find(value []rune, from Pos) (at []Pos, ok bool) {
	at = make([]Pos, len(value))
	c := f.cursor(from)
	for i, r := range value {
		at[i] = c.pos
		if unicode.IsSpace(r) {
			continue
		}
		c.skipSpace()
		if c.rune() != r {
			return nil, false
		}
		at[i] = c.pos
		c.next()
	}
	return at, true
}

// A cursor walks through the characters of the file.
type cursor struct {
	lines []string // from the cursor's line on
	rest  string   // of the line
	pos   Pos
}

func (f *File) cursor(at Pos) *cursor {
	if at.Line < 1 || at.Line > len(f.lines) {
		return &cursor{pos: at}
	}
	lines := f.lines[at.Line-1:]
	c := &cursor{lines: lines, rest: lines[0], pos: Pos{at.Line, 1}}
	for c.pos.Column < at.Column && c.rest != "" {
		c.next()
	}
	return c
}

// rune returns the character at the cursor, a line feed at the end of a line,
// and -1 at the end of the file.
func (c *cursor) rune() rune {
	switch {
	case c.rest != "":
		r, _ := utf8.DecodeRuneInString(c.rest)
		return r
	case len(c.lines) > 1:
		return '\n'
	}
	return -1
}

func (c *cursor) next() {
	if c.rest != "" {
		_, size := utf8.DecodeRuneInString(c.rest)
		c.rest = c.rest[size:]
		c.pos.Column++
		return
	}
	if len(c.lines) > 1 {
		c.lines = c.lines[1:]
		c.rest = c.lines[0]
		c.pos = Pos{c.pos.Line + 1, 1}
	}
}

func (c *cursor) skipSpace() {
	for r := c.rune(); r >= 0 && unicode.IsSpace(r); r = c.rune() {
		c.next()
	}
}

// tokenSpan returns where a token stands in the file. The parser's own figures
// are kept within the file's lines.
func (f *File) tokenSpan(t *token.Token) Span {
	if t == nil || t.Position == nil || len(f.lines) == 0 {
		return Span{Pos{1, 1}, 1}
	}
	line := min(max(t.Position.Line, 1), len(f.lines))
	end := utf8.RuneCountInString(f.lines[line-1]) + 1
	column := min(max(t.Position.Column, 1), end)
	length := utf8.RuneCountInString(t.Value)
	if t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType {
		length += 2
	}
	return Span{Pos{line, column}, max(1, min(length, end-column))}
}
