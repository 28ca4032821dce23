package theory_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"thirdwise/theory"
)

// answered requires of an error that it says what to write, in one line that any
// terminal can print.
func answered(t *testing.T, err error) {
	require.True(t, utf8.ValidString(err.Error()), "%q", err)
	require.False(t, strings.ContainsFunc(err.Error(), func(r rune) bool { return r < ' ' || r == 0x7f }), "%q", err)
}

func FuzzParseKey(f *testing.F) {
	for _, s := range []string{"", "C", "f# minor", "B Dur", "Si bémol majeur", "C/Am", "minor A", "Am7", "A (capo 2)", "H", "La", "Fis-Moll", "♭", "C\xff", "Cbb locrian", "x y z"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		k, err := theory.ParseKey(s)
		if err != nil {
			answered(t, err)
			return
		}
		require.NoError(t, k.Check())
		again, err := theory.ParseKey(k.ASCII())
		require.NoError(t, err, "%q is read as %s", s, k)
		require.Equal(t, k, again, "%q", s)
		for degree := range 7 {
			lower, upper := k.Tones()[degree], k.Tones()[(degree+2)%7]
			semitones := (upper.Class() - lower.Class() + 12) % 12
			require.Contains(t, []int{3, 4}, semitones, "the third on degree %d of %s", degree+1, k)
		}
	})
}

func FuzzParsePitch(f *testing.F) {
	for _, s := range []string{"", "C4", "F#3", "B♭2", "H3", "Fis-1", "E-1", "C44", "do4", "C\xff4", "Bflat2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := theory.ParsePitch(s)
		if err != nil {
			answered(t, err)
			return
		}
		again, err := theory.ParsePitch(p.String())
		require.NoError(t, err, "%q is read as %s", s, p)
		require.Equal(t, p, again, "%q", s)
	})
}
