package numeral

import (
	"slices"
	"strings"

	"thirdwise/theory"
	"thirdwise/theory/remedy"
)

// Parse reads a Roman numeral in a key: vi, V7, viiø7, ♭VII, V7/V, I/E.
//
// Case gives the third: upper case major, lower case minor. What follows is
// written as behind the root of a chord symbol, and never as figured bass: IV6
// is a sixth chord, not an inversion. A bass is named by its letter: I/E. A
// second numeral behind the slash is the chord that the first leads to, taken
// as a key of its own: V7/V is D7 in C major, vii°7/ii is C♯dim7.
//
// A numeral without an accidental stands on the degree of the major scale, in
// whatever mode: in C mixolydian B♭ is ♭VII. In a minor key of any kind it stands
// on the degree of the natural minor, apart from the diminished chords on the
// sixth and the seventh, which stand on the raised one: in A minor, VI is F, VII
// is G, vi° is F♯dim, vii° is G♯dim. V and v are told apart by their case.
//
// A flat before the numeral counts down from the degree of the natural minor or
// of the major scale, whichever is higher, and a sharp counts up from whichever
// is lower. So ♭VI in A minor is F, as it is in A major, and ♯VI is F♯.
func Parse(s string, k theory.Key) (theory.Chord, error) {
	whole, bass, hasBass, err := cutBass(s)
	if err != nil {
		return theory.Chord{}, err
	}
	numeral, in, err := cutTarget(whole, k)
	if err != nil {
		return theory.Chord{}, remedy.Around("", err, s[len(whole):])
	}
	c, err := parsePlain(numeral, in)
	if err != nil {
		if figured, found := figuredBass(numeral, in); found {
			why := remedy.Write("write %s", theory.ASCII(named(figured, in)+whole[len(numeral):]+bassOf(figured)))
			if hasBass {
				why = writeSymbol
			}
			return theory.Chord{}, remedy.Errorf(why, "%s is figured bass", theory.Quoted(numeral))
		}
		return theory.Chord{}, remedy.Around("", err, s[len(numeral):])
	}
	if hasBass {
		c.Bass = bass
	}
	return c, nil
}

// cutBass cuts a bass such as /E from the end of a numeral.
func cutBass(s string) (numeral string, bass theory.Tone, found bool, err error) {
	slash := strings.LastIndexByte(s, '/')
	if slash <= 0 || slash+1 == len(s) || s[slash+1] < 'A' || s[slash+1] > 'G' {
		return s, theory.Tone{}, false, nil
	}
	bass, err = theory.ParseTone(s[slash+1:])
	if err != nil {
		return "", theory.Tone{}, false, remedy.In("the bass of "+theory.Quoted(s), err)
	}
	return s[:slash], bass, true, nil
}

// writeSymbol is the remedy where numerals end.
var writeSymbol = remedy.Say("write a chord symbol")

// cutTarget cuts the numeral behind a slash, to which the one before it leads,
// and returns the key in which that one is to be read: k itself where there is
// no slash.
func cutTarget(s string, k theory.Key) (numeral string, in theory.Key, err error) {
	slash := strings.LastIndexByte(s, '/')
	if slash <= 0 {
		return s, k, nil
	}
	if _, ok := scan(s[slash+1:]); !ok {
		return s, k, nil // the slash of 6/9
	}
	if before := strings.LastIndexByte(s[:slash], '/'); before > 0 {
		if _, ok := scan(s[before+1 : slash]); ok {
			return "", k, remedy.Errorf(writeSymbol, "%s leads to a chord that leads on", theory.Quoted(s))
		}
	}
	target, err := parsePlain(s[slash+1:], k)
	if err != nil {
		return "", k, remedy.Around(s[:slash+1], err, "")
	}
	if !hasKey(target.Quality) {
		return "", k, remedy.Errorf(writeSymbol, "%s leads to %s, which is not a major or minor chord", theory.Quoted(s), s[slash+1:])
	}
	return s[:slash], keyOf(target), nil
}

// hasKey reports whether a chord of the quality can be a tonic: a major or a
// minor triad, with or without more above it.
func hasKey(q theory.Quality) bool { return q.Third() != 0 && q.Has(theory.PerfectFifth) }

// keyOf returns the major or minor key of which the chord is the tonic.
func keyOf(c theory.Chord) theory.Key {
	if c.Quality.Has(theory.MinorThird) {
		return theory.Key{Tonic: c.Root, Mode: theory.Minor}
	}
	return theory.Key{Tonic: c.Root, Mode: theory.Major}
}

// A roman is a numeral taken apart: ♭VII7.
type roman struct {
	alter  int    // sharps, or flats as a negative number
	degree int    // 0 to 6
	upper  bool   // in upper case
	suffix string // what follows
}

var romans = [...]string{"I", "II", "III", "IV", "V", "VI", "VII"}

// scan takes a numeral apart. It reports false where s is none.
func scan(s string) (roman, bool) {
	alter, s := theory.CutAccidentals(s)
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

// parsePlain reads a numeral that leads nowhere and has no bass.
func parsePlain(s string, k theory.Key) (theory.Chord, error) {
	r, ok := scan(s)
	if !ok {
		return theory.Chord{}, notANumeral(s)
	}
	q, ok := r.quality()
	if !ok {
		return theory.Chord{}, r.unknown(s)
	}
	root := rootOf(k, r.degree, r.alter, q)
	if root.Alter > theory.MostAltered || root.Alter < -theory.MostAltered {
		return theory.Chord{}, remedy.Errorf(writeSymbol, "the root of %s in %s has more than three sharps or flats", theory.Quoted(s), k)
	}
	return theory.Chord{Root: root, Quality: q, Bass: root}, nil
}

// notANumeral answers what is none. A degree behind an accidental, as in b7, is
// written as a numeral.
func notANumeral(s string) error {
	alter, rest := theory.CutAccidentals(s)
	if alter != 0 && len(rest) == 1 && rest[0] >= '1' && rest[0] <= '7' {
		return remedy.Errorf(remedy.Write("write %s", theory.ASCII(theory.Accidentals(alter))+romans[rest[0]-'1']), "%s is not a Roman numeral", theory.Quoted(s))
	}
	return remedy.Errorf(remedy.Say("write I to VII or i to vii, with # or b before it where need be"), "%s is not a Roman numeral", theory.Quoted(s))
}

// quality reads case and suffix. Lower case takes the place of the m in a chord
// symbol, so ii7 is a minor seventh. It may also stand before a sign that says
// minor by itself, or before one without a third: vii°, ii-7, vsus4.
func (r roman) quality() (theory.Quality, bool) {
	if r.upper {
		return theory.ParseQuality(r.suffix)
	}
	for _, spelling := range [...]string{"m" + r.suffix, r.suffix} {
		q, ok := theory.ParseQuality(spelling)
		if ok && !q.Has(theory.MajorThird) {
			return q, true
		}
	}
	return 0, false
}

// figures are the figured basses that are no chord's quality: the size of the chord, and
// which of its tones lies lowest.
var figures = map[string]struct{ size, lowest int }{
	"64": {3, 5}, "65": {4, 3}, "43": {4, 5}, "42": {4, 7},
}

// figuredBass returns the chord of a numeral with figures: G7/B for V65 in C major.
func figuredBass(s string, k theory.Key) (c theory.Chord, ok bool) {
	r, _ := scan(s)
	figure, ok := figures[strings.Replace(r.suffix, "/", "", 1)]
	chords := k.Triads()
	if figure.size == 4 {
		chords = k.Sevenths()
	}
	i := slices.IndexFunc(chords, func(c theory.DegreeChord) bool { return c.Degree == r.degree+1 })
	if !ok || r.alter != 0 || i < 0 {
		return c, false
	}
	c = chords[i].Chord
	if r.upper && c.Quality.Has(theory.MinorThird) {
		c.Quality = map[int]theory.Quality{3: theory.MajorTriad, 4: theory.DominantSeventh}[figure.size]
	}
	c.Bass = c.Tones()[(figure.lowest-1)/2]
	return c, true
}

// unknown returns the error for the numeral s, whose suffix nobody knows.
func (r roman) unknown(s string) error {
	if strings.Trim(strings.ToUpper(s), "IVX") == "" {
		return notANumeral(s)
	}
	found := r.suffix
	if !r.upper {
		found = "m" + found
	}
	var meant []string
	for _, near := range theory.NearestQualities(found) {
		if r.upper || near.Has(theory.MinorThird) {
			meant = append(meant, theory.ASCII(theory.Accidentals(r.alter)+plain(r.degree, near)))
		}
	}
	why := remedy.Say("write what follows a root in a chord symbol, as in V7 or ii7")
	if len(meant) > 0 {
		why = remedy.Meant(meant...)
	}
	return remedy.Errorf(why, "%s is not a chord quality", theory.Quoted(r.suffix))
}

// rootOf returns the tone on which a numeral stands; see [Parse].
func rootOf(k theory.Key, degree, alter int, q theory.Quality) theory.Tone {
	letter := theory.Letter((int(k.Tonic.Letter) + degree) % 7)
	major := theory.Key{Tonic: k.Tonic, Mode: theory.Major}.Scale().Tone(letter)
	own := major
	if k.IsMinor() {
		own = theory.Key{Tonic: k.Tonic, Mode: theory.Minor}.Scale().Tone(letter)
	}
	switch {
	case alter < 0:
		own.Alter = max(own.Alter, major.Alter) + alter
	case alter > 0:
		own.Alter = min(own.Alter, major.Alter) + alter
	case k.IsMinor() && degree >= 5 && q.Has(theory.MinorThird) && q.Has(theory.DiminishedFifth):
		return major
	}
	return own
}
