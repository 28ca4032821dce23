package pluck

import "testing"

// Samples of partials that one processor makes in a second.
func BenchmarkPartials(b *testing.B) {
	const frames = 4096
	oscillators := make([]oscillator, 64)
	for i := range oscillators {
		oscillators[i] = oscillate(1, mode{frequency: 100 + 100*float64(i), decay: 1}.pole(), 44100)
	}
	banks := banksOf(oscillators)
	block := make([]float64, frames)
	for b.Loop() {
		for i := range banks {
			banks[i].ring(block)
		}
	}
	made := float64(b.N) * frames * float64(len(oscillators))
	b.ReportMetric(made/b.Elapsed().Seconds()/1e6, "Mpartial-samples/s")
}

// A note of two seconds, from the string to the samples.
func BenchmarkNote(b *testing.B) {
	for name, of := range map[string]Sound{
		"low":  {ChordsGuitar, 40, 0, 4, 0},
		"high": {GuideGuitar, 72, 8, 4, 0},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				modes := of.Modes(44100)
				modes.Strike(2*44100, 44100)
			}
		})
	}
}
