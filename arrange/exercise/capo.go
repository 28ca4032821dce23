package exercise

import (
	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
)

// shapeTonic returns the tonic of the key that the hand plays behind the capo: the
// one that has the same shapes without it, an octave up at most.
func (e *Exercise) shapeTonic() theory.Pitch {
	for _, k := range e.Key.Mode.Keys() {
		if (k.Tonic.Class()+e.Neck.Capo)%12 == e.Key.Tonic.Class() {
			return theory.Pitch{Tone: k.Tonic, Octave: 5}
		}
	}
	return e.tonic()
}

func (e *Exercise) tonic() theory.Pitch { return theory.Pitch{Tone: e.Key.Tonic, Octave: 4} }

// ShapeOf returns the chord that the hand plays behind the capo, by the name that
// it has without one.
func (e *Exercise) ShapeOf(c theory.Chord) theory.Chord {
	return c.Transpose(theory.Between(e.tonic(), e.shapeTonic())).Simplify()
}

// readChartAs reads whether the chart's symbols are shapes behind the capo.
func readChartAs(t source.Text) (shapes bool) {
	i, _ := choose(t, "a way to write the chart", []string{"sounding", "shapes"}, map[string]string{
		"sounds": "sounding", "concert": "sounding", "shape": "shapes", "fingered": "shapes",
	})
	return i == 1
}

// soundShapes gives a chart whose symbols were written as shapes the chords that
// sound. Numerals and degrees are the key's own anyway.
func (e *Exercise) soundShapes() {
	shape := e.shapeTonic()
	shape.Octave -= 2
	up := theory.Between(shape, e.tonic())
	for i := range e.Chart {
		for j := range e.Chart[i].Chords {
			if c := &e.Chart[i].Chords[j]; c.Symbol {
				c.Chord = c.Chord.Transpose(up).Simplify()
			}
		}
	}
}
