package arrange_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/arrangetest/goldentest"
)

// The golden file has what a bass plays under charts in several meters, a line a bar:
// each note with its beat in ticks, string and fret. It has been read as a bass player
// would: roots where chords begin, fifths between them, and a walk that leads on.
func TestBassLinesReadAsTheGoldenFile(t *testing.T) {
	var b strings.Builder
	for _, bass := range []string{"root-fifth", "walking"} {
		for _, c := range []struct{ key, meter, chart string }{
			{"C major", "4/4", "| C | Am | F | G7 |"},
			{"C major", "4/4", "| C Am | F G7 | C / / G | C Dm Em F |"},
			{"G major", "3/4", "| G | Em | C D7 | G |"},
			{"D minor", "6/8", "| Dm | Gm A7 | N.C. | Dm |"},
			{"E major", "12/8", "| E | A | B7 E |"},
			{"B♭ major", "2/4", "| B♭ | F/A | Gm | E♭ F |"},
			{"A minor", "5/4", "| Am | E7 | Dm E7 |"},
			{"F major", "7/8", "| F | C7 |"},
			{"C major", "2/2", "| C | F G | C/E |"},
			{"C major", "9/8", "| C | Bdim | F♯m7♭5 |"},
			{"C major", "4/4", "| C | C | C | F | F | G7 |"},
			{"C major", "4/4", "| Caug | Fsus4 | Bdim | E7♭9 | Cdim7 | C5 |"},
			{"E♭ major", "4/4", "|: E♭ | Cm :| Fm | B♭7 |"},
			{"D♭ major", "4/4", "| D♭ | G♭ | A♭7 | D♭ |"},
		} {
			s := arrangetest.Score(t, fmt.Sprintf("title: Bass\nkey: %s\nmeter: %s\nchart: '%s'\nbass: %s\nline: {density: 0%%}\nguitar: {position: free}\n", c.key, c.meter, c.chart, bass))
			fmt.Fprintf(&b, "%s, %s, %s: %s\n", bass, c.key, c.meter, c.chart)
			for _, bar := range s.Bars {
				b.WriteString("   ")
				for _, n := range s.Bass {
					if n.Tick >= bar.Tick && n.Tick < bar.Tick+s.Meter.Bar() {
						fmt.Fprintf(&b, " %d+%d %s(%d:%d)", n.Tick-bar.Tick, n.Length, n.Pitch, n.Place.String, n.Place.Fret)
					}
				}
				b.WriteString("\n")
			}
		}
	}
	goldentest.Equal(t, filepath.Join("testdata", "basslines.txt"), b.String())
}
