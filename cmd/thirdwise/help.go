package main

import (
	"fmt"

	"github.com/alecthomas/kong"

	"thirdwise/cmd/thirdwise/help"
)

// A helpFlag prints what the program or a command does and leaves it at that.
type helpFlag bool

// IgnoreDefault keeps kong from setting the flag.
func (helpFlag) IgnoreDefault() {}

// BeforeReset makes kong act on the flag before it asks for what is missing.
func (helpFlag) BeforeReset(line *kong.Context) error {
	if node := line.Selected(); node != nil {
		help.Command(line.Stdout, node)
	} else {
		help.Program(line.Stdout, line.Model)
	}
	line.Exit(done)
	return nil
}

type helpCommand struct {
	Command string `arg:"" optional:"" name:"COMMAND" predictor:"command" help:"The command to tell about."`
}

// Help is the command's help.
func (helpCommand) Help() string {
	return `Prints the help of a command, as thirdwise COMMAND --help does. Without
COMMAND it prints the help of the program.

Example:
  thirdwise help render`
}

// Run prints the help.
func (c helpCommand) Run(con *console, app *kong.Application) error {
	if c.Command == "" {
		help.Program(con.stdout, app)
		return nil
	}
	for _, command := range app.Leaves(true) {
		if command.Name == c.Command {
			help.Command(con.stdout, command)
			return nil
		}
	}
	return &lineError{fmt.Errorf("%q is not a command; thirdwise help lists them", c.Command)}
}
