package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"thirdwise/arrange/exercise"
)

type newCommand struct {
	File string `arg:"" optional:"" name:"FILE" help:"The file to write." default:"exercise.yaml"`
}

// Help is the command's help.
func (newCommand) Help() string {
	return `Writes a starter exercise, with a comment on every setting, to FILE. Without
FILE that is exercise.yaml; - is standard output. A file that already exists is
left as it is, and the exit status is 1.

Example:
  thirdwise new my-song.yaml`
}

// Run writes the starter.
func (c newCommand) Run(con *console) error {
	if c.File == "-" {
		_, err := fmt.Fprint(con.stdout, exercise.Starter)
		return err
	}
	f, err := os.OpenFile(c.File, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s already exists; name another file", c.File)
	}
	if err != nil {
		return fmt.Errorf("%s was not written: %w", c.File, cause(err))
	}
	if _, err := f.WriteString(exercise.Starter); err != nil {
		return errors.Join(err, f.Close(), os.Remove(c.File))
	}
	if err := f.Close(); err != nil {
		return err
	}
	fmt.Fprintf(con.stdout, "wrote %s; thirdwise render %s makes its kit\n", c.File, c.File)
	return nil
}
