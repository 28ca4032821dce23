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
		{"Far", "C major", "F G7", 1, 75, 1, "C4", "G5", 0, false, 2, false, "F4 A4 F4 G4"},
		{"Hand", "A minor", "Dm7 C", 2, 50, 1, "C4", "A4", 2, true, 1, false, "F4 D4 E4"},
		{"Opening", "A minor", "Dm7 C", 2, 50, 1, "C4", "A4", 2, true, 1, false, "F4 D4 E4"},
		{"Vague", "C major", "Dm7 Dm7", 2, 75, 2, "C4", "A4", 2, true, 2, false, "A4 G4 F4 E4 D4 F4 G4"},
		{"Bare", "A minor", "Dm7 E7", 2, 0, 1, "F4", "D5", 0, false, 1, false, "A4 G♯4"},
		{"Unaltered", "C major", "C7 Cdim7", 2, 0, 2, "C4", "A4", 30, false, 1, false, "E4 A4"},
		{"Home", "C major", "Bm7b5 E7 Cdim7 Am7 Cmaj7", 1, 0, 1, "E4", "C5", 101, false, 2, false, "F4 E4 A4 A4 E4"},
		{"ForeignStrong", "C major", "Bm7b5 Gsus4 Gsus4 G G7", 1, 25, 2, "F4", "B4", 44, false, 2, false, "B4 A4 A4 A4 A4 A4 A4 A4 B4 A4 A4 B4"},
		{"ForeignBeat", "A minor", "B7 D7", 1, 100, 1, "E4", "A4", 7, true, 2, false, "F♯4 A4 F♯4 E4 F♯4 A4 F♯4 A4"},
		{"Hanging", "C major", "C Em", 1, 100, 1, "C4", "A4", 2, true, 1, false, "E4 C4 E4 G4 E4 C4 E4 G4"},
		{"Loose", "C major", "C Em", 1, 100, 1, "C4", "A4", 2, true, 1, false, "E4 C4 E4 G4 E4 C4 E4 G4"},
		{"Suspended", "C major", "Fsus4 A7", 1, 50, 1, "E4", "C5", 30, true, 1, false, "B♭4 A4 B♭4 A4 A4"},
		{"Turn", "C major", "Gsus4 G", 1, 75, 2, "C4", "G5", 2, true, 2, false, "E4 D4 E4 F4 E4 D4 E4 F4 G4 B4 A4 G4 F4"},
		{"Zigzag", "C major", "Cmaj7 Cmaj7", 1, 75, 1, "C4", "A4", 2, true, 1, false, "E4 C4 E4 C4 C4 E4 G4"},
		{"Skip", "C major", "Bb Db7", 2, 75, 1, "C4", "G5", 0, true, 2, false, "B♭4 D5 D♭5 B♭4"},
		{"LooseSkip", "C major", "G7 Cmaj7", 2, 50, 1, "C4", "C5", 25, true, 2, false, "B4 B4 C5"},
		{"Landing", "C major", "Cmaj7 D7", 1, 50, 1, "C4", "G5", 2, false, 2, true, "E4 C4 E4 F♯4 D4 E4 C4 E4 F♯4 D4 C4"},
		{"Leap", "A minor", "Am C", 1, 75, 1, "C4", "C6", 0, true, 1, false, "C5 E5 F5 A5 C6 G5 E5"},
		{"Jump", "C major", "G7 Am7", 1, 25, 1, "D4", "A4", 44, false, 1, true, "G4 E4 A4 E4 G4 E4 A4 E4 G4"},
		{"Same", "C major", "Cdim7 Cdim7", 1, 0, 1, "C4", "G4", 0, true, 1, false, "C4 C4"},
		{"Stay", "C major", "Bm7b5 Bm7b5", 1, 25, 1, "C4", "G4", 3, false, 2, true, "D4 F4 D4 F4 D4 F4 D4 F4 D4"},
		{"Repeat", "C major", "C D7", 1, 100, 1, "C4", "A4", 2, true, 2, false, "E4 E4 C4 E4 F♯4 A4 F♯4 D4"},
		{"Inflected", "C major", "Bb Db7", 2, 75, 1, "C4", "G5", 0, true, 2, false, "B♭4 D5 D♭5 B♭4"},
		{"Augmented", "A minor", "Dm7 G E7", 1, 0, 2, "F4", "F5", 21, true, 2, false, "D5 B4 E5"},
		{"Plateau", "C major", "C Em", 1, 100, 1, "C4", "A4", 2, true, 1, false, "E4 C4 E4 G4 E4 C4 E4 G4"},
		{"Motif", "C major", "Gsus4 Fm", 1, 75, 1, "C4", "A4", 0, true, 1, true, "E4 C4 D4 E4 F4 A♭4 F4 E4 C4 D4 E4 F4 A♭4 F4 E4 C4 D4"},
		{"Ending", "C major", "Fm E7", 1, 50, 1, "E4", "C5", 0, false, 1, true, "F4 A♭4 F4 E4 E4 F4 A♭4 F4 E4 G♯4 A♭4"},
		{"Again", "C major", "Bb Db7", 2, 75, 1, "C4", "G5", 0, true, 2, false, "B♭4 D5 D♭5 B♭4"},
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
				segments[i].Section = i%size == 0
			}
			segments[2*size].Bar, segments[2*size].Section = size, true
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
