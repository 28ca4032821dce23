package sheet

import (
	"bytes"
	"io"
	"testing"

	"github.com/stretchr/testify/require"
)

func BenchmarkLay(b *testing.B) {
	s := exercise(b, "harbour-ladder")
	for b.Loop() {
		if _, err := Lay(s, A4); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteSVG(b *testing.B) { benchmarkWrite(b, WriteSVG) }

func BenchmarkWritePDF(b *testing.B) { benchmarkWrite(b, WritePDF) }

func benchmarkWrite(b *testing.B, write func(io.Writer, *Sheet) error) {
	sheet, err := Lay(exercise(b, "harbour-ladder"), A4)
	require.NoError(b, err)
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := write(&out, sheet); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(out.Len()), "bytes")
}

// BenchmarkFonts measures what the first sheet of a process pays once.
func BenchmarkFonts(b *testing.B) {
	for b.Loop() {
		for f := range files {
			readAdvances(Font(f))()
		}
	}
}
