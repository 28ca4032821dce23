// Package numeral names chords by Roman numerals in a key, one alone or in a
// progression, and reads such numerals.
//
// The package is pure: no files, no clock, no randomness.
package numeral

import (
	"slices"
	"strings"

	"thirdwise/theory"
)

// Of returns the chord as a Roman numeral in the key, as [Parse] reads it. It
// knows nothing of the chords around it; [Progression] does.
//
// A chord of the key has its plain numeral; in a minor key of any kind that is
// a chord of the natural, the harmonic or the melodic minor. Beyond them, a
// major triad or a chord with a dominant's third and seventh is named as the
// dominant of the degree a fifth below, and a diminished chord as the leading
// chord of the degree a semitone above, where the key has a major or minor
// triad there that is not the tonic: V7/V for D7 in C major. The seventh on a
// major tonic is I7, as in a blues. All else has a numeral with an accidental
// where the root needs one. A bass other than the root is named by its letter:
// I/E.
func Of(c theory.Chord, k theory.Key) string {
	if target, ok := ledTo(c, k); ok && !isTonicSeventh(c, k) {
		return leading(c, target, k)
	}
	return named(c, k) + bassOf(c)
}

// Progression returns the numerals of chords that follow one another. They are as
// [Of] names them but for what only the progression tells:
//
//   - The seventh on a major tonic is V7/IV where it goes on to a plain subdominant
//     and the tonic stands elsewhere without a seventh; otherwise it is I7.
//   - A minor or half-diminished chord from outside the key is the second degree of
//     what the dominant behind it leads to: Em7♭5 A7 Dm7 in C major is iiø7/ii
//     V7/ii ii7.
func Progression(chords []theory.Chord, k theory.Key) []string {
	numerals := make([]string, len(chords))
	plainTonic := hasPlainTonic(chords, k)
	// The two chords that follow the present one, repeats not counted.
	var next, afterNext theory.Chord
	for i := len(chords) - 1; i >= 0; i-- {
		c := chords[i]
		numerals[i] = Of(c, k)
		if target, ok := leadsTo(next, afterNext, plainTonic, k); ok && isSecondOf(c, target, k) {
			numerals[i] = leading(c, target, k)
		} else if target, ok := leadsTo(c, next, plainTonic, k); ok {
			numerals[i] = leading(c, target, k)
		}
		if i > 0 && chords[i-1] != c {
			next, afterNext = c, next
		}
	}
	return numerals
}

// Blues reports whether chords that follow one another have the tonic of a major key as a
// blues has it: somewhere it is a dominant seventh, I7 and not V7/IV. Throughout tells
// whether it stands nowhere without its seventh.
func Blues(chords []theory.Chord, k theory.Key) (somewhere, throughout bool) {
	if k.Mode != theory.Major {
		return false, false
	}
	for i, name := range Progression(chords, k) {
		c := chords[i]
		dominant := c.Quality.Has(theory.MajorThird) && c.Quality.Has(theory.FlatSeventh)
		if c.Root == k.Tonic && dominant && strings.HasPrefix(name, romans[0]) {
			return true, !hasPlainTonic(chords, k)
		}
	}
	return false, false
}

// hasPlainTonic reports whether the tonic stands among chords without a minor seventh.
func hasPlainTonic(chords []theory.Chord, k theory.Key) bool {
	return slices.ContainsFunc(chords, func(c theory.Chord) bool { return c.Root == k.Tonic && !c.Quality.Has(theory.FlatSeventh) })
}

// leadsTo returns the triad of the key to which a chord leads, as the one that
// follows tells.
func leadsTo(c, next theory.Chord, plainTonic bool, k theory.Key) (target theory.Chord, ok bool) {
	if c == (theory.Chord{}) {
		return target, false
	}
	target, ok = ledTo(c, k)
	if ok && isTonicSeventh(c, k) {
		ok = plainTonic && next.Root == target.Root && !next.Quality.Has(theory.FlatSeventh)
	}
	return target, ok
}

// isTonicSeventh reports whether a chord is the tonic of a major key with a minor
// seventh.
func isTonicSeventh(c theory.Chord, k theory.Key) bool { return c.Root == k.Tonic && !k.IsMinor() }

// isSecondOf reports whether a chord from outside the key is the minor or
// half-diminished chord a whole tone above another.
func isSecondOf(c, target theory.Chord, k theory.Key) bool {
	q := c.Quality
	return c.Root == target.Root.Up(theory.MajorSecond) && q.Has(theory.MinorThird) &&
		(q.Has(theory.PerfectFifth) || q == theory.HalfDiminishedSeventh) && !k.Owns(withoutBass(c))
}

// leading returns the numeral of a chord by what it is in the key of another: V7/V.
func leading(c, target theory.Chord, k theory.Key) string {
	return named(c, keyOf(target)) + "/" + named(target, k) + bassOf(c)
}

func bassOf(c theory.Chord) string {
	if c.Bass == c.Root {
		return ""
	}
	return "/" + c.Bass.String()
}

func withoutBass(c theory.Chord) theory.Chord {
	c.Bass = c.Root
	return c
}

// named returns the numeral of the chord's root and quality as what it is in
// the key, not as what it leads to.
func named(c theory.Chord, k theory.Key) string {
	degree := k.Degree(c.Root.Letter) - 1
	return accidental(c.Root, degree, c.Quality, k) + plain(degree, c.Quality)
}

// plain returns the numeral of a degree, 0 to 6, without an accidental.
func plain(degree int, q theory.Quality) string {
	name, suffix := romans[degree], q.String()
	if q.Has(theory.MinorThird) {
		name, suffix = strings.ToLower(name), strings.TrimPrefix(suffix, "m")
	}
	if sign, ok := signs[q]; ok {
		suffix = sign
	}
	return name + suffix
}

// signs holds what is written behind a numeral where it is not what a chord symbol
// has behind its root (common practice).
var signs = map[theory.Quality]string{
	theory.DiminishedTriad:        "°",
	theory.DiminishedSeventh:      "°7",
	theory.DiminishedMajorSeventh: "°maj7",
	theory.HalfDiminishedSeventh:  "ø7",
	theory.MinorNinthFlatFifth:    "ø9",
	theory.MinorEleventhFlatFifth: "ø11",
	theory.MinorMajorSeventh:      "maj7",
	theory.MinorMajorNinth:        "maj9",
	theory.AugmentedTriad:         "+",
	theory.AugmentedSeventh:       "+7",
	theory.AugmentedMajorSeventh:  "+maj7",
	theory.AugmentedMajorNinth:    "+maj9",
}

// accidental returns the signs before a numeral on the root.
func accidental(root theory.Tone, degree int, q theory.Quality, k theory.Key) string {
	if root == rootOf(k, degree, 0, q) {
		return ""
	}
	if oneSharp := rootOf(k, degree, 1, q); root.Alter >= oneSharp.Alter {
		return theory.Accidentals(root.Alter - oneSharp.Alter + 1)
	}
	oneFlat := rootOf(k, degree, -1, q)
	return theory.Accidentals(root.Alter - oneFlat.Alter - 1)
}

// ledTo returns the triad of the key to which a chord from outside the key
// leads as to a tonic, if there is one.
func ledTo(c theory.Chord, k theory.Key) (target theory.Chord, ok bool) {
	var tonic theory.Tone
	switch q := c.Quality; {
	case k.Owns(withoutBass(c)):
		return target, false
	case q == theory.MajorTriad && c.Root == k.Tonic:
		return target, false // the tonic itself, turned to major
	case q == theory.MajorTriad, q.Has(theory.MajorThird) && q.Has(theory.FlatSeventh):
		tonic = c.Root.Down(theory.PerfectFifth)
	case q == theory.DiminishedTriad, q == theory.DiminishedSeventh, q == theory.HalfDiminishedSeventh:
		tonic = c.Root.Up(theory.MinorSecond)
	default:
		return target, false
	}
	target, ok = triadAsUsed(k, k.Degree(tonic.Letter))
	switch {
	case !ok, target.Root != tonic, tonic == k.Tonic, !hasKey(target.Quality):
		return target, false
	case c.Quality == theory.HalfDiminishedSeventh && target.Quality != theory.MajorTriad:
		return target, false // minor is led to by °7
	}
	return target, true
}

// triadAsUsed returns the key's triad on a degree, 1 to 7; in a minor key of any
// kind that of the natural minor, with the major dominant.
func triadAsUsed(k theory.Key, degree int) (theory.Chord, bool) {
	if k.IsMinor() {
		k.Mode = theory.Minor
	}
	c, ok := k.Triad(degree)
	if k.IsMinor() && degree == 5 {
		c.Quality = theory.MajorTriad
	}
	return c, ok
}
