package theory_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

func anyPitch() *rapid.Generator[theory.Pitch] {
	return rapid.Custom(func(t *rapid.T) theory.Pitch {
		return theory.Pitch{Tone: theorytest.AnyTone().Draw(t, "tone"), Octave: rapid.IntRange(-1, 9).Draw(t, "octave")}
	})
}

func TestFrequenciesAreThoseOfHandbooks(t *testing.T) {
	for name, hertz := range map[string]float64{
		"A4": 440, // ISO 16
		// The open strings of the guitar as handbooks print them, to two
		// places (from memory).
		"E2": 82.41, "A2": 110.00, "D3": 146.83, "G3": 196.00, "B3": 246.94, "E4": 329.63,
		// Middle C and the ends of the piano (from memory).
		"C4": 261.63, "A0": 27.50, "C8": 4186.01,
	} {
		assert.InDelta(t, hertz, theorytest.Pitch(t, name).Frequency(), 0.005, name)
	}
}

func TestMIDIKeysAreThoseOfTheStandard(t *testing.T) {
	for name, key := range map[string]int{
		"C4": 60, "A4": 69, // MIDI 1.0: middle C is 60
		"C-1": 0, "G9": 127, // the first and the last key
		"E2": 40, "A2": 45, "D3": 50, "G3": 55, "B3": 59, "E4": 64, // open strings (common practice)
		"Cb4": 59, "B#3": 60, "Fb4": 64, "E#4": 65, "Fx4": 67, "Bbb3": 57, // octaves turn at the letter C
	} {
		assert.Equal(t, key, theorytest.Pitch(t, name).MIDI(), name)
	}
}

func TestTonesAreReadAndPrintedWithEitherSign(t *testing.T) {
	for _, c := range []struct{ read, notation, ascii string }{
		{"C", "C", "C"},
		{"F#", "F♯", "F#"},
		{"F♯", "F♯", "F#"},
		{"Bb", "B♭", "Bb"},
		{"B♭", "B♭", "Bb"},
		{"F##", "F♯♯", "F##"},
		{"Fx", "F♯♯", "F##"},
		{"F𝄪", "F♯♯", "F##"},
		{"Ebb", "E♭♭", "Ebb"},
		{"E♭b", "E♭♭", "Ebb"},
		{"E𝄫", "E♭♭", "Ebb"},
		{"f#", "F♯", "F#"},
		{"bb", "B♭", "Bb"},
		{"Bflat", "B♭", "Bb"},
		{"A flat", "A♭", "Ab"},
		{"Es", "E♭", "Eb"},
		{"Gis", "G♯", "G#"},
	} {
		tone, err := theory.ParseTone(c.read)
		require.NoError(t, err)
		assert.Equal(t, c.notation, tone.String())
		assert.Equal(t, c.ascii, tone.ASCII())
	}
}

func TestWhatIsNoToneOrPitchIsRefused(t *testing.T) {
	for _, s := range []string{"", "H", "#", "C#b", "Cb#", "C####", "Cxx", "C4", "♯C", "É"} {
		_, err := theory.ParseTone(s)
		assert.Error(t, err, s)
	}
	for _, s := range []string{"", "C", "4", "C10", "C-2", "C 4", "C4 ", "C#-"} {
		_, err := theory.ParsePitch(s)
		assert.Error(t, err, s)
	}
	_, err := theory.ParsePitch("H3")
	assert.EqualError(t, err, "H is called B here; write B3")
	_, err = theory.ParsePitch("C\x1b[31m")
	assert.EqualError(t, err, `"C\x1b[31m" is not a pitch; write a note name and an octave, as in C4`, "what a terminal would obey is escaped")
}

func TestPitchesReadWhatTheyPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPitch().Draw(t, "pitch")
		for _, printed := range []string{p.String(), p.ASCII()} {
			assert.Equal(t, p, theorytest.Pitch(t, printed))
		}
		assert.Equal(t, p, p.Tone.At(p.Staff()))
		assert.Equal(t, p, p.Tone.Sounding(p.MIDI()))
	})
}

func TestUpAndDownUndoEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low, high := anyPitch().Draw(t, "low"), anyPitch().Draw(t, "high")
		i := theory.Between(low, high)
		assert.Equal(t, high, low.Up(i))
		assert.Equal(t, low, high.Down(i))
		assert.Equal(t, high.Tone, low.Tone.Up(i))
		assert.Equal(t, low.Tone, high.Tone.Down(i))
	})
}

// Names of intervals as harmony handbooks give them (common practice).
func TestIntervalsHaveTheirNames(t *testing.T) {
	for _, c := range []struct{ low, high, name string }{
		{"C4", "C4", "P1"},
		{"C4", "C#4", "A1"},
		{"E4", "F4", "m2"},
		{"C4", "D4", "M2"},
		{"Ab4", "B4", "A2"},
		{"C#4", "Eb4", "d3"},
		{"A4", "C5", "m3"},
		{"C4", "E4", "M3"},
		{"Db4", "F#4", "A3"},
		{"E4", "Ab4", "d4"},
		{"C4", "F4", "P4"},
		{"F4", "B4", "A4"},
		{"B3", "F4", "d5"},
		{"C4", "G4", "P5"},
		{"C4", "G#4", "A5"},
		{"E4", "C5", "m6"},
		{"C4", "A4", "M6"},
		{"F4", "D#5", "A6"},
		{"G#4", "F5", "d7"},
		{"D4", "C5", "m7"},
		{"C4", "B4", "M7"},
		{"C4", "C5", "P8"},
		{"C4", "Db5", "m9"},
		{"C4", "D5", "M9"},
		{"C4", "D#5", "A9"},
		{"C4", "F#5", "A11"},
		{"C4", "A5", "M13"},
		{"Cb4", "F#4", "AA4"},
		{"B#3", "F4", "dd5"},
		{"G4", "E4", "-m3"},
	} {
		assert.Equal(t, c.name, theory.Between(theorytest.Pitch(t, c.low), theorytest.Pitch(t, c.high)).String(), "%s to %s", c.low, c.high)
	}
}
