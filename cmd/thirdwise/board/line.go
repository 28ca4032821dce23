package board

import (
	"fmt"
	"io"
	"math/big"
	"slices"

	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/tab"
	"thirdwise/arrange/score"
)

// WriteVariants writes the tab of several lines of one exercise, one below the other.
// The errors are those of w.
func WriteVariants(w io.Writer, variants []*score.Score) error {
	for i, s := range variants {
		space := "\n"
		if i == 0 {
			space = ""
		}
		if _, err := fmt.Fprintf(w, "%svariant %d, %s\n", space, i+1, s.Position.Name()); err != nil {
			return err
		}
		if err := tab.WriteSystems(w, paper.Notate(s)); err != nil {
			return err
		}
	}
	return nil
}

// writeLine writes the line, bar by bar.
func (b *writer) writeLine() {
	b.printf("\nThe line\n")
	rows := [][]string{{"bar", "chord", "on", "third", "strings", "frets", "apart", "role"}}
	line := b.score.Line
	for _, written := range b.score.WrittenBars() {
		bar := b.score.Bars[written.Bars[0]]
		byTick := func(t score.Third, tick int) int { return t.Tick - tick }
		from, _ := slices.BinarySearchFunc(line, bar.Tick, byTick)
		to, _ := slices.BinarySearchFunc(line, bar.Tick+b.score.Meter.Bar(), byTick)
		barRows := b.lineRows(bar, line[from:to])
		barRows[0][0] = barName(written)
		rows = append(rows, barRows...)
	}
	b.table(rows)
	if len(line) > 0 && line[len(line)-1].LeadsBack {
		b.paragraph("What leads back is played in every pass but the last.")
	}
}

// lineRows returns the rows of a bar's thirds, and of its chords where no third
// begins.
func (b *writer) lineRows(bar score.Bar, thirds []score.Third) [][]string {
	var rows [][]string
	for i, span := range bar.Chords {
		end := bar.Tick + b.score.Meter.Bar()
		if i+1 < len(bar.Chords) {
			end = bar.Chords[i+1].Tick
		}
		name := span.Label()
		if len(thirds) == 0 || thirds[0].Tick != span.Tick {
			rows = append(rows, []string{"", name, b.count(span.Tick - bar.Tick)})
			name = ""
		}
		for len(thirds) > 0 && thirds[0].Tick < end {
			rows = append(rows, b.thirdRow(name, thirds[0].Tick-bar.Tick, thirds[0]))
			thirds, name = thirds[1:], ""
		}
	}
	return rows
}

func (b *writer) thirdRow(chord string, tick int, t score.Third) []string {
	role := t.Role.String()
	if t.LeadsBack {
		role += ", leads back"
	}
	return []string{
		"", chord, b.count(tick), t.Notes.String(),
		fmt.Sprintf("%d–%d", t.Places.Lower.String, t.Places.Upper.String),
		fmt.Sprintf("%d–%d", t.Places.Lower.Fret, t.Places.Upper.Fret),
		minus(t.Places.Shape()), role,
	}
}

// barName returns a bar's label, and the times through a repeat of one that stands in
// an ending: "4 (1. 2.)".
func barName(bar score.WrittenBar) string {
	if bar.Ending == nil {
		return bar.Label()
	}
	return fmt.Sprintf("%s (%s)", bar.Label(), bar.Ending)
}

// fractions are the parts of a count that musicians have signs for.
var fractions = map[string]string{
	"1/2": "½", "1/3": "⅓", "2/3": "⅔", "1/4": "¼", "3/4": "¾", "1/6": "⅙", "5/6": "⅚",
	"1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞",
}

// count returns where in the bar a tick falls, counted as players count it, in
// the meter's written unit: 2½ is the "and" of two in 4/4.
func (b *writer) count(tick int) string {
	unit := b.score.Meter.UnitTicks()
	name, rest := fmt.Sprint(tick/unit+1), tick%unit
	if rest == 0 {
		return name
	}
	part := big.NewRat(int64(rest), int64(unit)).RatString()
	if sign, ok := fractions[part]; ok {
		return name + sign
	}
	return name + " " + part
}
