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
		{"Far", "A minor", "G7", 1, 100, 1, "D4", "E5", 2, false, 2, false, "B4"},
		{"Hand", "C major", "Cmaj7", 1, 75, 2, "C4", "G4", 31, false, 1, false, "C4"},
		{"Opening", "C major", "Cmaj7", 1, 75, 2, "C4", "G4", 31, false, 1, false, "C4"},
		{"Vague", "A minor", "G7 F", 2, 0, 2, "D4", "D5", 3, false, 1, false, "D5 A4"},
		{"Bare", "A minor", "G7 F", 2, 0, 2, "D4", "D5", 3, false, 1, false, "D5 A4"},
		{"Doubled", "A minor", "C", 2, 25, 1, "D4", "G5", 0, false, 1, false, "C5"},
		{"Unaltered", "A minor", "Fsus4 Bb", 2, 0, 1, "E4", "F5", 31, false, 1, false, "D5 D5"},
		{"Home", "C major", "Cdim7 C7 C7", 1, 0, 1, "E4", "C5", 102, true, 1, false, "A4 E4 E4"},
		{"ForeignStrong", "A minor", "Bm7b5", 1, 100, 1, "E4", "G4", 62, true, 2, false, "F4 E4 F4 E4"},
		{"ForeignBeat", "C major", "Gsus4", 1, 25, 1, "E4", "B4", 2, true, 2, false, "A4 A4"},
		{"Hanging", "C major", "Dm7", 2, 50, 1, "D4", "F5", 20, true, 2, false, "A4 B4"},
		{"Loose", "C major", "Dm7", 2, 50, 1, "D4", "F5", 20, true, 2, false, "A4 B4"},
		{"Avoided", "A minor", "G7b9", 1, 25, 1, "E4", "F5", 0, true, 2, false, "F4 E4"},
		{"Suspended", "C major", "Fsus4 Fsus4 Bm7b5", 2, 100, 1, "C4", "A4", 20, false, 2, false, "G4 A4 G4 E4 F4"},
		{"Turn", "C major", "Dm7", 2, 50, 1, "D4", "F5", 20, true, 2, false, "A4 B4"},
		{"Zigzag", "A minor", "Gsus4 G", 2, 75, 1, "E4", "B4", 3, true, 2, false, "A4 A4 G4 B4"},
		{"Back", "A minor", "Gsus4 G", 2, 75, 1, "E4", "B4", 3, true, 2, false, "A4 A4 G4 B4"},
		{"Skip", "A minor", "G7 F", 2, 0, 2, "D4", "D5", 3, false, 1, false, "D5 A4"},
		{"LooseSkip", "C major", "E7 E7", 2, 25, 2, "F4", "E5", 25, false, 2, false, "E5 A4 G♯4"},
		{"Landing", "A minor", "Cmaj7", 1, 50, 1, "E4", "C5", 2, true, 2, false, "E4 A4 G4"},
		{"Leap", "A minor", "G7 F", 2, 0, 2, "D4", "D5", 3, false, 1, false, "D5 A4"},
		{"Jump", "A minor", "Am E7 Bb", 2, 25, 1, "D4", "A4", 25, true, 1, false, "A4 A4 E4 D4"},
		{"Same", "A minor", "Am7 Am7", 1, 0, 1, "E4", "G5", 102, true, 2, false, "A4 A4"},
		{"Stay", "A minor", "Fsus4 Bb", 2, 0, 1, "E4", "F5", 31, false, 1, false, "D5 D5"},
		{"Stuck", "A minor", "G7b9 G7b9", 2, 0, 1, "F4", "G5", 79, true, 1, false, "G5 G5"},
		{"Repeat", "A minor", "G7b9", 2, 25, 2, "E4", "E5", 62, true, 2, false, "D5 D5"},
		{"Restart", "C major", "Dm C", 1, 50, 1, "F4", "E5", 3, false, 1, false, "D5 D5 B4 C5"},
		{"Inflected", "A minor", "Bb G7", 2, 0, 1, "F4", "E5", 0, false, 1, false, "B♭4 B4"},
		{"Augmented", "C major", "F Db7 G", 2, 0, 2, "C4", "B4", 20, true, 2, false, "A4 A♭4 G4"},
		{"Plateau", "A minor", "D7 D7", 2, 50, 1, "C4", "F5", 2, true, 1, false, "D5 C5 D5"},
		{"Ending", "C major", "Gsus4", 2, 0, 1, "C4", "A4", 0, true, 2, true, "C4 C4 D4"},
		{"Again", "A minor", "Am", 2, 25, 2, "C4", "C5", 3, true, 2, false, "A4 B4"},
		{"Mirrored", "A minor", "Bm7b5 Bb Gsus4", 1, 0, 2, "E4", "F5", 0, false, 2, false, "D5 B♭4 A4"},
		{"Fitted", "A minor", "C7 Bm7b5 Bm7b5", 1, 0, 1, "C4", "F5", 20, true, 2, false, "E4 B4 D5"},
		{"Unlike", "C major", "Fsus4 Dm7 Dm7", 1, 0, 2, "F4", "G5", 102, false, 1, false, "G5 D5 D5"},
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
