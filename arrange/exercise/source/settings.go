package source

import (
	"regexp"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"

	"thirdwise/theory/remedy"
)

// A Setting is one entry of an exercise: a name, a colon and a value.
type Setting struct {
	Name  Text
	Value Value
}

// A Value is what stands behind a setting's colon.
type Value struct {
	Text  // the value where it is One; otherwise no characters, at the place where it begins
	Kind  Kind
	List  []Value   // of a List
	Group []Setting // of a Group
}

// Kind tells values apart.
type Kind int

// The kinds of values.
const (
	One   Kind = iota // one text, which is empty where nothing stands behind the colon
	List              // values in [ ] with commas, or below one another behind dashes
	Group             // settings, indented below
)

// Settings returns the settings that the file consists of, in their order; ok is
// false where there are none to read on from.
func (f *File) Settings() (all []Setting, ok bool) {
	f.warnOfDropped()
	if f.lines == nil {
		return nil, false
	}
	body := f.body()
	switch n := body.(type) {
	case nil:
		return nil, false
	case *ast.MappingNode, *ast.MappingValueNode:
		all = f.value(n).Group
	}
	if len(all) > 0 {
		return all, true
	}
	if v := f.value(body); v.Kind == List && len(v.List) > 0 && v.List[0].Kind == Group {
		f.mistake(v.Span(), "the settings of an exercise are no list", "begin each of them without a dash or a bracket before it")
		return nil, false
	}
	f.mistake(f.value(body).Span(), "an exercise consists of settings: a name, a colon and a value", "begin with a line such as title: Porch Light")
	return nil, false
}

// value makes a value of a node of the YAML tree.
func (f *File) value(n ast.Node) Value {
	begins := Text{file: f, start: f.tokenSpan(n.GetToken())}
	switch n := n.(type) {
	case *ast.MappingNode:
		return f.group(n, begins)
	case *ast.MappingValueNode:
		return f.group(&ast.MappingNode{Values: []*ast.MappingValueNode{n}}, begins)
	case *ast.SequenceNode:
		v := Value{Text: begins, Kind: List}
		for _, item := range n.Values {
			v.List = append(v.List, f.value(item))
		}
		if !n.IsFlowStyle && len(v.List) > 0 {
			v.start = v.List[0].Span()
		}
		return v
	case *ast.LiteralNode:
		header := f.tokenSpan(n.Start)
		return Value{Text: f.locate(n.Value.Value, header, Pos{header.Line + 1, 1})}
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return Value{Text: f.locateToken(n.GetToken()).withoutCurlyQuotes()}
	}
	return Value{Text: begins} // nothing, or ~
}

func (f *File) group(n *ast.MappingNode, begins Text) Value {
	v := Value{Text: begins, Kind: Group}
	for _, entry := range n.Values {
		v.Group = append(v.Group, Setting{Name: f.locateToken(entry.Key.GetToken()), Value: f.value(entry.Value)})
	}
	if len(v.Group) > 0 && !n.IsFlowStyle {
		v.start = v.Group[0].Name.Span()
	}
	return v
}

// dropped matches a title or another line of words, or a key, of which YAML takes the
// end for a comment, as in "key: F #minor", "key: A # minor" and "title: Etude # 4".
var dropped = regexp.MustCompile(`^(?:title|subtitle|by|note|key): +[^"'#]*[^"'# ] +(#\S+|# *\d+ *$|# *(?:(?:harmonic |melodic )?minor|major|dorian|phrygian|lydian|mixolydian|locrian) *$)`)

// warnOfDropped warns of text that was meant and that YAML drops.
func (f *File) warnOfDropped() {
	for i, line := range f.lines {
		at := dropped.FindStringSubmatchIndex(line)
		if at == nil {
			continue
		}
		from, to := utf8.RuneCountInString(line[:at[2]]), utf8.RuneCountInString(line[:at[3]])
		f.add(Warning, Span{Pos{i + 1, from + 1}, to - from}, "YAML takes "+Quoted(line[at[2]:at[3]])+" for a comment and drops it",
			remedy.Say("write it without the space before it, or put the whole value in quotation marks"))
	}
}
