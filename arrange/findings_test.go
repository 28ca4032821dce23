package arrange_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A chord's own tones are called what the chord calls them; where they are written with
// another letter, so that the scale's thirds are thirds, that is told. Nobody calls a G an
// F double sharp (common practice).
func TestTonesOfAChordAreNamedAsTheChordDoes(t *testing.T) {
	for _, c := range []struct{ key, chord, says string }{
		{"A minor", "E7#9#11", "G♯ (written A♭) for A, A♯ (written B♭) for B"},
		{"A minor", "E7", "G♯ for G"},
		{"C major", "Db7", "C♭ for C, D♭ for D, E♭ for E, A♭ for A, B♭ for B"},
		{"F# minor", "C7#9#11", "D♯ for D, B♭ (written A♯) for A, C (written B♯) for B"},
		{"Eb major", "C#7#5#9", "C♯ for C, E for E♭, A for A♭, B for B♭"},
		{"C minor", "Bmaj9#5", "B (written C♭) for C, C♯ (written D♭) for D"},
	} {
		list := said([]byte(fmt.Sprintf("title: Side Gate\nkey: %s\npasses: 1\nchart: '| %s | %[2]s |'\n", c.key, c.chord)))
		require.NotEmpty(t, list)
		assert.Contains(t, list[0].Message, "; while it sounds, the line has "+c.says)
	}
}
