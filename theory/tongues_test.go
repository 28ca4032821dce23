package theory_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

// Common practice: what tones are called where B is H, and where they are sung.
func TestTonesOfOtherTonguesAreToldInEnglish(t *testing.T) {
	for name, want := range map[string]string{
		"H": "B", "his": "B#", "do": "C", "ut": "C", "re": "D", "ré": "D", "mi": "E", "fa": "F", "sol": "G", "la": "A", "si": "B", "ti": "B",
		"mi bémol": "Eb", "la bemol": "Ab", "si bemolle": "Bb", "fa dièse": "F#", "re diese": "D#", "do sostenido": "C#", "sol diesis": "G#", "sib": "Bb",
	} {
		_, err := theory.ParseTone(name)
		require.Error(t, err, name)
		assert.Equal(t, want, err.Error()[strings.LastIndexByte(err.Error(), ' ')+1:], name)
		if len(name) < 5 {
			for _, octave := range []string{"0", "4", "9"} {
				_, err = theory.ParsePitch(name + octave)
				assert.ErrorContains(t, err, " here; write "+want+octave, name)
			}
		}
	}
	for _, s := range []string{"H", "do", "do44", "do:", "do/"} {
		_, err := theory.ParsePitch(s)
		assert.ErrorContains(t, err, "is not a pitch; write a note name and an octave, as in C4", s)
	}
	for _, s := range []string{"doh", "soll", "last"} {
		_, err := theory.ParseTone(s)
		assert.ErrorContains(t, err, "is not a note name", s)
	}
}

// Sharps and flats in English words, and as Germans and their neighbours name tones
// (common practice).
func TestSharpsAndFlatsAreReadAsWords(t *testing.T) {
	for name, want := range map[string]string{
		"C-sharp minor": "C♯ minor", "F sharp major": "F♯ major", "Fsharp minor": "F♯ minor", "A-flat": "A♭ major", "B flat minor": "B♭ minor", "Eflat": "E♭ major",
		"Fis minor": "F♯ minor", "Cis": "C♯ major", "Ces": "C♭ major", "Des": "D♭ major", "Ges": "G♭ major", "Es": "E♭ major", "As": "A♭ major", "es minor": "E♭ minor",
	} {
		k, err := theory.ParseKey(name)
		require.NoError(t, err, name)
		assert.Equal(t, want, k.String(), name)
	}
	for name, want := range map[string]string{
		"minor a4":  `"minor a4" is not a key; write a tonic and a mode`,
		"your C":    `"your C" is not a key; write a tonic and a mode`,
		"minor G":   `"minor G" is not a key; did you mean G minor?`,
		"C doryann": `did you mean C dorian?`,
	} {
		_, err := theory.ParseKey(name)
		assert.ErrorContains(t, err, want, name)
	}
}

// A theory book's table of intervals above C (common practice).
func TestIntervalsThatAreNamedAreThoseAboveC(t *testing.T) {
	for high, want := range map[string]theory.Interval{
		"Db4": theory.MinorSecond, "D4": theory.MajorSecond, "D#4": theory.AugmentedSecond, "Eb4": theory.MinorThird, "E4": theory.MajorThird,
		"Gb4": theory.DiminishedFifth, "G4": theory.PerfectFifth, "Bb4": theory.FlatSeventh,
		"Db5": theory.FlatNinth, "D#5": theory.SharpNinth, "F#5": theory.SharpEleventh,
	} {
		assert.Equal(t, want, theory.Between(theorytest.Pitch(t, "C4"), theorytest.Pitch(t, high)), high)
	}
}

// Keys that have two names (common practice: the circle of fifths).
func TestKeysOfTwoNamesKnowTheOther(t *testing.T) {
	for name, want := range map[string]string{
		"B major": "C♭ major", "C♭ major": "B major", "F♯ major": "G♭ major", "D♭ major": "C♯ major", "G♯ minor": "A♭ minor", "E♭ minor": "D♯ minor",
	} {
		assert.Equal(t, want, theorytest.Key(t, name).Enharmonic().String(), name)
	}
}

func TestAChordIsSpelledWithTwoSharpsOrFlatsAtMost(t *testing.T) {
	for name, want := range map[string]string{
		"F###7/A###": "G♯7/B♯", "Bbbb": "A♭", "F##m": "F♯♯m", "Bbbm": "B♭♭m", "Ebbb": "D♭",
	} {
		assert.Equal(t, want, theorytest.Chord(t, name).Simplify().String(), name)
	}
}

// E7sus4 has B and D, a third that crosses from one octave's letters to the next.
func TestAThirdIsSeenAcrossTheOctave(t *testing.T) {
	assert.True(t, theorytest.Chord(t, "E7sus4").HasThird())
	assert.False(t, theorytest.Chord(t, "Esus4").HasThird())
}

func TestLettersGoRound(t *testing.T) {
	assert.Equal(t, theory.E, theory.C.Up(2))
	assert.Equal(t, theory.C, theory.B.Up(1))
	assert.Equal(t, theory.B, theory.C.Up(-1))
}

func TestTonesHaveUpToThreeSharpsOrFlats(t *testing.T) {
	for _, name := range []string{"C###", "Fbbb"} {
		_, err := theory.ParseTone(name)
		assert.NoError(t, err)
		_, err = theory.ParseTone(name + name[1:2])
		assert.Error(t, err)
	}
}

// Two letters swapped are one slip, also the first two.
func TestSwappedLettersAreOneSlip(t *testing.T) {
	assert.Equal(t, 1, theory.Edits("im", "mi"))
	assert.Equal(t, 1, theory.Edits("miro", "mior"))
	assert.Equal(t, 1, theory.Edits("imnor", "minor"))
	assert.Equal(t, 2, theory.Edits("mnio", "moni"))
}
