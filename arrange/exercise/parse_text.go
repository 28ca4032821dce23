package exercise

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// A text is a value of the file as YAML reads it, with the place of each of its
// characters in the file.
type text struct {
	runes []rune
	at    []Pos
	start Span // of the whole value as written
}

// String returns the text without white space around it.
func (t text) String() string { return strings.TrimSpace(string(t.runes)) }

// part returns the span of the characters from i up to j, as far as they stand
// in one line.
func (t text) part(i, j int) Span {
	if i >= len(t.runes) {
		return t.start
	}
	s := Span{t.at[i], 1}
	for k := i + 1; k < j && k < len(t.at); k++ {
		if t.at[k] != (Pos{s.Line, s.Column + k - i}) {
			break
		}
		s.Length++
	}
	return s
}

// whole returns the span of the text without white space around it.
func (t text) whole() Span {
	first, last := 0, len(t.runes)
	for first < last && unicode.IsSpace(t.runes[first]) {
		first++
	}
	for last > first && unicode.IsSpace(t.runes[last-1]) {
		last--
	}
	if first == last {
		return t.start
	}
	return t.part(first, last)
}

// words divides the text at white space.
func (t text) words() []text {
	var words []text
	for i := 0; i < len(t.runes); i++ {
		if unicode.IsSpace(t.runes[i]) {
			continue
		}
		j := i
		for j < len(t.runes) && !unicode.IsSpace(t.runes[j]) {
			j++
		}
		words = append(words, text{runes: t.runes[i:j], at: t.at[i:j], start: t.part(i, j)})
		i = j
	}
	return words
}

// scalar returns a node's text; ok is false where the node is a list or a
// mapping. A value left out is an empty text at the place of its key.
func (p *exerciseParser) scalar(n ast.Node) (t text, ok bool) {
	switch n := n.(type) {
	case *ast.NullNode:
		return text{start: p.tokenSpan(n.GetToken())}, true
	case *ast.LiteralNode:
		header := p.tokenSpan(n.Start)
		return p.locate(n.Value.Value, header, Pos{header.Line + 1, 1}), true
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return p.locateToken(n.GetToken()), true
	}
	return text{}, false
}

// locateToken finds the characters of a scalar that is no block. The parser's
// column is off where blanks follow a plain scalar, so it is looked for behind
// the token before it first.
func (p *exerciseParser) locateToken(t *token.Token) text {
	at := p.tokenSpan(t)
	switch {
	case t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType:
		return p.locate(t.Value, at, Pos{at.Line, at.Column + 1})
	case t.Prev != nil:
		before := p.tokenSpan(t.Prev)
		return p.locate(t.Value, at, Pos{before.Line, before.Column + before.Length}, at.Pos)
	}
	return p.locate(t.Value, at, at.Pos)
}

// locate finds the characters of a value in the file, from the first of the
// places that they follow. Where they follow none, because the value is written
// with escapes, all of them stand at the value's start.
func (p *exerciseParser) locate(value string, start Span, places ...Pos) text {
	t := text{runes: []rune(value), start: start}
	for _, place := range places {
		if at, ok := p.find(t.runes, place); ok {
			t.at = at
			return t
		}
	}
	t.at = make([]Pos, len(t.runes))
	for i := range t.at {
		t.at[i] = start.Pos
	}
	return t
}

// find meets the characters of a value in the file one by one, from a place on.
// YAML takes away indentation and line breaks, so white space is passed over.
func (p *exerciseParser) find(value []rune, from Pos) (at []Pos, ok bool) {
	at = make([]Pos, len(value))
	c := p.cursor(from)
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

func (p *exerciseParser) cursor(at Pos) *cursor {
	if at.Line < 1 || at.Line > len(p.lines) {
		return &cursor{pos: at}
	}
	lines := p.lines[at.Line-1:]
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
func (p *exerciseParser) tokenSpan(t *token.Token) Span {
	if t == nil || t.Position == nil || len(p.lines) == 0 {
		return Span{Pos{1, 1}, 1}
	}
	line := min(max(t.Position.Line, 1), len(p.lines))
	end := utf8.RuneCountInString(p.lines[line-1]) + 1
	column := min(max(t.Position.Column, 1), end)
	length := utf8.RuneCountInString(t.Value)
	if t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType {
		length += 2
	}
	return Span{Pos{line, column}, max(1, min(length, end-column))}
}

// nodeSpan returns where a node begins in the file.
func (p *exerciseParser) nodeSpan(n ast.Node) Span {
	switch n := n.(type) {
	case *ast.MappingNode:
		if len(n.Values) > 0 && !n.IsFlowStyle {
			return p.nodeSpan(n.Values[0])
		}
	case *ast.MappingValueNode:
		return p.tokenSpan(n.Key.GetToken())
	}
	if t, ok := p.scalar(n); ok {
		return t.whole()
	}
	return p.tokenSpan(n.GetToken())
}

// through returns the span from the beginning of one to the end of another, or
// the first alone where they stand in different lines.
func (s Span) through(last Span) Span {
	if last.Line == s.Line {
		s.Length = last.Column + last.Length - s.Column
	}
	return s
}

// signs begin a value that YAML takes for something other than text.
const signs = "|>%@`&*!?-{}[],"

// startsWithSign reports whether a line is a key with a value that begins with
// a sign of YAML's own and goes on behind it.
func startsWithSign(line string) bool {
	_, value, ok := strings.Cut(line, ":")
	value = strings.TrimSpace(value)
	return ok && len(value) > 1 && strings.ContainsRune(signs, rune(value[0]))
}

// valueSpan returns the span of a line's value, behind the colon.
func (p *exerciseParser) valueSpan(line int) Span {
	key, value, _ := strings.Cut(p.lines[line-1], ":")
	trimmed := strings.TrimSpace(value)
	lead := value[:strings.Index(value, trimmed)]
	column := utf8.RuneCountInString(key) + 1 + utf8.RuneCountInString(lead) + 1
	return Span{Pos{line, column}, utf8.RuneCountInString(trimmed)}
}

// lineSpan returns the span of a line without white space around it.
func (p *exerciseParser) lineSpan(line int) Span {
	text := p.lines[line-1]
	lead := len(text) - len(strings.TrimLeft(text, " \t")) // one byte a character
	return Span{Pos{line, lead + 1}, utf8.RuneCountInString(strings.TrimSpace(text))}
}

// quoted returns a text in quotes, cut where it is long.
func quoted(s string) string { return fmt.Sprintf("%q", shorten(s)) }

func shorten(s string) string {
	const longest = 40
	runes := []rune(s)
	if len(runes) <= longest {
		return s
	}
	return string(runes[:longest-1]) + "…"
}
