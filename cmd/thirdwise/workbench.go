package main

import (
	"bytes"
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"

	"thirdwise/cmd/thirdwise/web"
)

type workbenchCommand struct {
	Output string `short:"o" name:"output" placeholder:"FILE" default:"workbench.html" help:"The file to write (default workbench.html); - for standard output."`
	Open   bool   `help:"Open it in the browser."`
}

// Help is the command's help.
func (workbenchCommand) Help() string {
	return `Writes the whole program as one HTML file, to write, see, hear, print and save
exercises in a browser. It needs nothing around it: it works opened as a file,
without a network, and from any static host. What is written in it stays in the
browser until it is saved.

Example:
  thirdwise workbench --open`
}

// Validate refuses a command line that cannot be followed.
func (c workbenchCommand) Validate() error {
	if c.Open && c.Output == "-" {
		return fmt.Errorf("--open: standard output cannot be opened; name a file with -o")
	}
	return nil
}

// Run writes the workbench.
func (c workbenchCommand) Run(con *console) error {
	var page bytes.Buffer
	if err := web.WriteWorkbench(&page); err != nil {
		return err
	}
	if c.Output == "-" {
		_, err := con.stdout.Write(page.Bytes())
		return err
	}
	if err := con.drafts.WriteFile(c.Output, page.Bytes()); err != nil {
		return fmt.Errorf("%s was not written: %w", c.Output, cause(err))
	}
	fmt.Fprintf(con.stdout, "wrote %s; open it in a browser\n", c.Output)
	if !c.Open {
		return nil
	}
	path, err := filepath.Abs(c.Output)
	if err != nil {
		return err
	}
	if err := opener(path).Start(); err != nil {
		return fmt.Errorf("%s could not be opened: %w", c.Output, err)
	}
	return nil
}

// opener returns the command by which a system opens a file as a user would.
func opener(path string) *exec.Cmd {
	switch runtime.GOOS {
	case "darwin":
		return exec.Command("open", path)
	case "windows":
		return exec.Command("rundll32", "url.dll,FileProtocolHandler", path)
	}
	return exec.Command("xdg-open", path)
}
