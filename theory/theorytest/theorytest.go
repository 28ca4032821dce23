// Package theorytest makes pitches, keys and chords for the tests of the rooms that know
// them: those that a test names, and any that rapid draws. A name that cannot be read
// fails the test.
package theorytest

import (
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory"
)

// Pitch returns the pitch of a name: "F#3".
func Pitch(t require.TestingT, name string) theory.Pitch {
	p, err := theory.ParsePitch(name)
	require.NoError(t, err)
	return p
}

// Key returns the key of a name: "Bb minor".
func Key(t require.TestingT, name string) theory.Key {
	k, err := theory.ParseKey(name)
	require.NoError(t, err)
	return k
}

// Chord returns the chord of a symbol: "F#m7b5".
func Chord(t require.TestingT, symbol string) theory.Chord {
	c, err := theory.ParseChord(symbol)
	require.NoError(t, err)
	return c
}

// AnyTone draws a tone with at most two sharps or flats.
func AnyTone() *rapid.Generator[theory.Tone] {
	return rapid.Custom(func(t *rapid.T) theory.Tone {
		return theory.Tone{
			Letter: theory.Letter(rapid.IntRange(0, 6).Draw(t, "letter")),
			Alter:  rapid.IntRange(-2, 2).Draw(t, "alter"),
		}
	})
}

// AnyKey draws one of the fifteen signatures in any mode.
func AnyKey() *rapid.Generator[theory.Key] {
	return rapid.Custom(func(t *rapid.T) theory.Key {
		return theory.Key{Tonic: AnyTone().Draw(t, "tonic"), Mode: rapid.SampledFrom(theory.Modes()).Draw(t, "mode")}
	}).Filter(func(k theory.Key) bool { return k.Check() == nil })
}

// AnyChord draws a chord of any quality, mostly with its root as the bass.
func AnyChord() *rapid.Generator[theory.Chord] {
	return rapid.Custom(func(t *rapid.T) theory.Chord {
		root := AnyTone().Draw(t, "root")
		return theory.Chord{
			Root:    root,
			Quality: rapid.SampledFrom(theory.Qualities()).Draw(t, "quality"),
			Bass:    rapid.OneOf(rapid.Just(root), AnyTone()).Draw(t, "bass"),
		}
	})
}
