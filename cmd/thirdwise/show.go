package main

import (
	"errors"
	"fmt"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/tab"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/board"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/vary"
)

type showCommand struct {
	File     string `arg:"" name:"FILE" predictor:"exercise" help:"The exercise; - for standard input."`
	Tab      bool   `help:"Print the line as a text tab."`
	JSON     bool   `name:"json" help:"Print an object for programs."`
	Variants int    `placeholder:"2-9" help:"Print the tab of so many good lines instead, the best first."`
}

// Help is the command's help.
func (showCommand) Help() string {
	return `Prints what a teacher would write on the board about an exercise: the key's
thirds with their degrees, qualities and shapes on the strings; the key's
chords with numerals; the chart with numerals under it; the grips; and the line
bar by bar, each third with its notes, strings, frets and role.

With --json it prints an object with the same fields as kit.json but software,
exercise, source and files, and beside them thirds (degree, lower, upper,
interval) and triads and sevenths (degree, symbol, numeral).

With --tab it prints the line as a text tab, as the kit has it.

With --variants 3 it prints the tab of the best line and of the next two good
ones that are clearly different, one below the other. The one you like best goes
into the exercise as line: variant.

Examples:
  thirdwise show my-song.yaml
  thirdwise show --tab my-song.yaml
  thirdwise show --variants 3 my-song.yaml`
}

// Validate refuses a number of variants that there are not, and what does not go
// together.
func (c showCommand) Validate() error {
	switch {
	case c.Variants != 0 && (c.Variants < 2 || c.Variants > exercise.MaxVariant):
		return fmt.Errorf("--variants %d: it must be 2 to %d", c.Variants, exercise.MaxVariant)
	case c.Variants != 0 && c.JSON:
		return errors.New("--variants prints tab: leave --json out")
	}
	return nil
}

// Run prints the board.
func (c showCommand) Run(con *console) error {
	if c.Variants > 0 {
		return c.showVariants(con)
	}
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
	laid, err := arrange.Laid(a.Exercise)
	if err != nil {
		return err
	}
	return board.Write(con.stdout, laid.Chart, a.score)
}

// showVariants prints the tab of several lines, one below the other.
func (c showCommand) showVariants(con *console) error {
	all, err := con.arrangeOne(c.File, func(e *exercise.Exercise) ([][]vary.Variant, error) {
		if e.Ladder.Along != exercise.NoLadder {
			return nil, fmt.Errorf("--variants: %q is a ladder, which has only one line", e.Title)
		}
		var groups [][]vary.Variant
		for n := range c.Variants {
			groups = append(groups, []vary.Variant{{Exercise: e.WithVariant(n + 1)}})
		}
		return groups, nil
	})
	if err != nil {
		return err
	}
	scores := make([]*score.Score, len(all))
	for i, a := range all {
		scores[i] = a.score
	}
	return board.WriteVariants(con.stdout, scores)
}
