package theory

import (
	"fmt"
	"strings"
)

// ParseNumeral reads a Roman numeral in a key: vi, V7, viiø7, ♭VII, V7/V, I/E.
//
// Case gives the third: upper case major, lower case minor. What follows is
// written as behind the root of a chord symbol, and never as figured bass: IV6
// is a sixth chord, not an inversion. A bass is named by its letter: I/E. A
// second numeral behind the slash is the chord that the first leads to, taken
// as a key of its own: V7/V is D7 in C major, vii°7/ii is C♯dim7.
//
// A numeral without an accidental stands on the key's own degree. In a minor
// key of any kind that is the degree of the natural minor, apart from the
// diminished chords on the sixth and the seventh, which stand on the raised
// one: in A minor, VI is F, VII is G, vi° is F♯dim, vii° is G♯dim. V and v are
// told apart by their case.
//
// A flat before the numeral counts down from the degree of the key or of the
// major scale, whichever is higher, and a sharp counts up from whichever is
// lower. So ♭VI in A minor is F, as it is in A major, and ♯VI is F♯.
func ParseNumeral(s string, k Key) (Chord, error) {
	numeral, bass, hasBass, err := cutBass(s)
	if err != nil {
		return Chord{}, err
	}
	numeral, k, err = cutTarget(numeral, k)
	if err != nil {
		return Chord{}, err
	}
	c, err := parsePlainNumeral(numeral, k)
	if err != nil {
		return Chord{}, err
	}
	if hasBass {
		c.Bass = bass
	}
	return c, nil
}

// cutBass cuts a bass such as /E from the end of a numeral.
func cutBass(s string) (numeral string, bass Tone, found bool, err error) {
	slash := strings.LastIndexByte(s, '/')
	if slash < 0 || slash+1 == len(s) || !strings.Contains(letterNames, s[slash+1:slash+2]) {
		return s, Tone{}, false, nil
	}
	bass, err = ParseTone(s[slash+1:])
	if err != nil {
		return "", Tone{}, false, fmt.Errorf("in numeral %q, the bass: %w", s, err)
	}
	return s[:slash], bass, true, nil
}

// cutTarget cuts the numeral behind a slash, to which the one before it leads,
// and returns the key in which that one is to be read: k itself where there is
// no slash.
func cutTarget(s string, k Key) (numeral string, in Key, err error) {
	slash := strings.LastIndexByte(s, '/')
	if slash < 0 {
		return s, k, nil
	}
	if _, ok := scanRoman(s[slash+1:]); !ok {
		return s, k, nil // the slash of 6/9
	}
	target, err := parsePlainNumeral(s[slash+1:], k)
	if err != nil {
		return "", k, err
	}
	if !target.Quality.hasKey() {
		return "", k, fmt.Errorf("in numeral %q, %s is not a major or minor chord, so nothing leads to it as to a tonic",
			s, s[slash+1:])
	}
	return s[:slash], target.key(), nil
}

// hasKey reports whether a chord of the quality can be a tonic: a major or a
// minor triad, with or without more above it.
func (q Quality) hasKey() bool { return q.third() != 0 && q.has(perfectFifth) }

// key returns the major or minor key of which the chord is the tonic.
func (c Chord) key() Key {
	if c.Quality.third() == minorThird.Semitones {
		return Key{Tonic: c.Root, Mode: Minor}
	}
	return Key{Tonic: c.Root, Mode: Major}
}

// A roman is a numeral taken apart: ♭VII7.
type roman struct {
	alter  int    // sharps, or flats as a negative number
	degree int    // 0 to 6
	upper  bool   // in upper case
	suffix string // what follows
}

var romans = [7]string{"I", "II", "III", "IV", "V", "VI", "VII"}

// scanRoman takes a numeral apart. It reports false where s is none.
func scanRoman(s string) (roman, bool) {
	alter, s := scanAccidentals(s)
	longest := ""
	r := roman{alter: alter}
	for degree, upper := range romans {
		for _, name := range [...]string{upper, strings.ToLower(upper)} {
			if strings.HasPrefix(s, name) && len(name) > len(longest) {
				longest = name
				r.degree, r.upper = degree, name == upper
			}
		}
	}
	r.suffix = s[len(longest):]
	return r, longest != ""
}

// parsePlainNumeral reads a numeral that leads nowhere and has no bass.
func parsePlainNumeral(s string, k Key) (Chord, error) {
	r, ok := scanRoman(s)
	if !ok {
		return Chord{}, fmt.Errorf("%q is not a Roman numeral, I to VII or i to vii with # or b before it", s)
	}
	q, ok := r.quality()
	if !ok {
		return Chord{}, r.unknown(s)
	}
	root := k.root(r.degree, r.alter, q)
	if abs(root.Alter) > 3 {
		return Chord{}, fmt.Errorf("numeral %q: its root in %s would be altered more than three times", s, k)
	}
	return Chord{Root: root, Quality: q, Bass: root}, nil
}

// quality reads case and suffix. Lower case takes the place of the m in a chord
// symbol, so ii7 is a minor seventh. It may also stand before a sign that says
// minor by itself, or before one without a third: vii°, ii-7, vsus4.
func (r roman) quality() (Quality, bool) {
	if r.upper {
		return parseQuality(r.suffix)
	}
	for _, spelling := range [...]string{"m" + foldSpelling(r.suffix), r.suffix} {
		q, ok := parseQuality(spelling)
		if ok && q.third() != majorThird.Semitones {
			return q, true
		}
	}
	return 0, false
}

// unknown returns the error for the numeral s, whose suffix nobody knows.
func (r roman) unknown(s string) error {
	found := r.suffix
	if !r.upper {
		found = "m" + foldSpelling(found)
	}
	err := fmt.Errorf("numeral %q: nothing is known as %q behind %s", s, r.suffix, strings.TrimSuffix(s, r.suffix))
	near, ok := nearestQuality(found)
	if !ok || !r.upper && near.third() != minorThird.Semitones {
		return err
	}
	return fmt.Errorf("%w; the nearest that is known is %s%s", err, accidentals(r.alter, "♯", "♭"), plainNumeral(r.degree, near))
}

// isMinor reports whether the key is one of the three minor kinds, whose chords
// the trade mixes and writes with the same numerals.
func (k Key) isMinor() bool {
	return k.Mode == Minor || k.Mode == HarmonicMinor || k.Mode == MelodicMinor
}

// signed returns the scale that the key's signature gives: natural minor for
// every kind of minor.
func (k Key) signed() Scale {
	if k.isMinor() {
		k.Mode = Minor
	}
	return k.Scale()
}

// root returns the tone on which a numeral stands; see [ParseNumeral].
func (k Key) root(degree, alter int, q Quality) Tone {
	letter := Letter(mod(int(k.Tonic.Letter)+degree, 7))
	own := k.signed().Tone(letter)
	major := Key{Tonic: k.Tonic, Mode: Major}.Scale().Tone(letter)
	switch {
	case alter < 0:
		own.Alter = max(own.Alter, major.Alter) + alter
	case alter > 0:
		own.Alter = min(own.Alter, major.Alter) + alter
	case k.isMinor() && degree >= 5 && q.has(minorThird) && q.has(diminishedFifth):
		return major
	}
	return own
}

// Numeral returns the chord as a Roman numeral in the key, as [ParseNumeral]
// reads it.
//
// A chord of the key has its plain numeral; in a minor key of any kind that is
// a chord of the natural, the harmonic or the melodic minor. Beyond them, a
// major triad or a chord with a dominant's third and seventh is named as the
// dominant of the degree a fifth below, and a diminished chord as the leading
// chord of the degree a semitone above, where the key has a major or minor
// triad there that is not the tonic: V7/V for D7 in C major. All else has a
// numeral with an accidental where the root needs one. A bass other than the
// root is named by its letter: I/E.
func (k Key) Numeral(c Chord) string {
	s := k.numeral(c)
	if target, ok := k.ledTo(c); ok {
		s = target.key().numeral(c) + "/" + k.numeral(target)
	}
	if c.Bass != c.Root {
		s += "/" + c.Bass.String()
	}
	return s
}

// numeral returns the numeral of the chord's root and quality as what it is in
// the key, not as what it leads to.
func (k Key) numeral(c Chord) string {
	degree := k.Degree(c.Root.Letter) - 1
	return k.accidental(c.Root, degree, c.Quality) + plainNumeral(degree, c.Quality)
}

// plainNumeral returns the numeral of a degree, 0 to 6, without an accidental.
func plainNumeral(degree int, q Quality) string {
	name, suffix := romans[degree], q.String()
	if q.third() == minorThird.Semitones {
		name, suffix = strings.ToLower(name), strings.TrimPrefix(suffix, "m")
	}
	if sign, ok := numeralSigns[q]; ok {
		suffix = sign
	}
	return name + suffix
}

// numeralSigns holds what is written behind a numeral where it is not what a
// chord symbol has behind its root (common practice).
var numeralSigns = map[Quality]string{
	DiminishedTriad:       "°",
	DiminishedSeventh:     "°7",
	HalfDiminishedSeventh: "ø7",
	MinorMajorSeventh:     "maj7",
	MinorMajorNinth:       "maj9",
	AugmentedTriad:        "+",
	AugmentedSeventh:      "+7",
	AugmentedMajorSeventh: "+maj7",
}

// accidental returns the signs before a numeral on the root.
func (k Key) accidental(root Tone, degree int, q Quality) string {
	if root == k.root(degree, 0, q) {
		return ""
	}
	if oneSharp := k.root(degree, 1, q); root.Alter >= oneSharp.Alter {
		return accidentals(root.Alter-oneSharp.Alter+1, "♯", "♭")
	}
	oneFlat := k.root(degree, -1, q)
	return accidentals(root.Alter-oneFlat.Alter-1, "♯", "♭")
}

// ledTo returns the triad of the key to which a chord from outside the key
// leads as to a tonic, if there is one.
func (k Key) ledTo(c Chord) (Chord, bool) {
	var tonic Tone
	switch q := c.Quality; {
	case k.Owns(Chord{Root: c.Root, Quality: q, Bass: c.Root}):
		return Chord{}, false // whatever the bass
	case q == MajorTriad && c.Root == k.Tonic:
		return Chord{}, false // the tonic itself, turned to major
	case q == MajorTriad, q.has(majorThird) && q.has(minorSeventh):
		tonic = c.Root.Down(perfectFifth)
	case q == DiminishedTriad, q == DiminishedSeventh, q == HalfDiminishedSeventh:
		tonic = c.Root.Up(minorSecond)
	default:
		return Chord{}, false
	}
	target := k.triadsAsUsed()[k.Degree(tonic.Letter)-1]
	switch {
	case target.Root != tonic, tonic == k.Tonic, !target.Quality.hasKey():
		return Chord{}, false
	case c.Quality == HalfDiminishedSeventh && target.Quality != MajorTriad:
		return Chord{}, false // minor is led to by °7
	}
	return target, true
}

// Owns reports whether all the chord's tones are in the key, and its bass. A minor
// key of any kind owns the chords of all three: of the natural, the harmonic and
// the melodic minor.
func (k Key) Owns(c Chord) bool {
	tones := append(c.Tones(), c.Bass)
	if !k.isMinor() {
		return k.Scale().containsAll(tones)
	}
	for _, kind := range [...]Mode{Minor, HarmonicMinor, MelodicMinor} {
		if (Key{Tonic: k.Tonic, Mode: kind}).Scale().containsAll(tones) {
			return true
		}
	}
	return false
}

func (s Scale) containsAll(tones []Tone) bool {
	for _, t := range tones {
		if !s.Contains(t) {
			return false
		}
	}
	return true
}

// triadsAsUsed returns the key's triads; in a minor key of any kind those of
// the natural minor with the major dominant.
func (k Key) triadsAsUsed() [7]Chord {
	if !k.isMinor() {
		return k.Triads()
	}
	triads := Key{Tonic: k.Tonic, Mode: Minor}.Triads()
	triads[4].Quality = MajorTriad
	return triads
}
