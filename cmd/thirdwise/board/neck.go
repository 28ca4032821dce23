package board

import (
	"fmt"
	"io"

	"thirdwise/arrange/paper/neckmap"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// WriteNeck writes a map of the neck: the diagram, some patterns, and the positions.
func WriteNeck(w io.Writer, m neckmap.Map, patterns []neck.Pattern) error {
	fmt.Fprintf(w, "%s on %s, %s", m.Key, m.Neck.Tuning, m.Neck.CapoName())
	if m.Position != neck.Lowest {
		fmt.Fprintf(w, ", %s", m.Position.Name())
	}
	fmt.Fprint(w, "\n\n")
	if err := neckmap.WriteDiagram(w, m); err != nil {
		return err
	}
	for _, pattern := range patterns {
		fmt.Fprintln(w)
		if err := neckmap.WritePattern(w, m, pattern); err != nil {
			return err
		}
	}
	fmt.Fprintln(w)
	return neckmap.WritePositions(w, m)
}

// A NeckDescription is a map of the neck for programs.
type NeckDescription struct {
	Key       string        `json:"key"`
	Tuning    []string      `json:"tuning"` // the lowest string first, without capo
	Capo      int           `json:"capo"`   // 0 for none
	Position  string        `json:"position,omitempty"`
	Patterns  []neckPattern `json:"patterns"`
	Positions []keyPosition `json:"positions"`
}

// A neckPattern is the thirds along a pair of strings, from the nut up.
type neckPattern struct {
	Lower  int         `json:"lower"`
	Upper  int         `json:"upper"`
	Thirds []neckThird `json:"thirds"`
}

// A neckThird is a third where it is played.
type neckThird struct {
	Degree   int            `json:"degree"`
	Interval string         `json:"interval"` // M3 or m3
	Shape    int            `json:"shape"`    // frets that the lower note lies above the upper one
	Lower    kit.NoteRecord `json:"lower"`
	Upper    kit.NoteRecord `json:"upper"`
}

// A keyPosition is a position in which the key lies well.
type keyPosition struct {
	Position string         `json:"position"`
	Low      int            `json:"low"`
	High     int            `json:"high"`
	Degrees  []int          `json:"degrees"`
	Reached  []pitchedThird `json:"reached"`
	Missing  []pitchedThird `json:"missing"`
}

// A pitchedThird is a third wherever it is played.
type pitchedThird struct {
	Lower string `json:"lower"`
	Upper string `json:"upper"`
}

// DescribeNeck describes a map of the neck and the patterns that are shown of it.
func DescribeNeck(m neckmap.Map, patterns []neck.Pattern) NeckDescription {
	d := NeckDescription{Key: m.Key.ASCII(), Capo: m.Neck.Capo, Patterns: []neckPattern{}, Positions: []keyPosition{}}
	if m.Position != neck.Lowest {
		d.Position = m.Position.String()
	}
	for _, open := range m.Neck.Tuning {
		d.Tuning = append(d.Tuning, open.ASCII())
	}
	for _, p := range patterns {
		described := neckPattern{p.Lower, p.Upper, []neckThird{}}
		for _, t := range p.Thirds {
			described.Thirds = append(described.Thirds, neckThird{
				t.Degree, t.Interval().String(), t.Shape(),
				kit.NoteAt(t.Third.Lower, t.Pair.Lower), kit.NoteAt(t.Third.Upper, t.Pair.Upper),
			})
		}
		d.Patterns = append(d.Patterns, described)
	}
	for _, kp := range m.Neck.Positions(m.Key) {
		d.Positions = append(d.Positions, keyPosition{
			kp.Position.String(), kp.Low, kp.High, kp.Degrees, pitchedThirds(kp.Thirds), pitchedThirds(kp.Missing),
		})
	}
	return d
}

func pitchedThirds(thirds []theory.Third) []pitchedThird {
	described := []pitchedThird{}
	for _, t := range thirds {
		described = append(described, pitchedThird{t.Lower.ASCII(), t.Upper.ASCII()})
	}
	return described
}
