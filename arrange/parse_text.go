package arrange

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
	start span // of the whole value as written
}

// String returns the text without white space around it.
func (t text) String() string { return strings.TrimSpace(string(t.runes)) }

// part returns the span of the characters from i up to j, as far as they stand
// in one line.
func (t text) part(i, j int) span {
	if i >= len(t.runes) {
		return t.start
	}
	s := span{t.at[i], 1}
	for k := i + 1; k < j && k < len(t.at); k++ {
		if t.at[k] != (Pos{s.Line, s.Column + k - i}) {
			break
		}
		s.length++
	}
	return s
}

// whole returns the span of the text without white space around it.
func (t text) whole() span {
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
		return p.locate(n.Value.Value, Pos{header.Line + 1, 1}, header), true
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		tk := n.GetToken()
		from := p.tokenSpan(tk)
		begin := from.Pos
		if tk.Type == token.SingleQuoteType || tk.Type == token.DoubleQuoteType {
			begin.Column++
		}
		return p.locate(tk.Value, begin, from), true
	}
	return text{}, false
}

// locate finds the characters of a value in the file, from a place on. YAML
// takes away indentation and line breaks, so the white space is passed over and
// the other characters are met one by one. Where the value is written with
// escapes they cannot be, and all of them stand at the value's start.
func (p *exerciseParser) locate(value string, from Pos, start span) text {
	t := text{runes: []rune(value), start: start}
	t.at = make([]Pos, len(t.runes))
	c := p.cursor(from)
	for i, r := range t.runes {
		t.at[i] = c.pos
		if unicode.IsSpace(r) {
			continue
		}
		c.skipSpace()
		if c.rune() != r {
			for k := range t.at {
				t.at[k] = start.Pos
			}
			return t
		}
		t.at[i] = c.pos
		c.next()
	}
	return t
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
func (p *exerciseParser) tokenSpan(t *token.Token) span {
	if t == nil || t.Position == nil || len(p.lines) == 0 {
		return span{Pos{1, 1}, 1}
	}
	line := min(max(t.Position.Line, 1), len(p.lines))
	end := utf8.RuneCountInString(p.lines[line-1]) + 1
	column := min(max(t.Position.Column, 1), end)
	length := utf8.RuneCountInString(t.Value)
	if t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType {
		length += 2
	}
	return span{Pos{line, column}, max(1, min(length, end-column))}
}

// nodeSpan returns where a node begins in the file.
func (p *exerciseParser) nodeSpan(n ast.Node) span {
	switch n := n.(type) {
	case *ast.MappingNode:
		if len(n.Values) > 0 && !n.IsFlowStyle {
			return p.nodeSpan(n.Values[0])
		}
	case *ast.MappingValueNode:
		return p.tokenSpan(n.Key.GetToken())
	}
	return p.tokenSpan(n.GetToken())
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
func (p *exerciseParser) valueSpan(line int) span {
	key, value, _ := strings.Cut(p.lines[line-1], ":")
	trimmed := strings.TrimSpace(value)
	lead := value[:strings.Index(value, trimmed)]
	column := utf8.RuneCountInString(key) + 1 + utf8.RuneCountInString(lead) + 1
	return span{Pos{line, column}, utf8.RuneCountInString(trimmed)}
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
