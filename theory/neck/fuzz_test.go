package neck

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzParseTuning(f *testing.F) {
	for _, s := range []string{"", "E2 A2 D3 G3 B3 E4", "drop D", "DADGAD", "E2-A2-D3-G3-B3-E4", "e,a,d,g,b,e", "E-1 A2 D3 G3", "bb", "ukulele", "C9 C9 C9 C9", "E2\xffA2 D3 G3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		tuning, err := ParseTuning(s)
		if err != nil {
			return
		}
		require.NoError(t, Neck{Tuning: tuning}.Check(), "%q", s)
		again, err := ParseTuning(tuning.String())
		require.NoError(t, err, "%q is read as %s", s, tuning)
		require.Equal(t, tuning, again, "%q", s)
		for str := 1; str <= len(tuning); str++ {
			for fret := range (Neck{Tuning: tuning}).LastFret() + 1 {
				key := Neck{Tuning: tuning}.Key(Place{str, fret})
				require.True(t, key >= 0 && key <= 127, "%q: string %d, fret %d is MIDI key %d", s, str, fret, key)
			}
		}
	})
}

func FuzzParsePosition(f *testing.F) {
	for _, s := range []string{"", "open", "free", "5", "5th", "V", "position 7", "fret 5", "xx", "-1", "99", "positionfret3", "iv\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := ParsePosition(s)
		if err != nil {
			return
		}
		again, err := ParsePosition(p.String())
		require.NoError(t, err, "%q is read as %s", s, p)
		require.Equal(t, p, again, "%q", s)
	})
}
