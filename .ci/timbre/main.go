// Timbre measures sampled guitar notes and the program's own in the same way, and
// prints the figures side by side.
//
//	go run ./.ci/timbre FOLDER
//
// The folder holds notes as WAV files of 44,100 Hz, named steel-KEY-VELOCITY.wav and
// nylon-KEY-VELOCITY.wav. What is sampled is a reference for spectrum and life, and no
// truth: nothing fails here but what cannot be read.
package main

import (
	"fmt"
	"log"
	"math"
	"os"
	"path/filepath"

	"github.com/go-audio/wav"

	"thirdwise/synth/pluck"
	"thirdwise/synth/soundtest"
)

const rate = 44100

// notes are open strings and fretted ones: MIDI keys and frets.
var notes = []struct{ key, fret int }{{40, 0}, {45, 0}, {52, 2}, {55, 0}, {59, 0}, {64, 0}, {67, 3}}

var instruments = []struct {
	name string
	on   pluck.Instrument
}{{"steel", pluck.ChordsGuitar}, {"nylon", pluck.GuideGuitar}}

func main() {
	log.SetFlags(0)
	if len(os.Args) != 2 {
		log.Fatal("timbre wants one folder of sampled notes")
	}
	fmt.Printf("%-44s %9s %9s\n", "", "thirdwise", "sampled")
	for _, instrument := range instruments {
		ours, theirs := make([]figures, 0, len(notes)), make([]figures, 0, len(notes))
		for _, n := range notes {
			strike := func(velocity int) []float32 {
				of := pluck.Sound{Instrument: instrument.on, Key: int8(n.key), Fret: int8(n.fret), Layer: pluck.Layer(velocity)}
				samples := make([]float32, 4*rate)
				copy(samples, of.Modes(rate).Strike(4*rate, rate))
				return samples
			}
			read := func(velocity int) []float32 {
				return sampled(filepath.Join(os.Args[1], fmt.Sprintf("%s-%d-%d.wav", instrument.name, n.key, velocity)))
			}
			ours = append(ours, measure(n.key, strike))
			theirs = append(theirs, measure(n.key, read))
		}
		for i, row := range rows {
			fmt.Printf("%s: %-37s %9s %9s\n", instrument.name, row.name,
				fmt.Sprintf(row.format, typical(ours, i)), fmt.Sprintf(row.format, typical(theirs, i)))
		}
	}
}

// rows are the figures and how they are printed.
var rows = []struct{ name, format string }{
	{"spectral centroid at 0 s, Hz", "%.0f"},
	{"at 0.25 s", "%.0f"},
	{"at 1 s", "%.0f"},
	{"between partials above 1.5 kHz, dB", "%.1f"},
	{"scatter of T60 between neighbours", "%.2f"},
	{"beating of partials 1 to 8, p90, dB", "%.1f"},
	{"centroid, velocity 40 to 112, %", "%+.0f"},
	{"octave at 4 kHz, dB of the first second", "%.1f"},
	{"octave at 8 kHz", "%.1f"},
	{"crest of the first quarter second, dB", "%.1f"},
}

type figures [10]float64

// measure returns the figures of a note that is struck with any velocity.
func measure(key int, strike func(velocity int) []float32) figures {
	samples := strike(84)
	first := 440 * math.Exp2(float64(key-69)/12)
	powers := soundtest.Powers(samples[2000:], soundtest.Hann(1<<15), 1<<16)
	partial := soundtest.Partials(powers, first, rate)
	var times, beatings []float64
	for n := 1; n < 20 && partial(n) < 4000; n++ {
		levels := soundtest.Envelope(samples[:rate*17/10], partial(n), first, rate)
		times = append(times, soundtest.ReverberationTime(levels[2:]))
		if n <= 8 {
			beatings = append(beatings, soundtest.Beating(levels[4:]))
		}
	}
	var highest, sum float64
	for _, x := range samples[:rate/4] {
		highest = max(highest, math.Abs(float64(x)))
		sum += float64(x) * float64(x)
	}
	return figures{
		soundtest.Centroid(samples, rate), soundtest.Centroid(samples[rate/4:], rate), soundtest.Centroid(samples[rate:], rate),
		soundtest.Between(samples, partial, rate),
		soundtest.Scatter(times), soundtest.Quantile(beatings, 0.9),
		100 * (soundtest.Centroid(strike(112), rate)/soundtest.Centroid(strike(40), rate) - 1),
		soundtest.Octave(samples[:rate], 4000, rate), soundtest.Octave(samples[:rate], 8000, rate),
		20 * math.Log10(highest/math.Sqrt(sum/(rate/4))),
	}
}

// typical returns the median of a figure of some notes.
func typical(of []figures, i int) float64 {
	var all []float64
	for _, f := range of {
		all = append(all, f[i])
	}
	return soundtest.Quantile(all, 0.5)
}

// sampled reads a note, from its beginning on, both sides added.
func sampled(path string) []float32 {
	file, err := os.Open(path)
	if err != nil {
		log.Fatal(err)
	}
	defer file.Close()
	pcm, err := wav.NewDecoder(file).FullPCMBuffer()
	if err != nil {
		log.Fatalf("%s: %v", path, err)
	}
	var samples []float32
	loudest := float32(0)
	for i := 0; i+1 < len(pcm.Data); i += 2 {
		x := float32(pcm.Data[i]+pcm.Data[i+1]) / (1 << 16)
		samples = append(samples, x)
		loudest = max(loudest, x, -x)
	}
	for len(samples) > 0 && max(samples[0], -samples[0]) < loudest/50 {
		samples = samples[1:]
	}
	return append(samples, make([]float32, 4*rate)...)
}
