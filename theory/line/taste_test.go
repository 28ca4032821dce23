package line_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory"
	"thirdwise/theory/line"
	"thirdwise/theory/theorytest"
)

// The taste is what the table of costs says, to the unit: each of these exercises is
// one, found by a search, in which one unit more of the cost gives another line.
func TestEachCostDecidesALine(t *testing.T) {
	for _, c := range []struct {
		cost, key, symbols     string
		inABar, density, aBeat int // chords in a bar, density, slots in a beat
		low, high              string
		hand                   int // effort of the second third of three, half that of the third
		closed                 bool
		variant                int
		twice                  bool // the chords come twice, and then the first once more
		want                   string
	}{
		{"Far", "C major", "Dm7 Db7 F C7", 2, 0, 1, "C4", "D5", 2, true, 2, true, "F4 F4 F4 G4 F4 F4 F4 G4 F4"},
		{"Hand", "C major", "Dm7 Db7 F C7", 2, 0, 1, "C4", "D5", 2, true, 2, true, "F4 F4 F4 G4 F4 F4 F4 G4 F4"},
		{"Opening", "C major", "Dm7 Db7 F C7", 2, 0, 1, "C4", "D5", 2, true, 2, true, "F4 F4 F4 G4 F4 F4 F4 G4 F4"},
		{"Vague", "C major", "E7 E7 Bm7b5 Fm", 2, 25, 2, "D4", "C5", 2, true, 2, false, "E4 G♯4 G♯4 E4 F4 E4 F4"},
		{"Bare", "C major", "E7 E7 Bm7b5 Fm", 2, 25, 2, "D4", "C5", 2, true, 2, false, "E4 G♯4 G♯4 E4 F4 E4 F4"},
		{"Doubled", "C major", "Dm7 Db7 F C7", 2, 0, 1, "C4", "D5", 2, true, 2, true, "F4 F4 F4 G4 F4 F4 F4 G4 F4"},
		{"Unaltered", "A minor", "Fsus4 Fsus4", 2, 50, 2, "C4", "G4", 2, false, 2, false, "G4 G4 G4 G4"},
		{"Home", "C major", "C7 Em Fsus4 Cmaj7", 2, 0, 2, "D4", "C5", 102, true, 2, false, "E4 E4 B♭4 E4"},
		{"ForeignStrong", "A minor", "Em Em Em", 1, 25, 1, "F4", "F5", 29, false, 2, false, "E5 D5 E5 D5 E5"},
		{"ForeignBeat", "C major", "Bb Dm", 1, 25, 1, "D4", "A4", 2, true, 2, false, "D4 F4 F4 E4"},
		{"Hanging", "A minor", "C C", 1, 50, 2, "E4", "B4", 0, false, 2, false, "E4 F4 G4 A4 G4 E4"},
		{"Loose", "A minor", "C C", 1, 50, 2, "E4", "B4", 0, false, 2, false, "E4 F4 G4 A4 G4 E4"},
		{"Suspended", "C major", "Fsus4 D7", 1, 75, 1, "D4", "B4", 31, true, 1, false, "B♭4 A4 B♭4 A4 F♯4 A4 A4"},
		{"Turn", "A minor", "C C", 1, 100, 2, "E4", "C5", 3, true, 2, false, "E4 F4 E4 F4 G4 A4 G4 F4 E4 F4 G4 A4 C5 B4 A4 G4"},
		{"Zigzag", "A minor", "C C", 1, 100, 2, "E4", "C5", 3, true, 2, false, "E4 F4 E4 F4 G4 A4 G4 F4 E4 F4 G4 A4 C5 B4 A4 G4"},
		{"Back", "C major", "G7 C", 1, 75, 2, "D4", "G5", 2, true, 2, false, "D5 C5 B4 A4 B4 D5 E5 D5 C5 E5 F5 G5 E5"},
		{"Skip", "C major", "Gsus4 Gsus4", 2, 50, 2, "C4", "D5", 3, true, 2, false, "E4 C4 D4 E4 F4"},
		{"LooseSkip", "C major", "G7 Am", 2, 25, 2, "E4", "D5", 25, false, 1, true, "D5 B4 A4 D5 D5 B4 A4 D5 D5"},
		{"Landing", "A minor", "C C", 1, 50, 2, "E4", "B4", 0, false, 2, false, "E4 F4 G4 A4 G4 E4"},
		{"Leap", "C major", "Dm C Am7 Gsus4", 1, 25, 1, "D4", "G5", 3, true, 1, false, "D5 F5 E5 C5 A4 G4 A4"},
		{"Jump", "A minor", "Fsus4 Fsus4", 2, 50, 2, "C4", "G4", 2, false, 2, false, "G4 G4 G4 G4"},
		{"Same", "A minor", "Cdim7 Gsus4 E7", 1, 0, 1, "C4", "B4", 20, false, 2, false, "A4 E4 E4"},
		{"Stay", "A minor", "Fm Fm", 1, 100, 2, "C4", "F5", 2, true, 1, false, "A♭4 G4 F4 E4 F4 G4 A♭4 B♭4 A♭4 G4 F4 E4 D4 E4 F4 G4"},
		{"Repeat", "C major", "Gsus4 Gsus4", 2, 50, 2, "C4", "D5", 3, true, 2, false, "E4 C4 D4 E4 F4"},
		{"Restart", "A minor", "Fm Em", 1, 50, 2, "E4", "D5", 0, true, 2, false, "A♭4 G4 F4 E4 F4 G4 G4 B4 A4"},
		{"Inflected", "C major", "Dm7 Db7 F C7", 2, 0, 1, "C4", "D5", 2, true, 2, true, "F4 F4 F4 G4 F4 F4 F4 G4 F4"},
		{"Augmented", "C major", "Cdim7 Cdim7", 2, 100, 1, "C4", "G4", 0, false, 2, true, "C4 C4 C4 E♭4 C4 C4 C4 E♭4 C4"},
		{"Plateau", "A minor", "Cdim7 Cdim7", 2, 100, 2, "C4", "G5", 3, true, 2, false, "A4 B4 A4 G4 F♯4 G4 A4 B4"},
		{"Motif", "A minor", "C C", 1, 50, 2, "E4", "B4", 0, false, 2, false, "E4 F4 G4 A4 G4 E4"},
		{"Ending", "A minor", "F Bb", 2, 25, 1, "C4", "C5", 0, false, 2, true, "A4 C5 B♭4 A4 C5 B♭4 A4"},
		{"Again", "A minor", "Cdim7 Cdim7", 2, 100, 2, "C4", "G5", 3, true, 2, false, "A4 B4 A4 G4 F♯4 G4 A4 B4"},
	} {
		key := theorytest.Key(t, c.key)
		m := maker(key, c.density, quarter/c.aBeat)
		m.Low, m.High, m.Closed, m.Variant = staff(c.low), staff(c.high), c.closed, c.variant
		m.Effort = func(t theory.Third) (effort int, ok bool) { return c.hand * (t.Staff() % 3), true }
		symbols := strings.Fields(c.symbols)
		size := len(symbols)
		if c.twice {
			symbols = append(append(symbols, symbols...), symbols[0])
			m.Repeats = []line.RepeatedPart{{First: 0, Length: size, Times: 2}}
		}
		segments := segmentsOf(t, key, bar/c.inABar, symbols...)
		if c.twice {
			for i := range segments[:2*size] {
				segments[i].Bar %= size
				segments[i].Section = 1 - min(1, i%size)
			}
			segments[2*size].Bar, segments[2*size].Section = size, 2
		}
		assert.Equal(t, c.want, lowerNotes(t, m, segments), "%s over %s", c.cost, c.symbols)
	}
}

// lowerNotes returns the lower notes of the line that is found.
func lowerNotes(t *testing.T, m line.Maker, segments []line.Segment) string {
	steps, err := m.Line(segments)
	require.NoError(t, err)
	var notes []string
	for _, step := range steps {
		notes = append(notes, step.Notes.Lower.String())
	}
	return strings.Join(notes, " ")
}
