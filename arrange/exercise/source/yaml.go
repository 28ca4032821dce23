package source

import (
	"errors"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Bounds that no exercise comes near. The YAML parser recurses, and its time
// grows with the square of the settings, so that a file made to hurt it has to be
// refused before.
const (
	maxTokens  = 4096
	maxNesting = 16 // brackets or dashes inside one another
)

// body parses the lines as YAML and returns what the file consists of, or nil
// where there is none; why has been noted then.
func (f *File) body() ast.Node {
	parsed, err := f.parse(f.spaced())
	if err != nil {
		f.syntaxError(err)
		return nil
	}
	if parsed == nil {
		return nil
	}
	var bodies []ast.Node
	for _, doc := range parsed.Docs {
		if doc.Body != nil && doc.Body.Type() != ast.NullType && doc.Body.Type() != ast.CommentType {
			bodies = append(bodies, doc.Body)
		}
	}
	switch {
	case len(bodies) == 0:
		f.mistake(Span{Pos: Pos{1, 1}}, "the file is empty", "an exercise needs a title, a key and a chart")
		return nil
	case len(bodies) > 1:
		f.mistake(f.value(bodies[1]).Span(), "a second document begins here", "write one exercise in a file, without --- between")
		return nil
	}
	return bodies[0]
}

// spaced joins the lines, with a plain space for each space of another kind and
// each tab but those that indent. To YAML tabs and spaces are alike there, but
// the parser loses the tabs of plain text and what follows those in quotes.
func (f *File) spaced() string {
	var b strings.Builder
	for _, line := range f.lines {
		line = otherSpaces.Replace(line)
		rest := strings.TrimLeft(line, " \t")
		b.WriteString(line[:len(line)-len(rest)])
		b.WriteString(strings.ReplaceAll(rest, "\t", " "))
		b.WriteByte('\n')
	}
	return b.String()
}

// otherSpaces replaces what looks like a space and is none to YAML: no-break
// spaces, and those that keyboards and web pages have for fine typesetting.
var otherSpaces = strings.NewReplacer("\u00A0", " ", "\u2002", " ", "\u2003", " ", "\u2007", " ", "\u2009", " ", "\u200A", " ", "\u202F", " ", "\u3000", " ")

// parse parses the text after it has made sure that nothing in it can be
// expanded or nested without end. A nil file without an error means that the
// mistakes have been noted.
func (f *File) parse(text string) (parsed *ast.File, err error) {
	defer func() {
		// The parser is not ours, and the text is anybody's.
		if r := recover(); r != nil {
			parsed, err = nil, fmt.Errorf("the text is not YAML: %v", r)
		}
	}()
	tokens := lexer.Tokenize(text)
	if !f.plainYAML(tokens) {
		return nil, nil
	}
	return parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
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
func (f *File) plainYAML(tokens token.Tokens) bool {
	before := len(f.found)
	open, count := 0, 0  // brackets, tokens
	inLine, line := 0, 0 // dashes and colons in a line, outside of brackets
	for _, t := range tokens {
		if what := forbidden[t.Type]; what != "" {
			f.mistake(f.tokenSpan(t), "YAML reads this as "+what+", which no exercise needs", "leave it out, or put text that begins with this sign in quotation marks")
		}
		switch t.Type {
		case token.CommentType:
			continue
		case token.SequenceStartType, token.MappingStartType:
			open++
		case token.SequenceEndType, token.MappingEndType:
			open--
		case token.DoubleQuoteType:
			f.unescaped(t)
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
			f.mistake(f.tokenSpan(t), "this is nested too deeply", "an exercise has no lists inside lists")
			return false
		}
		if count > maxTokens {
			f.mistake(f.tokenSpan(t), "the text has more settings and values than any exercise", "divide it into several exercises")
			return false
		}
	}
	return len(f.found) == before
}

// unescaped notes what an escape within quotation marks stands for and does not
// belong in a text.
func (f *File) unescaped(t *token.Token) {
	for offset, r := range t.Value {
		if message, remedy := wrongCharacter(r, t.Value[offset:]); message != "" && r != '\n' {
			f.mistake(f.tokenSpan(t), message, remedy)
			return
		}
	}
}

// syntaxError notes an error of the YAML parser. It says what is wrong with the
// line where the parser stumbled, or else with the first that follows, since a
// value goes on until the parser is sure that it does not.
func (f *File) syntaxError(err error) {
	var found *yaml.SyntaxError
	if !errors.As(err, &found) || found.GetToken() == nil {
		f.mistake(Span{Pos: Pos{1, 1}}, err.Error(), "")
		return
	}
	at := f.tokenSpan(found.GetToken())
	for at.Line > 1 && strings.TrimSpace(f.lines[at.Line-1]) == "" {
		at = Span{Pos{at.Line - 1, 1}, 1} // nothing can be marked in a blank line
	}
	if f.diagnose(at, found.GetMessage()) {
		return
	}
	f.mistake(at, "the line is not YAML: "+found.GetMessage(), "begin each setting in the same column, with a colon and a space after its name")
}
