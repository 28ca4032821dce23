package neck

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/theory"
)

func chord(t testing.TB, s string) theory.Chord {
	t.Helper()
	c, err := theory.ParseChord(s)
	require.NoError(t, err)
	return c
}

// The grips that every beginner's book prints: common practice. Where books
// differ, any of those printed will do.
var beginners = map[string]string{
	"C": "x32010", "D": "xx0232", "E": "022100", "F": "133211", "G": "320003", "A": "x02220", "B": "x24442", "Bb": "x13331",
	"Am": "x02210", "Dm": "xx0231", "Em": "022000", "Bm": "x24432", "Fm": "133111", "Cm": "x35543", "Gm": "355333", "F#m": "244222", "C#m": "x46654",
	"C7": "x32310", "D7": "xx0212", "E7": "020100", "G7": "320001", "A7": "x02020", "B7": "x21202", "F7": "131211",
	"Am7": "x02010", "Dm7": "xx0211", "Em7": "022030 020000", "Bm7": "x24232 x20202", "F#m7": "242222",
	"Cmaj7": "x32000", "Dmaj7": "xx0222", "Fmaj7": "xx3210 133210 x33210", "Gmaj7": "320002", "Amaj7": "x02120", "Emaj7": "021100",
	"Asus2": "x02200", "Dsus2": "xx0230", "Asus4": "x02230", "Dsus4": "xx0233", "Esus4": "022200",
	"Cadd9": "x32030 x32033", "Am/G": "3x2210 302210", "C/G": "332010 3x2010", "D/F#": "2x0232 200232 2x023x", "G/B": "x20003 x20033 x2000x", "C/E": "032010", "D/A": "x00232",
	"Bdim": "x2343x", "A7sus4": "x02030", "E7sus4": "020200", "D7sus4": "xx0213",
	"E5": "022xxx", "A5": "x022xx",
	"Bbm": "x13321", "Bb7": "x13131", "Ab": "466544", "C#": "x46664", "Db": "x46664", "F#": "244322", "F#7": "242322", "Gm7": "353333", "Cm7": "x35343", "Fm7": "131111", "G#m": "466444",
	"C6": "x32210", "A6": "x02222", "D6": "xx0202", "Em6": "022020", "Am6": "x02212", "G6": "320000", "Dm6": "xx0201", "E6": "022120",
	"Caug": "x32110 x3211x", "Eaug": "032110 xx2110", "E9": "020102", "C9": "x32330 x3233x x32333", "B9": "x21222", "G9": "320201 3x0201", "Emadd9": "022002", "E7b9": "020101",
	"Csus4": "x33011 x33010 x33013", "Fsus4": "133311 xx3311", "Bsus4": "x24452", "AmMaj7": "x02110", "EmMaj7": "021000", "DmMaj7": "xx0221",
	"F/A": "x03211", "F/C": "x33211", "A/E": "002220", "Am/E": "002210", "D/C": "x30232", "C/D": "xx0010", "C/B": "x22010 x2x010", "G/D": "xx0003 xx0433", "Dm/F": "1x0231 xx3231 10023x", "E/G#": "4x2400 422100 4x210x 4x2100 422400 xx6454",
}

func TestBeginnersGripsComeFirst(t *testing.T) {
	n := Neck{Tuning: Standard()}
	for symbol, printed := range beginners {
		grips := n.Grips(chord(t, symbol))
		require.NotEmpty(t, grips, symbol)
		assert.Contains(t, strings.Fields(printed), grips[0].String(), "%s: %v", symbol, grips[:min(6, len(grips))])
	}
}

func BenchmarkGrips(b *testing.B) {
	n := Neck{Tuning: Standard()}
	for _, symbol := range []string{"C", "Bm7b5", "F#m9", "Eb7b9"} {
		c := chord(b, symbol)
		b.Run(symbol, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				n.Grips(c)
			}
		})
	}
}
