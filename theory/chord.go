package theory

import (
	"slices"
	"strings"

	"thirdwise/theory/remedy"
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
	return c.Root.Up(PerfectFifth)
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
	apart := t.Class() - c.Root.Class()
	return slices.ContainsFunc(c.Quality.Intervals(), func(own Interval) bool { return (own.Semitones-apart)%12 == 0 })
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
// with a flat fifth is C(b5). Roots such as Fis and Es are read too. The error
// names the nearest chord, if one is near.
func ParseChord(s string) (Chord, error) {
	root, rest, ok := scanTone(s)
	if !ok {
		return Chord{}, notAChord(s)
	}
	c, err := parseOnRoot(root, rest)
	if err == nil {
		return c, nil
	}
	if root, rest, ok := scanName(s); ok {
		if c, err := parseOnRoot(root, rest); err == nil {
			return c, nil
		}
	}
	if _, _, _, foreign := cutForeign(s); foreign {
		return Chord{}, notAChord(s)
	}
	return Chord{}, err
}

// notAChord answers a chord symbol whose root is no upper-case letter from A to G.
func notAChord(s string) error {
	if root, name, rest, ok := cutForeign(s); ok {
		if c, err := parseOnRoot(root, rest); err == nil {
			return calledHere(name, root, c.ASCII())
		}
	}
	if root, rest, ok := scanName(s); ok {
		if c, err := parseOnRoot(root, rest); err == nil {
			return remedy.Errorf(remedy.Meant(c.ASCII()), "%s is not a chord", Quoted(s))
		}
	}
	return remedy.Errorf(remedy.Remedy{}, "%s is not a chord", Quoted(s))
}

// parseOnRoot reads what follows the root of a chord symbol.
func parseOnRoot(root Tone, s string) (Chord, error) {
	if q, ok := ParseQuality(s); ok {
		return Chord{Root: root, Quality: q, Bass: root}, nil
	}
	suffix, under, slash := s, "", strings.LastIndexByte(s, '/')
	if slash >= 0 {
		suffix, under = s[:slash], s[slash+1:]
	}
	q, known := ParseQuality(suffix)
	bass := root
	if slash >= 0 {
		var err error
		if bass, err = ParseTone(under); err != nil {
			if t, name, rest, foreign := cutForeign(under); foreign && rest == "" && known {
				return Chord{}, calledHere(name, t, Chord{root, q, t}.ASCII())
			}
			return Chord{}, wrongBass(under, Chord{root, q, root}, known, err)
		}
	}
	if known {
		return Chord{Root: root, Quality: q, Bass: bass}, nil
	}
	if upper, _, two := strings.Cut(suffix, "/"); two && slash >= 0 {
		if q, ok := ParseQuality(upper); ok {
			return Chord{}, remedy.Errorf(remedy.Write("write %s", Chord{root, q, bass}.ASCII(), Chord{root, q, root}.ASCII()), "a chord has one bass")
		}
	}
	var meant []string
	for _, near := range NearestQualities(suffix) {
		meant = append(meant, Chord{root, near, bass}.ASCII())
	}
	why := remedy.Remedy{}
	if len(meant) > 0 {
		why = remedy.Meant(meant...)
	}
	return Chord{}, remedy.Errorf(why, "%s is not a chord quality", Quoted(suffix))
}

// wrongBass answers a chord whose bass is no tone. Where it begins with one, as Gm
// does, that is meant.
func wrongBass(under string, c Chord, known bool, err error) error {
	if bass, _, ok := scanTone(under); ok && known {
		c.Bass = bass
		return remedy.Errorf(remedy.Write("write %s", c.ASCII()), "the bass %s is more than a note", Quoted(under))
	}
	return remedy.In("the bass", err)
}
