package neckmap

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"thirdwise/arrange/paper"
	"thirdwise/theory/neck"
)

// Columns of a diagram of the neck.
const (
	diagramLabel = 6 // a string's number and tone, as in "1 F♯"
	diagramFret  = 4 // a fret, its wire included
	diagramFrets = 15
)

// WriteDiagram draws the neck of a map, at most 80 columns wide, for a
// fixed-width font: the strings as lines, the highest on top as in a tab, the
// frets as columns, and the degrees of the key at their places. The errors are
// those of w.
func WriteDiagram(w io.Writer, m Map) error {
	d := newDiagram(m)
	out := bufio.NewWriter(w)
	for i, part := range d.parts() {
		if i > 0 {
			fmt.Fprintln(out)
		}
		for _, r := range d.rows(part[0], part[1]) {
			fmt.Fprintln(out, strings.TrimRight(string(r), " "))
		}
	}
	for _, line := range d.legend() {
		fmt.Fprintln(out, line)
	}
	return out.Flush()
}

// A diagram is a map of a neck on its way to text.
type diagram struct {
	Map
	degrees map[int]int // of the pitch classes in the key
}

func newDiagram(m Map) diagram {
	d := diagram{m, map[int]int{}}
	for i, tone := range m.Key.Tones() {
		d.degrees[tone.Class()] = i + 1
	}
	return d
}

// parts returns the first and the last fret of each part of the neck that is
// drawn: about what the hand reaches, or the neck in parts that fit on a line.
func (d diagram) parts() [][2]int {
	last := d.Neck.LastFret()
	if fret, ok := d.Position.Fret(); ok {
		return [][2]int{{max(1, fret-2), min(last, fret+neck.Span+2)}}
	}
	switch d.Position {
	case neck.Open:
		return [][2]int{{1, neck.Span + 2}}
	case neck.Lowest:
		return [][2]int{{1, min(last, diagramFrets)}}
	}
	count := (last + diagramFrets - 1) / diagramFrets
	each := (last + count - 1) / count
	var parts [][2]int
	for i := range count {
		parts = append(parts, [2]int{1 + i*each, min(last, (i+1)*each)})
	}
	return parts
}

// rows draws a stretch of frets.
func (d diagram) rows(from, to int) []paper.Row {
	width := d.column(from, to+1)
	numbers := paper.NewRow(width, ' ')
	numbers.Put(0, "fret")
	for fret := from; fret <= to; fret++ {
		numbers.Put(d.column(from, fret), fmt.Sprintf("%2d", fret))
	}
	rows := []paper.Row{numbers}
	for str := 1; str <= d.Neck.Strings(); str++ {
		rows = append(rows, d.stringRow(str, from, to))
	}
	return append(rows, d.below(from, to, width)...)
}

// column returns where a fret begins, behind the wire before it.
func (d diagram) column(from, fret int) int {
	return diagramLabel + len("(1)||") + (fret-from)*diagramFret
}

func (d diagram) stringRow(str, from, to int) paper.Row {
	r := paper.NewRow(d.column(from, to+1), '-')
	tuning := d.Neck.Tuning
	r.Put(0, fmt.Sprintf("%-*s", diagramLabel, fmt.Sprint(str, " ", tuning.Open(str).Tone)))
	start := d.sign(str, 0, "   ") + "||"
	switch {
	case from > 1:
		start = "    |"
	case d.Neck.Capo > 0:
		start = d.sign(str, 0, "   ") + "##"
	}
	r.Put(diagramLabel, start)
	for fret := from; fret <= to; fret++ {
		r.Put(d.column(from, fret), d.sign(str, fret, "---")+"|")
	}
	return r
}

// sign returns what stands at a place: the degree there, or nothing.
func (d diagram) sign(str, fret int, nothing string) string {
	degree, ok := d.degrees[d.Neck.Key(neck.Place{String: str, Fret: fret})%12]
	switch {
	case !ok:
		return nothing
	case degree == 1:
		return "(1)"
	}
	return nothing[:1] + fmt.Sprint(degree) + nothing[:1]
}

// below draws what stands below the strings: inlays, the neck's own fret numbers
// where there is a capo, and where the hand is.
func (d diagram) below(from, to, width int) []paper.Row {
	marks, own := paper.NewRow(width, ' '), paper.NewRow(width, ' ')
	own.Put(0, "neck")
	for fret := from; fret <= to; fret++ {
		count := neck.Inlays(fret + d.Neck.Capo)
		if count == 0 {
			continue
		}
		sign := fmt.Sprintf("%2s", strings.Repeat("•", count))
		marks.Put(d.column(from, fret), sign)
		own.Put(d.column(from, fret), fmt.Sprintf("%2d", fret+d.Neck.Capo))
	}
	rows := []paper.Row{marks}
	if d.Neck.Capo > 0 {
		rows = append(rows, own)
	}
	first, fixed := d.Position.Fret()
	if !fixed && d.Position != neck.Open {
		return rows
	}
	hand := paper.NewRow(width, ' ')
	hand.Put(0, "hand")
	start := d.column(from, first)
	if !fixed {
		start = diagramLabel
	}
	hand.Put(start, strings.Repeat("=", d.column(from, first+neck.Span+1)-1-start))
	return append(rows, hand)
}

// legend says what the signs mean.
func (d diagram) legend() []string {
	text := "Numbers on the strings are degrees of the key, (1) the tonic."
	if capo := d.Neck.Capo; capo > 0 {
		text += fmt.Sprintf(" The capo (##) is at fret %d of the neck; frets are counted from it.", capo)
	}
	return slices.Concat([]string{""}, paper.TextLines(text))
}
