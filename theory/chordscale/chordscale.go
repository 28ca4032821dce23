// Package chordscale finds the scale in force while a chord sounds: from it come the
// thirds of a line. In go a key and a chord, out comes a scale whose seven thirds are
// all major or minor. It is pure.
package chordscale

import (
	"math"
	"slices"

	"thirdwise/theory"
)

// A tertian scale is one whose seven thirds are all major or minor. Going round
// it by thirds, three of them are major and four minor, so there are but five
// such circles. One makes the seventh degree the tonic's own octave; the other
// four are those of the major, the melodic minor, the harmonic minor and the
// harmonic major scale, each from any of its degrees. The search below for the
// scale over a chord therefore leaves nothing out.
var tertianDegrees = [...][7]int{
	{0, 2, 4, 5, 7, 9, 11}, // major
	{0, 2, 3, 5, 7, 9, 11}, // melodic minor
	{0, 2, 3, 5, 7, 8, 11}, // harmonic minor
	{0, 2, 4, 5, 7, 8, 11}, // harmonic major
}

// A tertian is a tertian scale as it is spelled from its tonic.
type tertian struct {
	scale          theory.Scale
	sounding       [12]bool // by pitch class
	third          [12]int  // the pitch class a third above each that sounds
	tonic, leading int      // pitch classes of the tonic and of the tone below it
	augmented      bool     // it has the step of an augmented second
}

func newTertian(s theory.Scale, tonic theory.Letter) tertian {
	t := tertian{
		scale: s, augmented: hasAugmentedSecond(s),
		tonic: s.Tone(tonic).Class(), leading: s.Tone(tonic.Up(6)).Class(),
	}
	for l := theory.C; l <= theory.B; l++ {
		class := s.Tone(l).Class()
		t.sounding[class], t.third[class] = true, s.Tone(l.Up(2)).Class()
	}
	return t
}

// mostInScale is how many sharps or flats a tone of a scale over a chord can have.
const mostInScale = 2

// tertians lists every tertian scale in every spelling without triple sharps or
// flats.
var tertians = func() (list []tertian) {
	for _, degrees := range tertianDegrees {
		for l := theory.C; l <= theory.B; l++ {
			for alter := -mostInScale; alter <= mostInScale; alter++ {
				s := theory.NewScale(theory.Tone{Letter: l, Alter: alter}, degrees)
				if !slices.ContainsFunc(s[:], func(alter int) bool { return max(alter, -alter) > mostInScale }) {
					list = append(list, newTertian(s, l))
				}
			}
		}
	}
	return list
}()

// costOver says what counts against a scale over a chord. The values are those
// under which the chord scales of handbooks come out first.
var costOver = struct {
	Altered, Augmented, AugmentedLeading, Respelled, RootThird, OwnThird int
}{
	Altered:          40, // a letter sounds a semitone away from the key's tone
	Augmented:        60, // an augmented second, which sings badly
	AugmentedLeading: 30, // the same where the chord leads, as V7 in minor does: there the ear expects it
	Respelled:        31, // a tone of the chord stands on another letter; the root counts twice
	RootThird:        45, // the chord's third stands a third above its root by sound, but not in the scale
	OwnThird:         40, // another third between two of the chord's tones is none of the scale's
}

// Over returns the scale in force while a chord sounds in a key. It has seven
// degrees, the seven thirds on them are all major or minor, and it holds the
// chord's tones and its bass by sound; where the chord's spelling would put two
// tones on one letter, or a third where none is, the scale has another.
//
// It is the key's own scale where that holds the chord. Otherwise it is the
// nearest that does: the one that alters the fewest of the key's letters, and
// among those the one that handbooks give the chord (mixolydian ♭6 on V7/ii,
// lydian dominant on ♭II7, harmonic minor on V7/vi).
//
// A chord that no such scale holds has the one that holds its weightiest tones:
// root and third before fifth and seventh, these before what lies above. Always left
// out are the sharp ninth over a perfect fifth, which is heard as a blue third beside the
// chord's own and not as a step of a scale, and the perfect fifth of a chord whose ninth
// and eleventh or thirteenth are altered both (♭9 and ♯11, ♯9 and ♯11, ♯9 and ♭13): no
// such scale holds it beside them, and players leave it out first.
func Over(k theory.Key, c theory.Chord) theory.Scale {
	own := k.Scale()
	w := want(c, own)
	if isTertian(own) {
		if t := newTertian(own, k.Tonic.Letter); w.lacking(&t) == 0 {
			return own
		}
	}
	var best theory.Scale
	fewest, least := math.MaxInt, math.MaxInt
	for i := range tertians {
		lacking := w.lacking(&tertians[i])
		if lacking > fewest {
			continue
		}
		if cost := w.cost(&tertians[i]); lacking < fewest || cost < least {
			best, fewest, least = tertians[i].scale, lacking, cost
		}
	}
	return best
}

// InBlues returns the scale in force while a chord sounds in a blues in a major key. It is
// that of [Over], but chords on the tonic and the subdominant, and the diminished one
// between subdominant and dominant, are heard in the tonic's mixolydian, since its minor
// seventh still rings in the ear: over D7, which follows A7 in A major, stands D
// mixolydian with A7's G, and not the lydian dominant with the key's G♯. The other chords,
// which lead to the dominant and by it back to the tonic, are the major key's.
func InBlues(k theory.Key, c theory.Chord) theory.Scale {
	subdominant := k.Tonic.Down(theory.PerfectFifth)
	diminished := c.Quality == theory.DiminishedTriad || c.Quality == theory.DiminishedSeventh
	between := theory.Tone{Letter: subdominant.Letter, Alter: subdominant.Alter + 1}
	if c.Root == k.Tonic || c.Root == subdominant || diminished && c.Root == between {
		k.Mode = theory.Mixolydian
	}
	return Over(k, c)
}

// A wanted is what is asked of the scale over a chord.
type wanted struct {
	own       theory.Scale // the key's
	augmented bool         // the key's scale has an augmented second itself
	tones     []theory.Tone
	sounding  [12]bool // pitch classes of the chord
	weights   [12]int  // what each pitch class of chord and bass weighs
	thirds    []third  // the chord's own
}

// A third is two pitch classes that are a third apart by letter and by sound.
type third struct{ low, high int }

func want(c theory.Chord, own theory.Scale) *wanted {
	w := &wanted{own: own, augmented: hasAugmentedSecond(own), tones: c.Tones()}
	w.weights[c.Bass.Class()] = 1
	for i, step := range c.Quality.Intervals() {
		class := w.tones[i].Class()
		w.sounding[class] = true
		if !outsideScales(step, c.Quality) {
			w.weights[class] = toneWeight(step)
		}
	}
	for _, low := range w.tones {
		for _, high := range w.tones {
			if high == low.Up(theory.MinorThird) || high == low.Up(theory.MajorThird) {
				w.thirds = append(w.thirds, third{low.Class(), high.Class()})
			}
		}
	}
	return w
}

// outsideScales reports whether a quality's tone is never looked for in a scale.
func outsideScales(step theory.Interval, q theory.Quality) bool {
	sharpNinth, sharpEleventh := q.Has(theory.SharpNinth), q.Has(theory.SharpEleventh)
	altered := sharpNinth && (sharpEleventh || q.Has(theory.FlatThirteenth))
	switch step {
	case theory.SharpNinth:
		return q.Has(theory.PerfectFifth) && !altered
	case theory.PerfectFifth:
		return q.Has(theory.FlatNinth) && sharpEleventh || altered
	}
	return false
}

// toneWeight returns what a tone weighs in a chord by its interval above the root.
func toneWeight(above theory.Interval) int {
	switch above.Steps {
	case 0, 2:
		return 3
	case 3, 4, 5, 6:
		return 2
	}
	return 1
}

// lacking weighs the tones that a scale does not sound.
func (w *wanted) lacking(t *tertian) int {
	sum := 0
	for class, weight := range w.weights {
		if !t.sounding[class] {
			sum += weight
		}
	}
	return sum
}

// cost returns what counts against a scale beside others that lack as much.
func (w *wanted) cost(t *tertian) (cost int) {
	for l, alter := range w.own {
		cost += costOver.Altered * max(t.scale[l]-alter, alter-t.scale[l])
	}
	for i, tone := range w.tones {
		switch {
		case t.scale.Contains(tone):
		case i == 0:
			cost += 2 * costOver.Respelled
		default:
			cost += costOver.Respelled
		}
	}
	for _, own := range w.thirds {
		switch {
		case t.sounding[own.low] && t.third[own.low] == own.high:
		case own.low == w.tones[0].Class():
			cost += costOver.RootThird
		default:
			cost += costOver.OwnThird
		}
	}
	switch {
	case !t.augmented || w.augmented:
	case w.sounding[t.leading] && !w.sounding[t.tonic]:
		cost += costOver.AugmentedLeading
	default:
		cost += costOver.Augmented
	}
	return cost
}

// isTertian reports whether the scale's seven thirds are all major or minor.
func isTertian(s theory.Scale) bool {
	for staff := range s {
		if !s.Third(staff).IsThird() {
			return false
		}
	}
	return true
}

// hasAugmentedSecond reports whether two neighbouring tones of the scale lie
// three semitones apart.
func hasAugmentedSecond(s theory.Scale) bool {
	for staff := range s {
		if theory.Between(s.At(staff), s.At(staff+1)) == theory.AugmentedSecond {
			return true
		}
	}
	return false
}
