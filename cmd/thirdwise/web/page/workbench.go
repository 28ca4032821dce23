package page

import (
	"encoding/json"
	"io"
	"io/fs"
)

// An Example is an exercise to start from.
type Example struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// WriteWorkbench writes the workbench, whose kits have a practice page, and which
// offers some exercises to start from.
func (shell Shell) WriteWorkbench(w io.Writer, practice Shell, exercises fs.FS) error {
	names, err := fs.Glob(exercises, "*.yaml")
	if err != nil {
		return err
	}
	contents := struct {
		Practice string    `json:"practice"`
		Examples []Example `json:"examples"`
	}{Practice: practice.html}
	for _, name := range names {
		text, err := fs.ReadFile(exercises, name)
		if err != nil {
			return err
		}
		contents.Examples = append(contents.Examples, Example{name, string(text)})
	}
	held, err := json.Marshal(contents) // without <, > and &, which it escapes
	if err != nil {
		return err
	}
	return shell.write(w, map[string]func(io.Writer) error{
		"{contents}": written(held),
		"{practice}": written(practice.engine()),
		"{engine}":   written(shell.engine()),
	})
}
