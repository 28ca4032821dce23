package line_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

// The line is the best there is: no other in the same rhythm costs less. Every
// line over a small exercise is tried, with each cost counted again here from its
// description.
func TestLineIsTheCheapest(t *testing.T) {
	for _, c := range []struct {
		key, symbols string
		closed       bool
	}{
		{"C major", "C Am", false},
		{"C major", "C F G7", false},
		{"C major", "Dm7 G7 C", false},
		{"A minor", "E7 Am", false},
		{"C major", "C Am", true},
		{"A minor", "Dm E7 Am", true},
		{"C major", "C Gsus4 C", true},
		{"C major", "C C F", true},
		{"C major", "C Fm Db7", true},
		{"C major", "C G7b9 C", true},
		{"C major", "Em Em Am", false},
	} {
		for density := 0; density <= 100; density += 25 {
			key := theorytest.Key(t, c.key)
			m := maker(key, density, 480)
			m.High, m.Closed, m.Effort = staff("A4"), c.closed, someAreHard
			segments := segmentsOf(t, key, bar, strings.Fields(c.symbols)...)
			steps, err := m.Line(segments)
			require.NoError(t, err)
			p := newPricer(m, segments)
			if c.closed {
				steps = append(steps, steps[0])
			}
			assert.Equal(t, p.cheapest(), p.price(steps), "%s at %d %%, closed: %v", c.symbols, density, c.closed)
		}
	}
}

// someAreHard is a hand to which one third in three asks 2 units of effort and one in
// three asks 4.
func someAreHard(t theory.Third) (effort int, ok bool) { return 2 * (t.Staff() % 3), true }
