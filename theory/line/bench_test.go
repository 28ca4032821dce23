package line_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/theory/line"
	"thirdwise/theory/theorytest"
)

// The time that a line takes grows with its length: bars a second stay the same.
func BenchmarkLine(b *testing.B) {
	key := theorytest.Key(b, "C major")
	symbols := []string{"C", "Am", "Dm", "G7", "Em", "A7", "F", "C"}
	for _, bars := range []int{100, 1000} {
		var chart []string
		for i := range bars {
			chart = append(chart, symbols[i%len(symbols)])
		}
		segments := segmentsOf(b, key, bar, chart...)
		for _, density := range []int{50, 100} {
			b.Run(fmt.Sprintf("%dbars/density%d", bars, density), func(b *testing.B) {
				m := maker(key, density, 240)
				m.High, m.Closed = staff("F5"), true
				var steps []line.Step
				for range b.N {
					var err error
					steps, err = m.Line(segments)
					require.NoError(b, err)
				}
				require.NotEmpty(b, steps)
				b.ReportMetric(float64(bars*b.N)/b.Elapsed().Seconds(), "bars/s")
			})
		}
	}
}
