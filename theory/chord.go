package theory

import (
	"fmt"
	"strings"
)

// A Chord is a root, a quality, and the tone that lies lowest: the root itself,
// or another where a slash names it.
type Chord struct {
	Root    Tone
	Quality Quality
	Bass    Tone
}

// Tones returns the chord's tones, spelled, from the root up. A bass that is
// none of them is not among them.
func (c Chord) Tones() []Tone {
	steps := c.Quality.Intervals()
	tones := make([]Tone, len(steps))
	for i, step := range steps {
		tones[i] = c.Root.Up(step)
	}
	return tones
}

// Contains reports whether the tone, as spelled, is one of the chord's.
func (c Chord) Contains(t Tone) bool {
	for _, own := range c.Tones() {
		if own == t {
			return true
		}
	}
	return false
}

// String prints the chord's symbol with the signs of notation: "F♯m7♭5", "B♭/D".
func (c Chord) String() string {
	s := c.Root.String() + c.Quality.String()
	if c.Bass != c.Root {
		s += "/" + c.Bass.String()
	}
	return s
}

// ASCII prints the chord's symbol with # and b: "F#m7b5", "Bb/D".
func (c Chord) ASCII() string {
	return strings.NewReplacer("♯", "#", "♭", "b").Replace(c.String())
}

// Transpose returns the chord with every tone moved up by an interval.
func (c Chord) Transpose(i Interval) Chord {
	return Chord{Root: c.Root.Up(i), Quality: c.Quality, Bass: c.Bass.Up(i)}
}

// ParseChord reads a chord symbol: a root, one of the spellings that lead
// sheets use for a quality, and a bass behind a slash, as in C, F♯m7b5, Bb/D.
func ParseChord(s string) (Chord, error) {
	root, rest, err := scanTone(s)
	if err != nil {
		return Chord{}, err
	}
	if q, ok := qualityOf[foldSigns(rest)]; ok {
		return Chord{Root: root, Quality: q, Bass: root}, nil
	}
	suffix, slash, bass := rest, strings.LastIndexByte(rest, '/'), root
	if slash >= 0 {
		suffix = rest[:slash]
		if bass, err = ParseTone(rest[slash+1:]); err != nil {
			return Chord{}, fmt.Errorf("in chord %q, the bass: %w", s, err)
		}
	}
	q, ok := qualityOf[foldSigns(suffix)]
	if !ok {
		return Chord{}, fmt.Errorf("chord %q: nothing is known as %q behind the root %s", s, suffix, root)
	}
	return Chord{Root: root, Quality: q, Bass: bass}, nil
}
