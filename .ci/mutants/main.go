// Mutants changes the program in small ways, one at a time, and tells which changes
// no test notices.
//
//	go run .ci/mutants/main.go [-every 7] theory/line smf cmd/thirdwise/kit
//
// Of each package it changes comparisons, sums, conditions and whole numbers, one
// of so many, runs the package's own tests with the changed file in its place, and
// prints the survivors with their share. A survivor is a test that is missing, or a
// change that makes no difference.
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

func main() {
	every := flag.Int("every", 1, "make one of so many changes")
	limit := flag.Duration("limit", 2*time.Minute, "how long the tests of a package may take")
	flag.Parse()
	work, err := os.MkdirTemp("", "mutants-")
	check(err)
	defer os.RemoveAll(work)
	tried, survived := 0, 0
	for _, room := range flag.Args() {
		files, err := filepath.Glob(filepath.Join(room, "*.go"))
		check(err)
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			for i, n := 0, len(changes(file)); i < n; i += *every {
				mutant := changes(file)[i]
				mutant.apply()
				tried++
				if passes(work, file, mutant.text(), room, *limit) {
					survived++
					fmt.Printf("%s: %s\n", mutant.place, mutant.what)
				}
			}
		}
	}
	fmt.Printf("%d of %d survived (%.1f %%)\n", survived, tried, 100*float64(survived)/float64(max(1, tried)))
}

// A change is one that can be made to a file.
type change struct {
	place token.Position
	what  string
	apply func()
	file  *ast.File
	set   *token.FileSet
}

// text returns the file as it is now.
func (c change) text() []byte {
	var out bytes.Buffer
	check(format.Node(&out, c.set, c.file))
	return out.Bytes()
}

// others are what operators are changed to.
var others = map[token.Token]token.Token{
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.ADD: token.SUB, token.SUB: token.ADD,
	token.MUL: token.QUO, token.QUO: token.MUL, token.LAND: token.LOR, token.LOR: token.LAND,
}

// changes reads a file and lists what can be changed in it, in its order.
func changes(path string) []change {
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, nil, parser.ParseComments)
	check(err)
	var all []change
	add := func(at token.Pos, what string, apply func()) {
		all = append(all, change{set.Position(at), what, apply, file, set})
	}
	ast.Inspect(file, func(node ast.Node) bool {
		switch n := node.(type) {
		case *ast.ImportSpec, *ast.Field:
			return false
		case *ast.BinaryExpr:
			if other, ok := others[n.Op]; ok && !isText(n.X) && !isText(n.Y) {
				add(n.OpPos, fmt.Sprintf("%s becomes %s", n.Op, other), func() { n.Op = other })
			}
		case *ast.IfStmt:
			add(n.If, "the condition is turned round", func() { n.Cond = &ast.UnaryExpr{Op: token.NOT, X: &ast.ParenExpr{X: n.Cond}} })
		case *ast.BasicLit:
			if number, err := strconv.Atoi(n.Value); n.Kind == token.INT && err == nil {
				add(n.ValuePos, fmt.Sprintf("%d becomes %d", number, number+1), func() { n.Value = strconv.Itoa(number + 1) })
			}
		}
		return true
	})
	return all
}

func isText(e ast.Expr) bool {
	literal, ok := e.(*ast.BasicLit)
	return ok && literal.Kind == token.STRING
}

// passes reports whether the tests of a room pass with a file changed. What does
// not compile, or takes for ever, has been noticed.
func passes(work, file string, text []byte, room string, limit time.Duration) bool {
	path, err := filepath.Abs(file)
	check(err)
	changed, overlay := filepath.Join(work, "changed.go"), filepath.Join(work, "overlay.json")
	check(os.WriteFile(changed, text, 0o666))
	replaced, err := json.Marshal(map[string]any{"Replace": map[string]string{path: changed}})
	check(err)
	check(os.WriteFile(overlay, replaced, 0o666))
	return exec.Command("go", "test", "-overlay", overlay, "-short", "-failfast", "-timeout", limit.String(), "./"+room).Run() == nil
}

func check(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
