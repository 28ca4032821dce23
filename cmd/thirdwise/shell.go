package main

import (
	"fmt"

	"github.com/alecthomas/kong"

	"thirdwise/cmd/thirdwise/completion"
	"thirdwise/cmd/thirdwise/help"
	"thirdwise/cmd/thirdwise/kit"
)

type completionCommand struct {
	Shell string `arg:"" name:"SHELL" enum:"bash,zsh,fish" help:"bash, zsh or fish."`
}

// Help is the command's help.
func (completionCommand) Help() string {
	return `Prints what makes a shell (bash, zsh or fish) finish commands, options, their
values and the names of exercises when you press Tab. The program must be where
the shell finds it by its name.

Example, in ~/.bashrc (in ~/.zshrc with zsh for bash):
  source <(thirdwise completion bash)

and in ~/.config/fish/config.fish:
  thirdwise completion fish | source`
}

// Run prints the script.
func (c completionCommand) Run(con *console) error {
	fmt.Fprint(con.stdout, completion.Script(c.Shell))
	return nil
}

type manCommand struct{}

// Help is the command's help.
func (manCommand) Help() string {
	return `Prints all help as a page for the program man. The archives of a release hold it
as thirdwise.1.

Example:
  thirdwise man > ~/.local/share/man/man1/thirdwise.1`
}

// Run prints the page.
func (manCommand) Run(con *console, app *kong.Application) error {
	return help.Manual(con.stdout, app, kit.Software)
}
