package exercise

import (
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// A field is a key with its value.
type field struct {
	name  string
	value ast.Node
}

// fields returns the values of a mapping by key and notes the keys that are not
// among the known ones or come twice.
func (p *exerciseParser) fields(m *ast.MappingNode, known []string) map[string]field {
	fields := map[string]field{}
	first := map[string]int{} // the line of each key
	for _, entry := range m.Values {
		at, name := p.nodeSpan(entry), entry.Key.GetToken().Value
		line, twice := first[name]
		switch {
		case twice:
			p.mistake(at, fmt.Sprintf("the key %s is already given in line %d", quoted(name), line), "keep one of the two")
		case !slices.Contains(known, name):
			first[name] = at.Line
			p.mistake(at, "unknown key "+quoted(name), didYouMean(name, known, "the keys here are"))
		default:
			first[name] = at.Line
			fields[name] = field{name, entry.Value}
		}
	}
	return fields
}

// misspelt reports whether a key of the mapping was probably meant to be the
// named one; it has been noted as unknown.
func (p *exerciseParser) misspelt(m *ast.MappingNode, name string) bool {
	for _, entry := range m.Values {
		if nearest(entry.Key.GetToken().Value, exerciseKeys) == name {
			return true
		}
	}
	return false
}

// read hands the text of a field, if it is there, to the function.
func (p *exerciseParser) read(fields map[string]field, name string, use func(text)) {
	f, ok := fields[name]
	if !ok {
		return
	}
	t, ok := p.scalar(f.value)
	switch {
	case !ok:
		p.mistake(p.nodeSpan(f.value), fmt.Sprintf("%s is one value, not a list or further keys", name), "write the value behind the colon")
	case t.String() == "":
		p.noValue(t, name)
	default:
		use(t)
	}
}

// noValue notes a key without a value.
func (p *exerciseParser) noValue(t text, name string) {
	remedy := "write the value behind the colon"
	if !slices.Contains(requiredKeys, name) {
		remedy += ", or leave the line out for the default"
	}
	p.mistake(t.start, name+" has no value", remedy)
}

// items returns the texts of a list, or the one text that stands in its place.
// An empty list is a mistake.
func (p *exerciseParser) items(f field) []text {
	seq, ok := f.value.(*ast.SequenceNode)
	if !ok {
		t, ok := p.scalar(f.value)
		switch {
		case !ok:
			p.mistake(p.nodeSpan(f.value), f.name+" is a list, not further keys", "write values with commas in [ ]")
			return nil
		case t.String() == "":
			p.noValue(t, f.name)
			return nil
		}
		return []text{t}
	}
	if len(seq.Values) == 0 {
		p.mistake(p.nodeSpan(seq), f.name+" is an empty list", "list at least one value, or leave the line out for the default")
	}
	var items []text
	for _, value := range seq.Values {
		t, ok := p.scalar(value)
		switch {
		case !ok:
			p.mistake(p.nodeSpan(value), f.name+" is a list of single values", "take the inner list or keys out")
		case t.String() == "":
			p.mistake(t.start, f.name+" has an empty item", "write a value or take it out")
		default:
			items = append(items, t)
		}
	}
	return items
}

// mappingOf returns the fields of a mapping within the exercise.
func (p *exerciseParser) mappingOf(f field, known []string) map[string]field {
	switch n := f.value.(type) {
	case *ast.MappingNode:
		return p.fields(n, known)
	case *ast.MappingValueNode:
		return p.fields(&ast.MappingNode{Values: []*ast.MappingValueNode{n}}, known)
	case *ast.NullNode:
		p.mistake(p.nodeSpan(n), f.name+" has no keys", "write "+strings.Join(known, ", ")+" indented below, or leave the line out")
	default:
		p.mistake(p.nodeSpan(n), f.name+" is a group of keys, not a value", "write "+strings.Join(known, ", ")+" indented below")
	}
	return nil
}
