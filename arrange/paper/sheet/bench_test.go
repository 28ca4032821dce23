package sheet

import (
	"bytes"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
)

func BenchmarkLay(b *testing.B) {
	s := arrangetest.Named(b, "harbour-ladder")
	for b.Loop() {
		if _, err := Lay(paper.Notate(s), Options{Paper: drawing.A4}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteSVG(b *testing.B) { benchmarkWrite(b, drawing.WriteSVG) }

func BenchmarkWritePDF(b *testing.B) { benchmarkWrite(b, drawing.WritePDF) }

func benchmarkWrite(b *testing.B, write func(io.Writer, *drawing.Sheet) error) {
	sheet, err := Lay(paper.Notate(arrangetest.Named(b, "harbour-ladder")), Options{Paper: drawing.A4})
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
