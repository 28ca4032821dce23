package neckmap

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// A Map is a key as it lies on a neck. In neck.Open and neck.At it is what
// the hand reaches, in neck.Free the whole neck. In neck.Lowest it is each
// pattern once, from the nut up: an octave farther it begins anew.
type Map struct {
	Key      theory.Key
	Neck     neck.Neck
	Position neck.Position
}

// octave is the frets after which a pattern begins anew.
const octave = 12

// Patterns returns the thirds of the map, for each pair of neighbouring strings,
// the highest pair first.
func (m Map) Patterns() []neck.Pattern {
	patterns := m.Neck.Map(m.Key, m.Position)
	if m.Position != neck.Lowest {
		return patterns
	}
	for i := range patterns {
		patterns[i].Thirds = slices.DeleteFunc(patterns[i].Thirds, func(t neck.PlacedThird) bool {
			return min(t.Pair.Lower.Fret, t.Pair.Upper.Fret) >= octave
		})
	}
	return patterns
}

// WritePattern writes a pattern of the map as a table: each third's degree,
// notes, quality, frets and shape. The errors are those of w.
func WritePattern(w io.Writer, m Map, p neck.Pattern) error {
	tuning := m.Neck.Tuning
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "Strings %d–%d (tuned %s and %s), from the nut up\n",
		p.Lower, p.Upper, tuning.Open(p.Lower), tuning.Open(p.Upper))
	if len(p.Thirds) == 0 {
		fmt.Fprintln(out, "  no third of the key lies here in reach")
		return out.Flush()
	}
	table := newTable(out)
	fmt.Fprintln(table, "  degree\tthird\tquality\tfrets\tshape")
	for _, t := range p.Thirds {
		shape := shapeName(t.Shape())
		if m.stretches(t) {
			shape += ", a stretch"
		}
		fmt.Fprintf(table, "  %d\t%s\t%s\t%d–%d\t%s\n",
			t.Degree, t.Third, t.Quality(), t.Pair.Lower.Fret, t.Pair.Upper.Fret, shape)
	}
	table.Flush()
	return out.Flush()
}

// newTable begins a table whose columns stand two spaces apart.
func newTable(w io.Writer) *tabwriter.Writer { return tabwriter.NewWriter(w, 0, 0, 2, ' ', 0) }

// stretches reports whether a finger leaves its place in the position for a third.
func (m Map) stretches(t neck.PlacedThird) bool {
	first, fixed := m.Position.Fret()
	outside := func(fret int) bool { return fret < first || fret > first+neck.Span }
	return fixed && (outside(t.Pair.Lower.Fret) || outside(t.Pair.Upper.Fret))
}

// shapeName returns the name that players have for a shape (see
// [neck.Pair.Shape]): "same fret", "one apart".
func shapeName(shape int) string {
	names := [...]string{"same fret", "one apart", "two apart", "three apart", "four apart"}
	switch {
	case shape < 0 && -shape < len(names):
		return names[-shape] + ", upper note higher"
	case shape >= 0 && shape < len(names):
		return names[shape]
	}
	return fmt.Sprintf("%d apart", shape)
}

// WritePositions writes the positions in which the key lies well, as a table: the
// frets of each, how many of the thirds from its lowest to its highest the hand
// reaches there without a stretch, which it does not, and the degrees it has. The
// errors are those of w.
func WritePositions(w io.Writer, m Map) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "Positions in which %s lies well\n", m.Key)
	positions := m.Neck.Positions(m.Key)
	if len(positions) == 0 {
		fmt.Fprintln(out, "  none")
		return out.Flush()
	}
	table := newTable(out)
	fmt.Fprintln(table, "  position\tfrets\tthirds\tdegrees\tfrom\tto\tmissing")
	for _, kp := range positions {
		fmt.Fprintf(table, "  %s\t%d–%d\t%d of %d\t%s\t%s\t%s\t%s\n",
			kp.Position, kp.Low, kp.High, len(kp.Thirds), len(kp.Thirds)+len(kp.Missing), degrees(kp.Degrees),
			kp.Thirds[0], kp.Thirds[len(kp.Thirds)-1], missing(kp.Missing))
	}
	table.Flush()
	return out.Flush()
}

func degrees(of []int) string {
	if len(of) == 7 {
		return "all"
	}
	return strings.Trim(fmt.Sprint(of), "[]")
}

// missing lists as many thirds as a table of 80 columns has room for, and counts
// the others.
func missing(thirds []theory.Third) string {
	const room = 18 // characters
	if len(thirds) == 0 {
		return "none"
	}
	names := make([]string, len(thirds))
	for i, t := range thirds {
		names[i] = t.String()
	}
	for n := len(names); n > 0; n-- {
		list := strings.Join(names[:n], " ")
		if n < len(names) {
			list += fmt.Sprintf(" and %d more", len(names)-n)
		}
		if utf8.RuneCountInString(list) <= room {
			return list
		}
	}
	return fmt.Sprint(len(names))
}
