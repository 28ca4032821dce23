// Package help writes what the program and its commands say about themselves, in
// 80 columns. It reads the command line's own description.
package help

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/alecthomas/kong"

	"thirdwise/arrange/paper"
)

// Program writes the help of the program.
func Program(w io.Writer, app *kong.Application) {
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

// Command writes the help of a command.
func Command(w io.Writer, command *kong.Node) {
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

// columns is how many of them the help has.
const columns = 80

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
		for line, text := range paper.Lines(flag.Help, paper.Columns(columns-column)) {
			if line > 0 {
				names[i] = ""
			}
			fmt.Fprintf(w, "%-*s%s\n", column, names[i], text)
		}
	}
}
