package web

import (
	_ "embed"
	"io"

	"thirdwise/cmd/thirdwise/web/page"
	"thirdwise/testdata/exercises"
)

// What generate builds. .ci/run builds it anew and compares.
//
//go:generate go run ./generate
var (
	//go:embed built/practice.html
	practiceHTML []byte
	//go:embed built/practice.wasm.gz
	practiceEngine []byte
	//go:embed built/workbench.html
	workbenchHTML []byte
	//go:embed built/workbench.wasm.gz
	workbenchEngine []byte
)

// Practice is the practice page.
var Practice = page.NewShell(practiceHTML, practiceEngine)

// WriteWorkbench writes the workbench. Its kits have the practice page.
func WriteWorkbench(w io.Writer) error {
	return page.NewShell(workbenchHTML, workbenchEngine).WriteWorkbench(w, Practice, exercises.Files)
}
