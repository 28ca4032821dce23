package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/alecthomas/kong"

	"thirdwise/arrange/paper"
)

// A helpFlag prints what the program or a command does and leaves it at that.
type helpFlag bool

// IgnoreDefault keeps kong from setting the flag.
func (helpFlag) IgnoreDefault() {}

// BeforeReset makes kong act on the flag before it asks for what is missing.
func (helpFlag) BeforeReset(line *kong.Context) error {
	if node := line.Selected(); node != nil {
		writeCommandHelp(line.Stdout, node)
	} else {
		writeProgramHelp(line.Stdout, line.Model)
	}
	line.Exit(done)
	return nil
}

type helpCommand struct {
	Command string `arg:"" optional:"" name:"COMMAND" help:"The command to tell about."`
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
		writeProgramHelp(con.stdout, app)
		return nil
	}
	for _, command := range app.Leaves(true) {
		if command.Name == c.Command {
			writeCommandHelp(con.stdout, command)
			return nil
		}
	}
	return &lineError{fmt.Errorf("%q is not a command; thirdwise help lists them", c.Command)}
}

func writeProgramHelp(w io.Writer, app *kong.Application) {
	fmt.Fprintf(w, "%s\n\n", app.Help)
	table := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
	for _, command := range app.Leaves(true) {
		fmt.Fprintf(table, "  %s\t%s\n", usage(command), command.Help)
	}
	table.Flush()
	fmt.Fprintln(w)
	writeOptions(w, app.Node)
	fmt.Fprint(w, "\nExit status: 0 done; 1 something is wrong with an exercise or the output\n"+
		"place; 2 the command line is wrong.\n"+
		"\nBegin with: thirdwise new my-song.yaml\n"+
		"then write your song's chords into that file, and: thirdwise render my-song.yaml\n")
}

func writeCommandHelp(w io.Writer, command *kong.Node) {
	fmt.Fprintf(w, "thirdwise %s\n\n%s\n", usage(command), command.Detail)
	if len(command.Flags) > 0 {
		fmt.Fprintln(w, "\nOptions:")
		writeOptions(w, command)
	}
}

// usage returns a command with what stands behind it: "check FILE...".
func usage(command *kong.Node) string {
	words := []string{command.Name}
	for _, p := range command.Positional {
		word := p.Name
		if p.IsCumulative() {
			word += "..."
		}
		if !p.Required {
			word = "[" + word + "]"
		}
		words = append(words, word)
	}
	return strings.Join(words, " ")
}

// helpWidth is how many columns the help has.
const helpWidth = 80

// writeOptions prints options, each with what it does beside it, in as many lines
// as that takes.
func writeOptions(w io.Writer, node *kong.Node) {
	names, column := make([]string, len(node.Flags)), 0
	for i, flag := range node.Flags {
		names[i] = "      " + flag.String()
		if flag.Short != 0 {
			names[i] = "  " + flag.String()
		}
		column = max(column, len(names[i])+3)
	}
	for i, flag := range node.Flags {
		for line, text := range paper.Lines(flag.Help, paper.Columns(helpWidth-column)) {
			if line > 0 {
				names[i] = ""
			}
			fmt.Fprintf(w, "%-*s%s\n", column, names[i], text)
		}
	}
}
