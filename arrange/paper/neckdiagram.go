package paper

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"thirdwise/theory/neck"
)

// Columns of a diagram of the neck.
const (
	diagramLabel = 6 // a string's number and tone, as in "1 F♯"
	diagramFret  = 4 // a fret, its wire included
	diagramFrets = 15
)

// inlays is the frets, counted from the nut, at which a neck is usually marked;
// true where the mark is double (common practice).
var inlays = map[int]bool{
	3: false, 5: false, 7: false, 9: false, 12: true,
	15: false, 17: false, 19: false, 21: false, 24: true,
}

// WriteNeckDiagram draws the neck of a map, at most 80 columns wide, for a
// fixed-width font: the strings as lines, the highest on top as in a tab, the
// frets as columns, and the degrees of the key at their places. The errors are
// those of w.
func WriteNeckDiagram(w io.Writer, m NeckMap) error {
	d := newDiagram(m)
	out := bufio.NewWriter(w)
	for i, stretch := range d.stretches() {
		if i > 0 {
			fmt.Fprintln(out)
		}
		for _, r := range d.rows(stretch[0], stretch[1]) {
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
	NeckMap
	degrees map[int]int // of the pitch classes in the key
}

func newDiagram(m NeckMap) diagram {
	d := diagram{m, map[int]int{}}
	for i, tone := range m.Key.Tones() {
		d.degrees[tone.Class()] = i + 1
	}
	return d
}

// stretches returns the first and the last fret of each part of the neck that is
// drawn: about what the hand reaches, or the neck in parts that fit on a line.
func (d diagram) stretches() [][2]int {
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
	parts := (last + diagramFrets - 1) / diagramFrets
	each := (last + parts - 1) / parts
	var stretches [][2]int
	for from := 1; from <= last; from += each {
		stretches = append(stretches, [2]int{from, min(last, from+each-1)})
	}
	return stretches
}

// rows draws a stretch of frets.
func (d diagram) rows(from, to int) []row {
	width := d.column(from, to+1)
	numbers := newRow(width, ' ')
	numbers.put(0, "fret")
	for fret := from; fret <= to; fret++ {
		numbers.put(d.column(from, fret), fmt.Sprintf("%2d", fret))
	}
	rows := []row{numbers}
	for str := 1; str <= d.Neck.Strings(); str++ {
		rows = append(rows, d.stringRow(str, from, to))
	}
	return append(rows, d.below(from, to, width)...)
}

// column returns where a fret begins, behind the wire before it.
func (d diagram) column(from, fret int) int {
	return diagramLabel + len("(1)||") + (fret-from)*diagramFret
}

func (d diagram) stringRow(str, from, to int) row {
	r := newRow(d.column(from, to+1), '-')
	tuning := d.Neck.Tuning
	r.put(0, strings.Repeat(" ", diagramLabel))
	r.put(0, fmt.Sprintf("%d %s", str, tuning[len(tuning)-str].Tone))
	start := d.sign(str, 0, "   ") + "||"
	switch {
	case from > 1:
		start = "    |"
	case d.Neck.Capo > 0:
		start = d.sign(str, 0, "   ") + "##"
	}
	r.put(diagramLabel, start)
	for fret := from; fret <= to; fret++ {
		r.put(d.column(from, fret), d.sign(str, fret, "---")+"|")
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
func (d diagram) below(from, to, width int) []row {
	marks, own := newRow(width, ' '), newRow(width, ' ')
	own.put(0, "neck")
	for fret := from; fret <= to; fret++ {
		double, marked := inlays[fret+d.Neck.Capo]
		if !marked {
			continue
		}
		sign := " •"
		if double {
			sign = "••"
		}
		marks.put(d.column(from, fret), sign)
		own.put(d.column(from, fret), fmt.Sprintf("%2d", fret+d.Neck.Capo))
	}
	rows := []row{marks}
	if d.Neck.Capo > 0 {
		rows = append(rows, own)
	}
	first, fixed := d.Position.Fret()
	if !fixed && d.Position != neck.Open {
		return rows
	}
	hand := newRow(width, ' ')
	hand.put(0, "hand")
	start := d.column(from, first)
	if !fixed {
		start = diagramLabel
	}
	hand.put(start, strings.Repeat("=", d.column(from, first+neck.Span+1)-1-start))
	return append(rows, hand)
}

// legend says what the signs mean.
func (d diagram) legend() []string {
	text := "Numbers on the strings are degrees of the key, (1) the tonic."
	if capo := d.Neck.Capo; capo > 0 {
		text += fmt.Sprintf(" The capo (##) is at fret %d of the neck; frets are counted from it.", capo)
	}
	return slices.Concat([]string{""}, tabLines(text))
}
