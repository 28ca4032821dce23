package exercise

import (
	"fmt"
	"strings"

	"thirdwise/arrange/exercise/chart"
	"thirdwise/theory"
)

// TargetKey reads the key that an exercise is to be moved to: a tonic, or a key
// of the exercise's own mode.
func (e *Exercise) TargetKey(s string) (theory.Key, error) {
	key, err := theory.ParseKey(s + " " + e.Key.Mode.String())
	if err != nil {
		key, err = theory.ParseKey(s)
	}
	if err != nil {
		return theory.Key{}, err
	}
	if key.Mode != e.Key.Mode {
		return theory.Key{}, fmt.Errorf("%q is in %s; it can be moved to another tonic, not to %s", e.Title, e.Key, key)
	}
	return key, nil
}

// Transpose returns the exercise moved to a key of the same mode: the key, every
// chord, and the notes of the line that are written. What belongs to the hand and the
// neck stays: tuning, capo, position, compass.
func Transpose(e *Exercise, to theory.Key) *Exercise {
	moved := *e
	moved.Key = to
	step := theory.Between(
		theory.Pitch{Tone: e.Key.Tonic, Octave: 4},
		theory.Pitch{Tone: to.Tonic, Octave: 4},
	)
	moved.Line.Own = transposeOwn(e.Line.Own, step)
	moved.Chart = make([]chart.Bar, len(e.Chart))
	for i, bar := range e.Chart {
		chords := make([]chart.Chord, len(bar.Chords))
		for j, c := range bar.Chords {
			if !c.None {
				if strings.ContainsAny(c.Numeral, "ABCDEFG") { // its bass is named by a letter
					c.Numeral = ""
				}
				c.Chord = c.Chord.Transpose(step).Simplify()
			}
			chords[j] = c
		}
		bar.Chords = chords
		moved.Chart[i] = bar
	}
	return &moved
}
