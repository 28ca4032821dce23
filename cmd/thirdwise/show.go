package main

import (
	"bufio"

	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
)

type showCommand struct {
	File string `arg:"" name:"FILE" help:"The exercise; - for standard input."`
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

Example:
  thirdwise show my-song.yaml`
}

// Run prints the board.
func (c showCommand) Run(con *console) error {
	all, err := con.arrangeAll([]string{c.File}, asWritten)
	if err != nil {
		return err
	}
	a := all[0]
	if c.JSON {
		return kit.WriteJSON(con.stdout, describeBoard(a))
	}
	w := bufio.NewWriter(con.stdout)
	(&board{w: w, exercise: a.Exercise, score: a.score}).write()
	return w.Flush()
}

// A boardDescription is the board for programs.
type boardDescription struct {
	kit.Description
	Thirds   []degreeThird `json:"thirds"`
	Triads   []degreeChord `json:"triads"`
	Sevenths []degreeChord `json:"sevenths"`
}

// A degreeThird is the third on a degree of the key, in one octave.
type degreeThird struct {
	Degree   int    `json:"degree"`
	Lower    string `json:"lower"`
	Upper    string `json:"upper"`
	Interval string `json:"interval"` // M3 or m3
}

// A degreeChord is the key's own chord on one of its degrees.
type degreeChord struct {
	Degree  int    `json:"degree"`
	Symbol  string `json:"symbol"`
	Numeral string `json:"numeral"`
}

func describeBoard(a *arrangement) boardDescription {
	key := a.score.Key
	b := boardDescription{Description: kit.Describe(a.score)}
	for i, t := range key.Thirds() {
		b.Thirds = append(b.Thirds, degreeThird{i + 1, t.Lower.ASCII(), t.Upper.ASCII(), t.Interval().String()})
	}
	b.Triads = describeChords(key, key.Triads())
	b.Sevenths = describeChords(key, key.Sevenths())
	return b
}

func describeChords(key theory.Key, chords [7]theory.Chord) []degreeChord {
	described := make([]degreeChord, len(chords))
	for i, chord := range chords {
		described[i] = degreeChord{i + 1, chord.ASCII(), theory.ASCII(key.Numeral(chord))}
	}
	return described
}
