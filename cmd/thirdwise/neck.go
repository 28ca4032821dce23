package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"thirdwise/arrange/paper/neckmap"
	"thirdwise/cmd/thirdwise/board"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

type neckCommand struct {
	Key      []string      `arg:"" name:"KEY" predictor:"key" help:"A key: C major, \"Bb dorian\"."`
	Tuning   string        `placeholder:"PITCHES" help:"Open strings, the lowest first, instead of \"E2 A2 D3 G3 B3 E4\"."`
	Capo     int           `placeholder:"FRET" help:"Fret that a capo holds down."`
	Position neck.Position `predictor:"place" placeholder:"POSITION" help:"What the hand reaches: open, a fret, or free for the whole neck."`
	Strings  string        `placeholder:"PAIR" help:"One pair of neighbouring strings, such as 2-3; 1 is the highest."`
	JSON     bool          `name:"json" help:"Print an object for programs."`

	neckMap neckmap.Map // that the options name
	lower   int         // string of the pair asked for; 0 for all
}

// Help is the command's help.
func (neckCommand) Help() string {
	return `Prints where the thirds of a key lie on the neck: a diagram of the neck with the
key's degrees; along each pair of neighbouring strings the pattern to learn,
each third with its degree, notes, quality, frets (the lower note's first) and
shape (same fret, one apart, two apart); and the positions in which the key lies
well, with the thirds that the hand reaches there.

Without --position it shows each pattern once, from the nut up: twelve frets
farther it begins anew. Frets are counted from the capo where there is one. The
key is the one that sounds.

With --json it prints an object: key, tuning (the lowest string first), capo,
position (if one was asked for), patterns and positions. A pattern has lower and
upper, its strings, and thirds: each with degree, interval (M3 or m3), shape
(frets that the lower note lies above the upper one), and lower and upper
(pitch, string, fret). A position has position, low and high (its frets),
degrees, reached and missing: thirds, each with lower and upper (pitches).

Examples:
  thirdwise neck C major
  thirdwise neck "F# minor" --position 4
  thirdwise neck G major --tuning "D2 G2 D3 G3 B3 D4" --capo 2 --strings 2-3`
}

// Validate refuses a command line that cannot be followed.
func (c *neckCommand) Validate() error {
	m := &c.neckMap
	if err := errors.Join(c.readKey(m), c.readNeck(&m.Neck)); err != nil {
		return err
	}
	return errors.Join(c.readPosition(m), c.readStrings(m.Neck))
}

func (c *neckCommand) readKey(m *neckmap.Map) (err error) {
	m.Key, err = theory.ParseKey(strings.Join(c.Key, " "))
	return err
}

func (c *neckCommand) readNeck(n *neck.Neck) (err error) {
	*n = neck.Neck{Tuning: neck.Standard(), Capo: c.Capo}
	if c.Tuning != "" {
		if n.Tuning, err = neck.ParseTuning(c.Tuning); err != nil {
			return fmt.Errorf("--tuning: %w", err)
		}
	}
	if err := n.Check(); err != nil {
		return fmt.Errorf("--capo: %w", err)
	}
	return nil
}

func (c *neckCommand) readPosition(m *neckmap.Map) error {
	m.Position = c.Position
	if err := m.Neck.CheckPosition(m.Position); err != nil {
		return fmt.Errorf("--position: %w", err)
	}
	return nil
}

func (c *neckCommand) readStrings(n neck.Neck) error {
	if c.Strings == "" {
		return nil
	}
	from, to, _ := strings.Cut(strings.ReplaceAll(c.Strings, "–", "-"), "-")
	one, err1 := strconv.Atoi(from)
	other, err2 := strconv.Atoi(to)
	upper, lower := min(one, other), max(one, other)
	if cmp.Or(err1, err2) != nil || upper < 1 || lower > n.Strings() || lower-upper != 1 {
		return fmt.Errorf("--strings %s: two neighbouring strings between 1 and %d were expected, as in 2-3", c.Strings, n.Strings())
	}
	c.lower = lower
	return nil
}

// Run prints the map.
func (c *neckCommand) Run(con *console) error {
	if c.JSON {
		return kit.WriteJSON(con.stdout, board.DescribeNeck(c.neckMap, c.patterns()))
	}
	w := bufio.NewWriter(con.stdout)
	if err := board.WriteNeck(w, c.neckMap, c.patterns()); err != nil {
		return err
	}
	return w.Flush()
}

// patterns returns those of the strings asked for.
func (c *neckCommand) patterns() []neck.Pattern {
	all := c.neckMap.Patterns()
	if c.lower == 0 {
		return all
	}
	return all[c.lower-2 : c.lower-1] // the highest pair, whose lower string is 2, comes first
}
