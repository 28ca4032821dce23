package board

import (
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
	"thirdwise/theory/numeral"
)

// A Description is the board for programs.
type Description struct {
	kit.Description
	Thirds   []DegreeThird `json:"thirds"`
	Triads   []DegreeChord `json:"triads"`
	Sevenths []DegreeChord `json:"sevenths"`
}

// A DegreeThird is the third on a degree of the key, in one octave.
type DegreeThird struct {
	Degree   int    `json:"degree"`
	Lower    string `json:"lower"`
	Upper    string `json:"upper"`
	Interval string `json:"interval"` // M3 or m3
}

// A DegreeChord is the key's own chord on one of its degrees.
type DegreeChord struct {
	Degree  int    `json:"degree"`
	Symbol  string `json:"symbol"`
	Numeral string `json:"numeral"`
}

// Describe describes a score as the board does.
func Describe(s *score.Score) Description {
	key := s.Key
	b := Description{Description: kit.Describe(s)}
	for i, t := range key.Thirds() {
		b.Thirds = append(b.Thirds, DegreeThird{i + 1, t.Lower.ASCII(), t.Upper.ASCII(), t.Interval().String()})
	}
	b.Triads = describeChords(key, key.Triads())
	b.Sevenths = describeChords(key, key.Sevenths())
	return b
}

func describeChords(key theory.Key, chords []theory.DegreeChord) []DegreeChord {
	described := make([]DegreeChord, len(chords))
	for i, c := range chords {
		described[i] = DegreeChord{c.Degree, c.ASCII(), theory.ASCII(numeral.Of(c.Chord, key))}
	}
	return described
}
