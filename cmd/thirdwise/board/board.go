// Package board writes an exercise as a teacher writes it on a board: the key's
// thirds and chords, the chart, the grips, and the line bar by bar.
//
// In go a score and the chart that it was arranged from; out comes text of 80
// columns, or for programs a [Description].
package board

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
	"thirdwise/theory/numeral"
)

// columns is how many of them the board has.
const columns = 80

// A writer writes a board.
type writer struct {
	bytes.Buffer
	chart []chart.Bar
	score *score.Score
}

// Write writes what stands on the board about a score and the chart that it was
// arranged from. The errors are those of w.
func Write(w io.Writer, written []chart.Bar, s *score.Score) error {
	b := &writer{chart: written, score: s}
	b.writeHead()
	b.writeThirds()
	b.writeFamily()
	b.writeChart()
	b.writeGrips()
	b.writeLine()
	_, err := w.Write(b.Bytes())
	return err
}

func (b *writer) printf(format string, args ...any) { fmt.Fprintf(b, format, args...) }

func (b *writer) writeHead() {
	s := b.score
	tempos := make([]string, len(s.Tempos))
	for i, tempo := range s.Tempos {
		tempos[i] = fmt.Sprint(tempo)
	}
	b.paragraph(s.Title)
	b.paragraph(fmt.Sprintf("%s, %s, %s; %s beats per minute; %s",
		s.Key, s.Meter, s.Feel, strings.Join(tempos, ", "), paper.Passes(s.Passes)))
	b.paragraph(fmt.Sprintf("%s, %s, %s; %s",
		s.Neck.Tuning, s.Neck.CapoName(), s.Position.Name(), s.Movement()))
}

// writeThirds writes the third on each degree of the key: its notes, its
// quality, and its shape on each pair of neighbouring strings.
func (b *writer) writeThirds() {
	b.printf("\nThirds of %s\n", b.score.Key)
	thirds := b.score.Key.Thirds()
	rows := [][]string{{"degree"}, {"notes"}, {"third"}}
	for degree, t := range thirds {
		rows[0] = append(rows[0], fmt.Sprint(degree+1))
		rows[1] = append(rows[1], fmt.Sprintf("%s–%s", t.Lower.Tone, t.Upper.Tone))
		rows[2] = append(rows[2], t.Quality())
	}
	for _, s := range shapes(b.score.Neck, thirds) {
		row := []string{"strings " + strings.Join(s.strings, " ")}
		for _, shape := range s.shapes {
			row = append(row, minus(shape))
		}
		rows = append(rows, row)
	}
	b.table(rows)
	b.paragraph("By the strings: how many frets the lower note lies above the upper one.")
}

// A shapeRow is the shapes of a key's thirds on pairs of strings that share
// them.
type shapeRow struct {
	strings []string // "3–2", the lower string first
	shapes  []int    // one a degree
}

// shapes returns the shapes of a key's thirds, for the pairs of neighbouring
// strings from the lowest up on which a hand reaches all. Pairs tuned the same distance
// apart share a row.
func shapes(n neck.Neck, thirds [7]theory.Third) []shapeRow {
	var rows []shapeRow
	for lower := n.Strings(); lower > 1; lower-- {
		name := fmt.Sprintf("%d–%d", lower, lower-1)
		var row []int
		for _, t := range thirds {
			if shape, ok := shapeOn(n, t, lower); ok && max(shape, -shape) <= neck.Span {
				row = append(row, shape)
			}
		}
		if len(row) < len(thirds) {
			continue
		}
		same := slices.IndexFunc(rows, func(r shapeRow) bool { return slices.Equal(r.shapes, row) })
		if same < 0 {
			rows = append(rows, shapeRow{[]string{name}, row})
			continue
		}
		rows[same].strings = append(rows[same].strings, name)
	}
	return rows
}

// shapeOn returns the shape of a third, in whatever octave, on a string and the
// one above it.
func shapeOn(n neck.Neck, t theory.Third, lower int) (shape int, ok bool) {
	for octave := -1; octave <= 9; octave++ {
		up := theory.Interval{Steps: 7 * (octave - t.Lower.Octave), Semitones: 12 * (octave - t.Lower.Octave)}
		moved := theory.Third{Lower: t.Lower.Up(up), Upper: t.Upper.Up(up)}
		for _, pair := range n.Pairs(moved) {
			if pair.Lower.String == lower {
				return pair.Shape(), true
			}
		}
	}
	return 0, false
}

// writeFamily writes the key's own triads and seventh chords with numerals.
func (b *writer) writeFamily() {
	key := b.score.Key
	b.printf("\nChords of %s\n", key)
	rows := [][]string{{"triads"}, {""}, {"sevenths"}, {""}}
	triads, sevenths := key.Triads(), key.Sevenths()
	for i, family := range [][]theory.DegreeChord{triads, sevenths} {
		for _, c := range family {
			rows[2*i] = append(rows[2*i], c.String())
			rows[2*i+1] = append(rows[2*i+1], numeral.Of(c.Chord, key))
		}
	}
	b.table(rows)
	if key.Mode == theory.Minor {
		b.writeRaisedSeventh()
	}
}

// writeRaisedSeventh adds the chords that a minor key borrows from its harmonic
// minor, which minor songs use as their own (common practice).
func (b *writer) writeRaisedSeventh() {
	key := b.score.Key
	var names []string
	for _, name := range []string{"V", "V7", "vii°", "vii°7"} {
		if chord, err := numeral.Parse(name, key); err == nil {
			names = append(names, fmt.Sprintf("%s %s", name, chord))
		}
	}
	b.paragraph("With the seventh raised: " + strings.Join(names, ", ") + ".")
}

// writeGrips writes how each chord of the chart is gripped, in the order in
// which they come.
func (b *writer) writeGrips() {
	var names []string
	for _, bar := range b.score.Bars {
		for _, span := range bar.Chords {
			name := fmt.Sprintf("%s %s", span.Label(), span.Grip)
			if !span.None && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if len(names) == 0 {
		return
	}
	b.printf("\nGrips, the lowest string first\n")
	column := 0
	for _, name := range names {
		column = max(column, utf8.RuneCountInString(name)+2)
	}
	perRow := max(1, (columns-2)/max(column, 1))
	for row := range slices.Chunk(names, perRow) {
		text := "  "
		for _, name := range row {
			text += pad(name, column)
		}
		b.printf("%s\n", strings.TrimRight(text, " "))
	}
}

// table writes rows whose columns stand one below another. The first column
// names the rows.
func (b *writer) table(rows [][]string) {
	var widths []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	gap := "  "
	if len(gap)*len(widths)+sum(widths) > columns {
		gap = " "
	}
	for _, row := range rows {
		text := ""
		for i, cell := range row {
			text += gap + pad(cell, widths[i])
		}
		b.printf("%s\n", strings.TrimRight(text, " "))
	}
}

// paragraph writes text, broken at spaces where it would leave the board.
func (b *writer) paragraph(text string) {
	for _, line := range paper.Lines(text, paper.Columns(columns)) {
		b.printf("%s\n", line)
	}
}

// pad fills text up to a width in characters with spaces.
func pad(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(text)))
}

func sum(numbers []int) int {
	total := 0
	for _, n := range numbers {
		total += n
	}
	return total
}

// minus writes a number with the sign of mathematics where it is below zero.
func minus(n int) string { return strings.Replace(fmt.Sprint(n), "-", "−", 1) }
