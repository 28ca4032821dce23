package line_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory"
	"thirdwise/theory/line"
)

// The line is the best there is: no other choice that keeps the rules costs
// less. Every path over a small exercise is tried, with each cost counted again
// here from its description.
func TestLineIsTheCheapest(t *testing.T) {
	key := mustKey(t, "C major")
	for _, c := range []struct {
		symbols string
		closed  bool
		density int // the highest that is tried; every path takes time
	}{
		{"C Am", false, 100},
		{"C F G7", false, 100},
		{"Dm7 G7 C", false, 100},
		{"E7 Am", false, 100},
		{"C Am", true, 75},
		{"E7 Am", true, 75},
		{"C F G7", true, 25},
		{"Dm7 G7 C", true, 25},
	} {
		for density := 0; density <= c.density; density += 25 {
			m := maker(density, 480)
			m.High, m.Closed = staff("G5"), c.closed
			segments := segmentsOf(t, key, bar, strings.Fields(c.symbols)...)
			thirds, err := m.Line(segments)
			require.NoError(t, err)
			if c.closed {
				thirds = append(thirds, thirds[0])
			}
			assert.Equal(t, cheapestByTrial(m, segments), price(m, segments, thirds), "%s at %d %%, closed: %v", c.symbols, density, c.closed)
		}
	}
}

// cheapestByTrial tries every line that keeps the rules. A closed one ends with
// its beginning.
func cheapestByTrial(m line.Maker, segments []line.Segment) int {
	best := 1 << 30
	var thirds []line.Third
	var ticks []line.Third
	for i, s := range segments {
		ticks = append(ticks, line.Third{Tick: s.Start, Segment: i, Role: line.Arrival})
		if i+1 < len(segments) || m.Closed {
			for _, tick := range m.Slots(s) {
				ticks = append(ticks, line.Third{Tick: tick, Segment: i, Role: line.Passing})
			}
		}
	}
	if m.Closed {
		ticks = append(ticks, ticks[0])
	}
	var try func()
	try = func() {
		if len(thirds) == len(ticks) {
			if keepsSteps(thirds) {
				best = min(best, price(m, segments, thirds))
			}
			return
		}
		next := ticks[len(thirds)]
		s := segments[next.Segment]
		for n := m.Low; n <= m.High; n++ {
			next.Third = s.Scale.Third(n)
			lower, upper := s.Chord.Contains(next.Third.Lower.Tone), s.Chord.Contains(next.Third.Upper.Tone)
			if next.Role == line.Arrival && !(lower && upper) {
				continue
			}
			if len(thirds) > 0 && distance(n, thirds[len(thirds)-1].Third.Staff()) > 2 {
				continue
			}
			if m.Closed && len(thirds) == len(ticks)-1 && next.Third != thirds[0].Third {
				continue
			}
			thirds = append(thirds, next)
			try()
			thirds = thirds[:len(thirds)-1]
		}
	}
	try()
	return best
}

// keepsSteps reports whether the line makes at most one exception between two
// arrivals, and only where steps alone would not do.
func keepsSteps(thirds []line.Third) bool {
	start, exceptions := 0, 0
	for i := 1; i < len(thirds); i++ {
		if distance(thirds[i].Third.Staff(), thirds[i-1].Third.Staff()) != 1 {
			exceptions++
		}
		if thirds[i].Role != line.Arrival {
			continue
		}
		moves := i - start
		way := distance(thirds[i].Third.Staff(), thirds[start].Third.Staff())
		met := way <= moves && (moves-way)%2 == 0
		if moves > 1 && (exceptions > 1 || met != (exceptions == 0)) {
			return false
		}
		start, exceptions = i, 0
	}
	return true
}

// price adds up what a line costs. The first third of a closed one is paid for
// where it comes again.
func price(m line.Maker, segments []line.Segment, thirds []line.Third) int {
	c := line.CostOf
	sum, direction, turned, arrival := 0, 0, false, theory.Third{}
	for i, third := range thirds {
		s := segments[third.Segment]
		if m.Closed && i == 0 {
			arrival = third.Third
			continue
		}
		sum += c.Far * distance(2*third.Third.Staff(), m.Low+m.High) / 2
		own := 0
		for _, tone := range []theory.Tone{third.Third.Lower.Tone, third.Third.Upper.Tone} {
			if !s.Chord.Contains(tone) && third.Tick%m.Beat == 0 {
				sum += c.Harsh
			}
			if tone.Class() == s.Chord.Tones()[1].Class() {
				own++
			}
		}
		if third.Role == line.Arrival {
			if own == 0 {
				sum += c.Vague
			}
			if i > 0 && arrival == third.Third {
				sum += c.SameArrival
			}
			arrival = third.Third
		}
		if i == 0 {
			continue
		}
		steps := third.Third.Staff() - thirds[i-1].Third.Staff()
		direct := third.Role == line.Arrival && thirds[i-1].Role == line.Arrival
		if steps*direction < 0 {
			sum += c.Turn
			if turned {
				sum += c.Zigzag
			}
		}
		if steps != 0 {
			direction, turned = steps, steps*direction < 0
		}
		switch {
		case direct:
			sum += c.Leap * distance(steps, 0)
			continue
		case steps == 0:
			sum += c.Repeat
		case distance(steps, 0) == 2:
			sum += c.Skip
		}
		if third.Role == line.Arrival && distance(steps, 0) != 1 {
			sum += c.Landing
		}
	}
	return sum
}
