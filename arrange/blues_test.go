package arrange_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange"
	"thirdwise/arrange/arrangetest"
	"thirdwise/theory"
	"thirdwise/theory/theorytest"
)

// Common practice, as teachers of blues and jazz have it: where I7 is the tonic, its
// seventh stays over IV7 and over a plain IV; where the tonic is plain as well, over IV7
// and ♯IV°7, but not over the key's own chords; where a seventh only leads to IV, nowhere
// behind it. V7 always has its leading tone. What is told is the seventh degree of the
// scale over each chord.
func TestTheTonicsSeventhStaysInABlues(t *testing.T) {
	for _, c := range []struct{ name, key, chart, sevenths string }{
		{"quick change", "A major",
			"| A7 | D7 | A7 | A7 | D7 | D7 | A7 | A7 | E7 | D7 | A7 | E7 |",
			"  G    G    G    G    G    G    G    G    G#   G    G    G#"},
		{"slow", "Bb major",
			"| Bb7 | Bb7 | Bb7 | Bb7 | Eb7 | Eb7 | Bb7 | Bb7 | F7 | F7 | Bb7 | F7 |",
			"  Ab    Ab    Ab    Ab    Ab    Ab    Ab    Ab    A    A    Ab    A"},
		{"jazz", "F major",
			"| F13 | Bb9 Bdim7 | F13 | Cm7 F7 | Bb9 | Bdim7 | F13 | Am7 D7 | Gm7 | C9 | F13 D7 | Gm7 C7 |",
			"  Eb    Eb  Eb      Eb    Eb  Eb   Eb    Eb      Eb    E   E    E     E    Eb  E    E   E"},
		{"of numerals", "E major",
			"| I7 | IV7 | I7 | V7 |",
			"  D    D     D    D#"},
		{"vamp", "A major",
			"| A7 | D | A7 | E7 |",
			"  G    G   G    G#"},
		{"with a plain tonic", "A major",
			"| A | D7 | A | A7 | D7 | D7 | A | A | E7 | D7 | A | E7 |",
			"  G#  G    G#  G    G    G    G#  G#  G#   G    G#  G#"},
		{"rhythm changes", "Bb major",
			"| Bb6 G7 | Cm7 F7 | Bb6 G7 | Cm7 F7 | Bb7 | Eb7 Edim7 | Bb6 F7 | Bb6 | D7 | G7 | C7 | F7 |",
			"  A   A    A   A    A   A    A   A    Ab    Ab  Ab      A   A    A     A    A    A    A"},
		{"rhythm changes with a plain fourth", "Bb major",
			"| Bb6 G7 | Cm7 F7 | Bb7 | Eb6 Ebm6 | Bb6 F7 | Bb6 |",
			"  A   A    A   A    Ab    A   Ab     A   A    A"},
		{"country", "A major",
			"| A | A7 | D | D7 | A | E7 | A |",
			"  G#  G    G#  G#   G#  G#   G#"},
		{"no seventh on the tonic", "C major",
			"| C | F7 | C | G7 |",
			"  B   B    B   B"},
		{"minor", "A minor",
			"| Am7 | D7 | Am7 | E7 |",
			"  G     G    G     G#"},
	} {
		s, _, err := arrange.Arrange(arrangetest.Parse(t, "title: Latch\nkey: "+c.key+"\nchart: '"+c.chart+"'\n"))
		require.NoError(t, err)
		leading := theorytest.Key(t, c.key).Tonic.Letter.Up(6)
		var sevenths []string
		for _, bar := range s.Bars {
			for _, span := range bar.Chords {
				sevenths = append(sevenths, span.Scale.Tone(leading).ASCII())
			}
		}
		assert.Equal(t, strings.Fields(c.sevenths), sevenths, "%s: %s", c.name, c.chart)
	}
}

// A player hears the tonic's seventh on through the whole chorus: only V7 and the chords
// that lead to it bring the leading tone.
func TestALineOverABluesHasNoMajorSeventhButOverTheDominant(t *testing.T) {
	for _, key := range []string{"A", "E", "Bb", "F", "C", "G"} {
		tonic := theorytest.Key(t, key+" major").Tonic
		leading := tonic.Up(theory.Interval{Steps: 6, Semitones: 11}).Class()
		for _, density := range []string{"50%", "100%"} {
			s, _, err := arrange.Arrange(arrangetest.Parse(t, "title: Latch\nkey: "+key+" major\nline: {density: "+density+"}\n"+
				"chart: '| I7 | IV7 | I7 | I7 | IV7 | IV7 | I7 | I7 | V7 | IV7 | I7 | V7 |'\n"))
			require.NoError(t, err)
			for _, third := range s.Line {
				if bar := s.Bars[third.Tick/s.Meter.Bar()]; bar.Chords[0].Numeral != "V7" {
					assert.NotEqual(t, leading, third.Notes.Lower.Tone.Class(), "%s: bar %d", key, bar.Number)
					assert.NotEqual(t, leading, third.Notes.Upper.Tone.Class(), "%s: bar %d", key, bar.Number)
				}
			}
		}
	}
}
