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
		{"Far", "A minor", "Db7 C7 Cdim7 Dm7", 1, 0, 1, "D4", "G5", 0, false, 1, false, "F5 G5 F♯5 D5"},
		{"Hand", "C major", "Bm7b5 Em G7 Fm", 1, 25, 1, "C4", "D5", 25, true, 1, true, "D5 A4 E4 E4 B4 A4 A♭4 D5 A4 E4 E4 B4 A4 A♭4 D5 D5"},
		{"Opening", "A minor", "Bb Am", 1, 75, 1, "F4", "G5", 2, false, 2, true, "B♭4 D5 B♭4 G4 A4 A4 C5 B♭4 D5 B♭4 G4 A4 A4 C5 B♭4"},
		{"Vague", "C major", "Gsus4 E7", 2, 0, 1, "D4", "F5", 25, false, 2, true, "E4 E4 E4 E4 E4"},
		{"Bare", "A minor", "G7 E7 G7", 1, 0, 2, "D4", "F5", 25, true, 1, true, "D5 E4 D5 D5 E4 D5 D5"},
		{"Doubled", "A minor", "E7 Cmaj7 Em", 2, 0, 2, "E4", "F5", 0, false, 1, false, "E4 E4 G4"},
		{"Unaltered", "A minor", "C7 F Bb", 1, 25, 1, "E4", "F5", 2, false, 1, false, "E4 G4 F4 A4 B♭4"},
		{"Home", "C major", "C7 Em Fsus4 Cmaj7", 2, 0, 2, "D4", "C5", 102, true, 2, false, "E4 E4 B♭4 E4"},
		{"ForeignStrong", "A minor", "E7", 1, 100, 1, "F4", "C5", 62, true, 1, true, "B4 A4 A4 A4 B4 A4 A4 A4 B4 A4 A4 A4"},
		{"ForeignBeat", "C major", "Gsus4", 2, 50, 1, "E4", "A4", 2, true, 2, true, "A4 A4 A4 A4 A4 A4"},
		{"Hanging", "A minor", "Fsus4 Bb Bm7b5 Bm7b5", 1, 75, 1, "D4", "C5", 2, false, 2, false, "G4 B♭4 C5 B♭4 G4 B♭4 B4 A4 G4 F4 D4"},
		{"Loose", "A minor", "Fsus4 Bb Bm7b5 Bm7b5", 1, 75, 1, "D4", "C5", 2, false, 2, false, "G4 B♭4 C5 B♭4 G4 B♭4 B4 A4 G4 F4 D4"},
		{"Suspended", "C major", "Fsus4 E7", 1, 75, 1, "F4", "G4", 79, true, 2, false, "G4 F4 F4 G4 G♯4 F4 F4"},
		{"Turn", "C major", "Dm7 F", 2, 100, 1, "C4", "G4", 0, true, 1, false, "F4 D4 F4 G4"},
		{"Zigzag", "A minor", "E7 Fsus4 Db7", 1, 75, 2, "C4", "D5", 3, false, 2, false, "E4 G♯4 A4 B4 C5 B4 A4 G4 B♭4 C5 D5 C5 D5 D♭5"},
		{"Back", "C major", "Dm7 F", 2, 100, 1, "C4", "G4", 0, true, 1, false, "F4 D4 F4 G4"},
		{"Skip", "C major", "Db7 Db7", 1, 0, 1, "D4", "D5", 31, false, 2, false, "D♭5 A♭4"},
		{"LooseSkip", "A minor", "Fsus4 Cmaj7", 2, 100, 2, "C4", "G4", 31, true, 1, false, "G4 E4 E4 E4 E4 E4 E4 E4"},
		{"Landing", "C major", "Dm7 F", 2, 100, 1, "C4", "G4", 0, true, 1, false, "F4 D4 F4 G4"},
		{"Leap", "C major", "Db7 Db7", 1, 0, 1, "D4", "D5", 31, false, 2, false, "D♭5 A♭4"},
		{"Jump", "C major", "Cdim7 Em G7", 2, 50, 1, "C4", "D5", 20, true, 2, false, "A4 F♯4 E4 E4 B4"},
		{"Same", "A minor", "Bb Fsus4 Em Am7", 1, 0, 1, "D4", "G4", 3, false, 2, false, "D4 G4 G4 E4"},
		{"Stay", "C major", "Dm7 F", 2, 100, 1, "C4", "G4", 0, true, 1, false, "F4 D4 F4 G4"},
		{"Repeat", "A minor", "F C7", 1, 50, 2, "E4", "C5", 31, true, 2, false, "A4 A4 A4 B4 A4 F4 E4 A4 A4"},
		{"Restart", "C major", "Cmaj7 Db7 Cdim7", 1, 50, 1, "F4", "F5", 0, false, 1, false, "C5 C5 E5 F5 D♭5 C5"},
		{"Inflected", "C major", "Gsus4 E7", 2, 0, 1, "D4", "F5", 25, false, 2, true, "E4 E4 E4 E4 E4"},
		{"Augmented", "C major", "Fsus4 E7", 1, 75, 1, "F4", "G4", 79, true, 2, false, "G4 F4 F4 G4 G♯4 F4 F4"},
		{"Plateau", "A minor", "Bb Bm7b5 Cmaj7 D7", 2, 0, 2, "C4", "D5", 2, true, 2, false, "B♭4 B4 C5 D5"},
		{"Ending", "C major", "Am7 Dm7 Am7", 2, 50, 1, "C4", "B4", 3, false, 2, true, "E4 C4 D4 F4 A4 E4 C4 D4 F4 A4 A4"},
		{"Again", "C major", "Gsus4 Cdim7 D7", 2, 75, 1, "C4", "C5", 2, false, 2, false, "C4 E4 F♯4 A4 F♯4"},
		{"Mirrored", "C major", "Db7 Cdim7 Fsus4 Dm7", 1, 0, 2, "E4", "D5", 20, true, 2, false, "A♭4 A4 B♭4 A4"},
		{"Fitted", "A minor", "Am Bb Fsus4 Bb", 1, 100, 1, "E4", "F5", 2, true, 2, false, "A4 F4 A4 C5 B♭4 B♭4 G4 F4 G4 B♭4 D5 C5 B♭4 G4 F4 G4"},
		{"Unlike", "A minor", "Bb Cmaj7 C7 Db7", 1, 75, 1, "E4", "G5", 2, true, 1, false, "B♭4 D5 F5 D5 C5 E5 G5 G5 E5 C5 A4 A♭4 B♭4"},
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
