// Mutants changes the program in small ways, one at a time, and tells which changes
// no test notices.
//
//	go run .ci/mutants/main.go [-every 7] [-also ./arrange/...] theory/line smf
//
// Of each package it changes comparisons, sums, conditions and whole numbers, one
// of so many, runs the package's own tests with the changed file in its place, then
// those of the packages that -also names, and prints the survivors with their share.
// What does not compile is not counted. A survivor is a test that is missing, or a
// change that makes no difference. With -again FILE only those changes are made that
// survived in an earlier run, whose output the file is.
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
	"slices"
	"strconv"
	"strings"
	"time"
)

func main() {
	every := flag.Int("every", 1, "make one of so many changes")
	limit := flag.Duration("limit", 2*time.Minute, "how long the tests of a package may take")
	also := flag.String("also", "", "packages whose tests are run too, with spaces between them")
	again := flag.String("again", "", "a file with the survivors of an earlier run, which alone are tried")
	flag.Parse()
	var before []string
	if *again != "" {
		text, err := os.ReadFile(*again)
		check(err)
		before = strings.Split(string(text), "\n")
	}
	work, err := os.MkdirTemp("", "mutants-")
	check(err)
	defer os.RemoveAll(work)
	for _, room := range flag.Args() {
		begun, tried, survived, all := time.Now(), 0, 0, changesIn(room)
		for i := 0; i < len(all); i += *every {
			mutant := all[i]
			if before != nil && !slices.Contains(before, mutant.String()) {
				continue
			}
			mutant.apply()
			switch result := try(work, mutant, *limit, append([]string{"./" + room}, strings.Fields(*also)...)); result {
			case survives:
				survived++
				fmt.Println(mutant)
				fallthrough
			case noticed:
				tried++
			}
			mutant.revert()
		}
		fmt.Printf("%s: %d of %d survived (%.1f %%), of %d changes, in %s\n", room, survived, tried, 100*float64(survived)/float64(max(1, tried)), len(all), time.Since(begun).Round(time.Second))
	}
}

// changesIn lists the changes that can be made to a room, in the order of its files.
func changesIn(room string) []change {
	files, err := filepath.Glob(filepath.Join(room, "*.go"))
	check(err)
	var all []change
	for _, file := range files {
		if !strings.HasSuffix(file, "_test.go") {
			all = append(all, changes(file)...)
		}
	}
	return all
}

// A change is one that can be made to a file.
type change struct {
	place         token.Position
	what          string
	apply, revert func()
	file          *ast.File
	set           *token.FileSet
}

// String says where the change is and what it does.
func (c change) String() string { return fmt.Sprintf("%s: %s", c.place, c.what) }

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
	add := func(at token.Pos, what string, apply, revert func()) {
		all = append(all, change{set.Position(at), what, apply, revert, file, set})
	}
	ast.Inspect(file, func(node ast.Node) bool {
		switch n := node.(type) {
		case *ast.ImportSpec, *ast.Field:
			return false
		case *ast.BinaryExpr:
			op := n.Op
			if other, ok := others[op]; ok && !isText(n.X) && !isText(n.Y) {
				add(n.OpPos, fmt.Sprintf("%s becomes %s", op, other), func() { n.Op = other }, func() { n.Op = op })
			}
		case *ast.IfStmt:
			cond := n.Cond
			add(n.If, "the condition is turned round", func() { n.Cond = &ast.UnaryExpr{Op: token.NOT, X: &ast.ParenExpr{X: cond}} }, func() { n.Cond = cond })
		case *ast.BasicLit:
			value := n.Value
			if number, err := strconv.Atoi(value); n.Kind == token.INT && err == nil {
				add(n.ValuePos, fmt.Sprintf("%d becomes %d", number, number+1), func() { n.Value = strconv.Itoa(number + 1) }, func() { n.Value = value })
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

// A result is what came of a change.
type result int

const (
	noticed  result = iota // a test failed, or took for ever
	survives               // all tests pass
	unbuilt                // it does not compile
)

// try runs the tests of packages, one after the other, with a file changed.
func try(work string, mutant change, limit time.Duration, packages []string) result {
	path, err := filepath.Abs(mutant.place.Filename)
	check(err)
	changed, overlay := filepath.Join(work, "changed.go"), filepath.Join(work, "overlay.json")
	check(os.WriteFile(changed, mutant.text(), 0o666))
	replaced, err := json.Marshal(map[string]any{"Replace": map[string]string{path: changed}})
	check(err)
	check(os.WriteFile(overlay, replaced, 0o666))
	for _, tested := range packages {
		output, err := exec.Command("go", "test", "-overlay", overlay, "-vet=off", "-short", "-failfast", "-timeout", limit.String(), tested).CombinedOutput()
		switch {
		case err == nil:
		case bytes.Contains(output, []byte("[build failed]")), bytes.Contains(output, []byte("[setup failed]")):
			return unbuilt
		default:
			return noticed
		}
	}
	return survives
}

func check(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
