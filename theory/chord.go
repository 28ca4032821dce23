package theory

import (
	"fmt"
	"slices"
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

// Fifth returns the chord's fifth, altered where the chord alters it; where it
// has none, the perfect fifth above the root.
func (c Chord) Fifth() Tone {
	for _, step := range c.Quality.Intervals() {
		if step.Steps == 4 {
			return c.Root.Up(step)
		}
	}
	return c.Root.Up(perfectFifth)
}

// HasThird reports whether two of the chord's tones are a third apart by their
// letters. Suspended chords of three tones and power chords have none.
func (c Chord) HasThird() bool {
	for _, low := range c.Tones() {
		for _, high := range c.Tones() {
			if mod(int(high.Letter-low.Letter), 7) == 2 {
				return true
			}
		}
	}
	return false
}

// Contains reports whether the tone sounds as one of the chord's does, however
// either is spelled: the B of a scale is the C♭ of D♭7.
func (c Chord) Contains(t Tone) bool {
	return slices.ContainsFunc(c.Tones(), func(own Tone) bool { return own.Class() == t.Class() })
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
func (c Chord) ASCII() string { return ASCII(c.String()) }

// Transpose returns the chord with every tone moved up by an interval.
func (c Chord) Transpose(i Interval) Chord {
	return Chord{Root: c.Root.Up(i), Quality: c.Quality, Bass: c.Bass.Up(i)}
}

// Simplify returns the chord spelled so that its root is altered twice at most:
// the leading tone of G♯ minor stays F♯♯, but F♯♯♯ becomes G♯, the other tones
// with it.
func (c Chord) Simplify() Chord {
	for c.Root.Alter > 2 {
		c = c.Transpose(Interval{Steps: 1})
	}
	for c.Root.Alter < -2 {
		c = c.Transpose(Interval{Steps: -1})
	}
	return c
}

// ParseChord reads a chord symbol: a root, one of the spellings that lead
// sheets use for a quality, and a bass behind a slash, as in C, F♯m7b5, Bb/D.
// An accidental belongs to the letter before it: Cb5 is C♭ and its fifth, C
// with a flat fifth is C(b5).
func ParseChord(s string) (Chord, error) {
	root, rest, err := scanTone(s)
	if err != nil {
		return Chord{}, err
	}
	if q, ok := parseQuality(rest); ok {
		return Chord{Root: root, Quality: q, Bass: root}, nil
	}
	suffix, slash, bass := rest, strings.LastIndexByte(rest, '/'), root
	if slash >= 0 {
		suffix = rest[:slash]
		if bass, err = ParseTone(rest[slash+1:]); err != nil {
			return Chord{}, fmt.Errorf("in chord %q, the bass: %w", s, err)
		}
	}
	q, ok := parseQuality(suffix)
	if !ok {
		err = fmt.Errorf("chord %q: nothing is known as %q behind the root %s", s, suffix, root)
		if near, ok := nearestQuality(suffix); ok {
			err = fmt.Errorf("%w; the nearest that is known is %s%s", err, root, near)
		}
		return Chord{}, err
	}
	return Chord{Root: root, Quality: q, Bass: bass}, nil
}
