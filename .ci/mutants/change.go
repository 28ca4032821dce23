package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

// A source is a file of the program.
type source struct {
	path, room string // room is its package's name
	text       []byte
}

// A change is one that can be made to a file: in the source, or, where what it
// changes is worked out as the program runs, by a switch.
type change struct {
	number          int // from 1
	file            *source
	place           token.Position
	what            string
	plain, switched []edit
}

// String says where the change is and what it does.
func (c *change) String() string { return fmt.Sprintf("%s: %s", c.place, c.what) }

// others are what operators are changed to.
var others = map[token.Token]token.Token{
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.ADD: token.SUB, token.SUB: token.ADD,
	token.MUL: token.QUO, token.QUO: token.MUL, token.LAND: token.LOR, token.LOR: token.LAND,
}

// functions are those of the switch that do what an operator does, or what it is
// changed to.
var functions = map[token.Token]string{
	token.LSS: "mutantLess", token.LEQ: "mutantAtMost", token.GTR: "mutantMore", token.GEQ: "mutantAtLeast",
	token.ADD: "mutantSum", token.SUB: "mutantDifference", token.MUL: "mutantProduct", token.QUO: "mutantQuotient",
}

// changesIn reads a room and lists what can be changed in it, in the order of its
// files.
func changesIn(room string) []*change {
	f := &finder{set: token.NewFileSet(), info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}}
	var parsed []*ast.File
	var sources []*source
	paths, compiled := list(room)
	for _, path := range paths {
		text, err := os.ReadFile(path)
		check(err)
		file, err := parser.ParseFile(f.set, path, text, parser.SkipObjectResolution)
		check(err)
		parsed, sources = append(parsed, file), append(sources, &source{path, file.Name.Name, text})
	}
	config := types.Config{Importer: importer.ForCompiler(f.set, "gc", func(path string) (io.ReadCloser, error) { return os.Open(compiled[path]) })}
	var err error
	f.room, err = config.Check(room, f.set, parsed, f.info)
	check(err)
	for i, file := range parsed {
		f.file, f.parsed = sources[i], file
		ast.Walk(visitor{f, false}, file)
	}
	return f.all
}

// list returns the files of a room, and those that hold what the packages that it
// imports were compiled to.
func list(room string) (paths []string, compiled map[string]string) {
	output, err := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Export,GoFiles,DepOnly", "./"+room).Output()
	check(err)
	compiled = map[string]string{}
	for listed := json.NewDecoder(bytes.NewReader(output)); ; {
		var p struct {
			ImportPath, Export string
			GoFiles            []string
			DepOnly            bool
		}
		switch err := listed.Decode(&p); {
		case errors.Is(err, io.EOF):
			return paths, compiled
		case err != nil:
			check(err)
		}
		compiled[p.ImportPath] = p.Export
		if !p.DepOnly {
			for _, name := range p.GoFiles {
				paths = append(paths, filepath.Join(room, name))
			}
		}
	}
}

// A finder finds what can be changed.
type finder struct {
	set    *token.FileSet
	info   *types.Info
	room   *types.Package
	file   *source
	parsed *ast.File
	all    []*change
}

// A visitor walks through a file. What must be constant cannot be switched.
type visitor struct {
	*finder
	constant bool
}

func (v visitor) Visit(node ast.Node) ast.Visitor {
	switch n := node.(type) {
	case *ast.ImportSpec, *ast.Field:
		return nil
	case *ast.GenDecl:
		v.constant = n.Tok == token.CONST
	case *ast.ArrayType:
		if n.Len != nil {
			ast.Walk(visitor{v.finder, true}, n.Len)
		}
		ast.Walk(v, n.Elt)
		return nil
	case *ast.CompositeLit:
		v.keys(n)
		return nil
	case *ast.BinaryExpr:
		v.operator(n)
	case *ast.IfStmt:
		v.condition(n)
	case *ast.BasicLit:
		v.number(n)
	}
	return v
}

// keys walks through a composite literal: an array's and a slice's keys are constant.
func (v visitor) keys(n *ast.CompositeLit) {
	if n.Type != nil {
		ast.Walk(v, n.Type)
	}
	mapped := false
	if t := v.info.TypeOf(n); t != nil {
		_, mapped = t.Underlying().(*types.Map)
	}
	for _, element := range n.Elts {
		pair, ok := element.(*ast.KeyValueExpr)
		if !ok || mapped {
			ast.Walk(v, element)
			continue
		}
		ast.Walk(visitor{v.finder, true}, pair.Key)
		ast.Walk(v, pair.Value)
	}
}

func (v visitor) operator(n *ast.BinaryExpr) {
	other, ok := others[n.Op]
	if !ok || isText(v.info.TypeOf(n.X)) && n.Op == token.ADD {
		return
	}
	c := v.add(n.OpPos, fmt.Sprintf("%s becomes %s", n.Op, other))
	width := len(n.Op.String())
	at := v.offset(n.OpPos)
	c.plain = []edit{{at, width, other.String(), false}}
	if v.constant {
		return
	}
	from, to := v.offset(n.X.Pos()), v.offset(n.Y.End())
	switch n.Op {
	case token.EQL, token.NEQ:
		c.switched = []edit{{from, 0, fmt.Sprintf("(mutantOn(%d) != (", c.number), false}, {to, 0, "))", true}}
	case token.LAND, token.LOR: // a && b is not (not a || not b)
		c.switched = []edit{
			{from, 0, fmt.Sprintf("(((mutantOn(%d) != (", c.number), false},
			{at, width, fmt.Sprintf(")) %s (mutantOn(%d) != (", n.Op, c.number), false},
			{to, 0, fmt.Sprintf("))) != mutantOn(%d))", c.number), true},
		}
	default:
		operands := v.info.TypeOf(n.X)
		if isUntyped(operands) {
			operands = v.info.TypeOf(n.Y)
		}
		if name, ok := v.name(operands); ok {
			c.switched = []edit{{from, 0, fmt.Sprintf("%s[%s](%d, ", functions[n.Op], name, c.number), false}, {at, width, ",", false}, {to, 0, ")", true}}
		}
	}
}

// condition turns a condition round, but for one that its own operator turns round.
func (v visitor) condition(n *ast.IfStmt) {
	if compared, ok := n.Cond.(*ast.BinaryExpr); ok && (compared.Op == token.EQL || compared.Op == token.NEQ) {
		return
	}
	c := v.add(n.If, "the condition is turned round")
	from, to := v.offset(n.Cond.Pos()), v.offset(n.Cond.End())
	c.plain = []edit{{from, 0, "!(", false}, {to, 0, ")", true}}
	c.switched = []edit{{from, 0, fmt.Sprintf("mutantOn(%d) != (", c.number), false}, {to, 0, ")", true}}
}

func (v visitor) number(n *ast.BasicLit) {
	number, err := strconv.Atoi(n.Value)
	if n.Kind != token.INT || err != nil {
		return
	}
	c := v.add(n.ValuePos, fmt.Sprintf("%d becomes %d", number, number+1))
	at := v.offset(n.ValuePos)
	c.plain = []edit{{at, len(n.Value), strconv.Itoa(number + 1), false}}
	if name, ok := v.name(v.info.TypeOf(n)); ok && !v.constant {
		c.switched = []edit{{at, len(n.Value), fmt.Sprintf("mutantNumber[%s](%d, %d, %d)", name, c.number, number, number+1), false}}
	}
}

func (v visitor) add(at token.Pos, what string) *change {
	c := &change{number: len(v.all) + 1, file: v.file, place: v.set.Position(at), what: what}
	v.finder.all = append(v.finder.all, c)
	return c
}

func (v visitor) offset(at token.Pos) int { return v.set.Position(at).Offset }

// name returns how the file that is read writes a type, if it can.
func (v visitor) name(t types.Type) (string, bool) {
	if isUntyped(t) {
		return "", false
	}
	known := true
	name := types.TypeString(t, func(p *types.Package) string {
		if p == v.room {
			return ""
		}
		for _, imported := range v.parsed.Imports {
			if path, err := strconv.Unquote(imported.Path.Value); err == nil && path == p.Path() {
				if imported.Name != nil {
					return imported.Name.Name
				}
				return p.Name()
			}
		}
		known = false
		return p.Name()
	})
	return name, known
}

func isUntyped(t types.Type) bool {
	basic, ok := t.(*types.Basic)
	return t == nil || ok && basic.Info()&types.IsUntyped != 0
}

func isText(t types.Type) bool {
	if t == nil {
		return false
	}
	basic, ok := t.Underlying().(*types.Basic)
	return ok && basic.Info()&types.IsString != 0
}

// namedIn reports whether a line of a compiler's complaints is about the line of a
// change.
func (c *change) namedIn(complaint string) bool {
	return strings.HasPrefix(complaint, fmt.Sprintf("%s:%d:", c.file.path, c.place.Line))
}
