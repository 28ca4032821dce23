package exercise

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// MaxSource is the size in bytes that an exercise may have.
const MaxSource = 1 << 20

// Bounds that no exercise comes near. The YAML parser recurses, and its time
// grows with the square of the keys and values, so that a file made to hurt it
// has to be refused before.
const (
	maxLine     = 10_000 // characters
	maxTokens   = 4096
	maxNesting  = 16   // brackets or dashes inside one another
	maxMistakes = 1000 // listed
)

// Parse reads an exercise: the YAML text that a teacher writes. The name is the
// one that mistakes are reported under, usually the file's.
//
// Everything that is wrong comes back at once, as an [ErrorList] in the order of
// the file. Keys that no exercise has, keys given twice, and what YAML has for
// programs (anchors, aliases, merge keys, tags, several documents) are mistakes.
func Parse(name string, src []byte) (*Exercise, error) {
	p := &exerciseParser{name: name}
	root := p.document(src)
	if root == nil {
		return nil, p.failed()
	}
	e := p.exercise(root)
	if err := p.failed(); err != nil {
		return nil, err
	}
	e.file, e.lines = p.name, p.lines
	return e, nil
}

// An exerciseParser gathers the mistakes of one exercise while it is read.
type exerciseParser struct {
	name     string
	lines    []string // of the file, without their ends
	mistakes ErrorList
}

func (p *exerciseParser) failed() error {
	p.mistakes.Sort()
	if len(p.mistakes) > maxMistakes {
		p.mistakes = p.mistakes[:maxMistakes]
		p.mistakes[maxMistakes-1].Message = "from here on, mistakes are no longer listed"
		p.mistakes[maxMistakes-1].Remedy = "mend those above first"
	}
	return p.mistakes.Err()
}

// mistake notes a mistake in the marked text.
func (p *exerciseParser) mistake(s Span, message, remedy string) {
	p.mistakes = append(p.mistakes, newMistake(p.name, p.lines, s, message, remedy))
}

// document checks the bytes, divides them into lines and has them parsed as
// YAML. It returns the mapping that the file consists of, or nil where there is
// none to read on from.
func (p *exerciseParser) document(src []byte) *ast.MappingNode {
	if len(src) > MaxSource {
		p.mistake(Span{Pos{1, 1}, 0}, fmt.Sprintf("the file has %d bytes; an exercise has at most %d", len(src), MaxSource), "")
		return nil
	}
	src = bytes.TrimPrefix(src, []byte("\uFEFF"))
	p.lines = splitLines(src)
	if !p.plainText() {
		return nil
	}
	root, err := p.parseYAML(spaced(p.lines))
	if err != nil {
		p.syntax(err)
		return nil
	}
	return root
}

// splitLines divides the text at LF, CRLF and CR.
func splitLines(src []byte) []string {
	text := strings.ReplaceAll(string(src), "\r\n", "\n")
	return strings.Split(strings.ReplaceAll(text, "\r", "\n"), "\n")
}

// spaced joins the lines, with a space for each tab but those that indent. To
// YAML they are alike there, but the parser loses the tabs of plain text and what
// follows those in quotes.
func spaced(lines []string) string {
	var b strings.Builder
	for _, line := range lines {
		rest := strings.TrimLeft(line, " \t")
		b.WriteString(line[:len(line)-len(rest)])
		b.WriteString(strings.ReplaceAll(rest, "\t", " "))
		b.WriteByte('\n')
	}
	return b.String()
}

// plainText reports whether the file is text in UTF-8, and notes the first place
// where it is not.
func (p *exerciseParser) plainText() bool {
	for i, line := range p.lines {
		if n := utf8.RuneCountInString(line); n > maxLine {
			p.mistake(Span{Pos{i + 1, maxLine + 1}, 1}, fmt.Sprintf("the line has %d characters", n), fmt.Sprintf("break it; a line has at most %d, and a chart may go on in the next", maxLine))
			return false
		}
		column := 0
		for offset, r := range line {
			column++
			at := Span{Pos{i + 1, column}, 1}
			if r == utf8.RuneError && !strings.HasPrefix(line[offset:], string(utf8.RuneError)) {
				p.mistake(at, fmt.Sprintf("the byte %#02x is not UTF-8", line[offset]), "save the file as text in UTF-8")
				p.mistakes[len(p.mistakes)-1].Excerpt = strings.ToValidUTF8(line, string(utf8.RuneError))
				return false
			}
			if r != '\t' && (unicode.IsControl(r) || r == '\uFFFE' || r == '\uFFFF' || r == '\uFEFF') {
				p.mistake(at, fmt.Sprintf("the control character %U does not belong in text", r), "delete it; an exercise is a plain text file")
				return false
			}
		}
	}
	return true
}

// parseYAML parses the text after it has made sure that nothing in it can be
// expanded or nested without end. A nil mapping without an error means that the
// mistakes have been noted.
func (p *exerciseParser) parseYAML(text string) (root *ast.MappingNode, err error) {
	defer func() {
		// The parser is not ours, and the text is anybody's.
		if r := recover(); r != nil {
			root, err = nil, fmt.Errorf("the text is not YAML: %v", r)
		}
	}()
	tokens := lexer.Tokenize(text)
	if !p.plainYAML(tokens) {
		return nil, nil
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return nil, err
	}
	return p.mapping(file), nil
}

// forbidden says what YAML has that an exercise has not.
var forbidden = map[token.Type]string{
	token.AnchorType:     "an anchor (&)",
	token.AliasType:      "an alias (*)",
	token.TagType:        "a tag (!)",
	token.MergeKeyType:   "a merge key (<<)",
	token.MappingKeyType: "a key set off by ?",
	token.DirectiveType:  "a directive (%)",
}

// plainYAML reports whether the tokens hold only what an exercise may use, and
// notes what is beyond it.
func (p *exerciseParser) plainYAML(tokens token.Tokens) bool {
	before := len(p.mistakes)
	open, count := 0, 0  // brackets, tokens
	inLine, line := 0, 0 // dashes and colons in a line, outside of brackets
	for _, t := range tokens {
		if what := forbidden[t.Type]; what != "" {
			p.mistake(p.tokenSpan(t), what+" has no place in an exercise", "leave it out, or put text that begins with this sign in quotes")
		}
		switch t.Type {
		case token.CommentType:
			continue
		case token.SequenceStartType, token.MappingStartType:
			open++
		case token.SequenceEndType, token.MappingEndType:
			open--
		case token.SequenceEntryType, token.MappingValueType:
			if t.Position.Line != line {
				inLine, line = 0, t.Position.Line
			}
			if open == 0 {
				inLine++
			}
		}
		count++
		if open > maxNesting || inLine > maxNesting {
			p.mistake(p.tokenSpan(t), "the text is nested deeper than any exercise", "")
			return false
		}
		if count > maxTokens {
			p.mistake(p.tokenSpan(t), "the text has more keys and values than any exercise", "")
			return false
		}
	}
	return len(p.mistakes) == before
}

// mapping returns the mapping that the file consists of, or notes why there is
// none.
func (p *exerciseParser) mapping(file *ast.File) *ast.MappingNode {
	var bodies []ast.Node
	for _, doc := range file.Docs {
		if doc.Body != nil && doc.Body.Type() != ast.NullType && doc.Body.Type() != ast.CommentType {
			bodies = append(bodies, doc.Body)
		}
	}
	if len(bodies) == 0 {
		p.mistake(Span{Pos{1, 1}, 0}, "the file is empty", "an exercise needs a title, a key and a chart")
		return nil
	}
	for _, extra := range bodies[1:] {
		p.mistake(p.nodeSpan(extra), "a second document begins here", "write one exercise a file, without --- between")
		return nil
	}
	if one, ok := bodies[0].(*ast.MappingValueNode); ok {
		return &ast.MappingNode{Values: []*ast.MappingValueNode{one}}
	}
	root, ok := bodies[0].(*ast.MappingNode)
	if !ok {
		p.mistake(p.nodeSpan(bodies[0]), "an exercise is lines of a key, a colon and a value", "begin with a line such as: title: Porch Light")
		return nil
	}
	return root
}

// syntax notes an error of the YAML parser.
func (p *exerciseParser) syntax(err error) {
	var found *yaml.SyntaxError
	if !errors.As(err, &found) || found.GetToken() == nil {
		p.mistake(Span{Pos{1, 1}, 0}, err.Error(), "")
		return
	}
	at := p.tokenSpan(found.GetToken())
	for at.Line > 1 && strings.TrimSpace(p.lines[at.Line-1]) == "" {
		at = Span{Pos{at.Line - 1, 1}, 1} // nothing can be marked in a blank line
	}
	line := p.lines[at.Line-1]
	switch {
	case strings.HasPrefix(strings.TrimLeft(line, " "), "\t"):
		p.mistake(Span{at.Pos, 1}, "a tab stands where YAML wants spaces", "indent with spaces")
	case startsWithSign(line):
		p.mistake(p.valueSpan(at.Line), "this begins with a sign that YAML keeps for itself",
			"put the text in quotes; or write a chart on the lines below a | that stands alone")
	case strings.HasPrefix(strings.TrimSpace(line), "|"):
		p.mistake(p.lineSpan(at.Line), "a line of the chart begins further left than its first", "indent the chart's lines alike")
	default:
		p.mistake(at, "the text is not YAML: "+found.GetMessage(), "see that keys stand in one column, each with a colon and a space behind it")
	}
}
