package main

import (
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/tab"
	"thirdwise/cmd/thirdwise/board"
	"thirdwise/cmd/thirdwise/kit"
)

type showCommand struct {
	File string `arg:"" name:"FILE" help:"The exercise; - for standard input."`
	Tab  bool   `help:"Print the line as a text tab."`
	JSON bool   `name:"json" help:"Print an object for programs."`
}

// Help is the command's help.
func (showCommand) Help() string {
	return `Prints what a teacher would write on the board about an exercise: the key's
thirds with their degrees, qualities and shapes on the strings; the key's
chords with numerals; the chart with numerals under it; the grips; and the line
bar by bar, each third with its notes, strings, frets and role.

With --json it prints an object with the same fields as kit.json but software
and files, and beside them thirds (degree, lower, upper, interval) and triads
and sevenths (degree, symbol, numeral).

With --tab it prints the line as a text tab, as the kit has it.

Examples:
  thirdwise show my-song.yaml
  thirdwise show --tab my-song.yaml`
}

// Run prints the board.
func (c showCommand) Run(con *console) error {
	a, err := con.arrangeAsWritten(c.File)
	if err != nil {
		return err
	}
	if c.Tab {
		return tab.Write(con.stdout, paper.Notate(a.score))
	}
	if c.JSON {
		return kit.WriteJSON(con.stdout, board.Describe(a.score))
	}
	return board.Write(con.stdout, a.Chart, a.score)
}
