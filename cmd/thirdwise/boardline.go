package main

import (
	"fmt"
	"math/big"

	"thirdwise/arrange/score"
)

// writeLine writes the line, bar by bar.
func (b *board) writeLine() {
	b.printf("\nThe line\n")
	rows := [][]string{{"bar", "chord", "on", "third", "strings", "frets", "apart", "role"}}
	next := 0
	for i, bar := range b.score.Bars {
		end := bar.Tick + b.score.Meter.Bar()
		from := next
		for next < len(b.score.Line) && b.score.Line[next].Tick < end {
			next++
		}
		barRows := b.lineRows(bar, b.score.Line[from:next])
		barRows[0][0] = barName(i, bar)
		rows = append(rows, barRows...)
	}
	b.table(rows)
	bars, line := b.score.Bars, b.score.Line
	if len(bars) > len(b.exercise.Chart) {
		b.paragraph("In brackets: the bar's number in the chart, where repeats have moved it.")
	}
	if len(line) > 0 && line[len(line)-1].LeadsBack {
		b.paragraph("What leads back is played in every pass but the last.")
	}
}

// lineRows returns the rows of a bar's thirds, and of its chords where no third
// begins.
func (b *board) lineRows(bar score.Bar, thirds []score.Third) [][]string {
	var rows [][]string
	for i, span := range bar.Chords {
		end := bar.Tick + b.score.Meter.Bar()
		if i+1 < len(bar.Chords) {
			end = bar.Chords[i+1].Tick
		}
		name := span.Symbol()
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

func (b *board) thirdRow(chord string, tick int, t score.Third) []string {
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

// barName returns a bar's number and, where it differs, its number in the chart
// as written.
func barName(index int, bar score.Bar) string {
	if bar.Written == index {
		return fmt.Sprint(index + 1)
	}
	return fmt.Sprintf("%d (%d)", index+1, bar.Written+1)
}

// fractions are the parts of a count that musicians have signs for.
var fractions = map[string]string{
	"1/2": "½", "1/3": "⅓", "2/3": "⅔", "1/4": "¼", "3/4": "¾", "1/6": "⅙", "5/6": "⅚",
	"1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞",
}

// count returns where in the bar a tick falls, counted as players count it, in
// the meter's written unit: 2½ is the "and" of two in 4/4.
func (b *board) count(tick int) string {
	unit := b.score.Meter.UnitTicks()
	count, rest := fmt.Sprint(tick/unit+1), tick%unit
	if rest == 0 {
		return count
	}
	part := big.NewRat(int64(rest), int64(unit)).RatString()
	if sign, ok := fractions[part]; ok {
		return count + sign
	}
	return count + " " + part
}
