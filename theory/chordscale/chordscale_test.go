package chordscale_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"thirdwise/theory"
	"thirdwise/theory/chordscale"
	"thirdwise/theory/theorytest"
)

// Scales by the names that jazz harmony handbooks give them, as semitones above
// the tonic (from memory).
var handbookScales = map[string][7]int{
	"ionian":            {0, 2, 4, 5, 7, 9, 11},
	"dorian":            {0, 2, 3, 5, 7, 9, 10},
	"phrygian":          {0, 1, 3, 5, 7, 8, 10},
	"lydian":            {0, 2, 4, 6, 7, 9, 11},
	"mixolydian":        {0, 2, 4, 5, 7, 9, 10},
	"aeolian":           {0, 2, 3, 5, 7, 8, 10},
	"locrian":           {0, 1, 3, 5, 6, 8, 10},
	"melodic minor":     {0, 2, 3, 5, 7, 9, 11},
	"lydian augmented":  {0, 2, 4, 6, 8, 9, 11},
	"lydian dominant":   {0, 2, 4, 6, 7, 9, 10},
	"mixolydian b6":     {0, 2, 4, 5, 7, 8, 10},
	"locrian 2":         {0, 2, 3, 5, 6, 8, 10},
	"altered":           {0, 1, 3, 4, 6, 8, 10},
	"harmonic minor":    {0, 2, 3, 5, 7, 8, 11},
	"phrygian dominant": {0, 1, 4, 5, 7, 8, 10},
	"harmonic major":    {0, 2, 4, 5, 7, 8, 11},
	"altered with 5":    {0, 1, 3, 4, 7, 8, 10}, // on the third degree of the harmonic major
	"dorian b2":         {0, 1, 3, 5, 7, 9, 10},
	"mixolydian b9":     {0, 1, 4, 5, 7, 9, 10},
	"ionian #5":         {0, 2, 4, 5, 8, 9, 11},
}

// Common practice, as jazz harmony handbooks teach it (from memory): a chord of
// the key has the key's scale; a secondary dominant the mixolydian with the key's
// tones, so ♭9 and ♭13 where it leads to a minor chord; a tritone substitute and a
// dominant that does not lead down a fifth the lydian dominant; a chord borrowed
// from the minor key that key's mode; the minor subdominant the melodic minor;
// a diminished seventh the harmonic scale whose leading chord it is.
func TestChordsHaveTheScalesOfHandbooks(t *testing.T) {
	for _, c := range []struct{ key, chord, tonic, scale string }{
		{"C major", "Cmaj7", "C", "ionian"},
		{"C major", "Dm7", "D", "dorian"},
		{"C major", "Bm7b5", "B", "locrian"},
		{"C major", "G7", "G", "mixolydian"},
		{"C major", "C7", "C", "mixolydian"},
		{"C major", "D7", "D", "mixolydian"},
		{"C major", "A7", "A", "mixolydian b6"},
		{"C major", "A7b9", "A", "phrygian dominant"},
		{"C major", "E7", "E", "phrygian dominant"},
		{"C major", "B7", "B", "phrygian dominant"},
		{"C major", "G7b9", "G", "mixolydian b9"},
		{"C major", "G7b13", "G", "mixolydian b6"},
		{"C major", "G7#5", "G", "mixolydian b6"},
		{"C major", "G7#11", "G", "lydian dominant"},
		{"C major", "G7#9", "G", "mixolydian"},
		{"C major", "G7alt", "G", "altered"},
		{"C major", "G7b9#11", "G", "altered"},
		{"C major", "G7#9#11", "G", "altered"},
		{"C major", "G7#9b13", "G", "altered with 5"},
		{"C major", "G9b13", "G", "mixolydian b6"},
		{"C major", "G13#9", "G", "mixolydian"},
		{"C major", "G13#11", "G", "lydian dominant"},
		{"C major", "G13b9", "G", "mixolydian b9"},
		{"C major", "G13b9sus4", "G", "dorian b2"},
		{"C major", "Cmaj13#11", "C", "lydian"},
		{"C major", "C6/9#11", "C", "lydian"},
		{"C major", "Fadd#11", "F", "lydian"},
		{"C major", "Cmaj9#5", "C", "ionian #5"},
		{"C major", "Bm11b5", "B", "locrian"},
		{"C major", "Bm9b5", "B", "locrian 2"},
		{"C major", "Am(b6)", "A", "aeolian"},
		{"C major", "Am(add11)", "A", "aeolian"},
		{"C major", "G7sus2", "G", "mixolydian"},
		{"C major", "G7add13", "G", "mixolydian"},
		{"C major", "Fmaj7sus2", "F", "lydian"},
		{"C major", "Db7", "Db", "lydian dominant"},
		{"C major", "Eb7", "Eb", "lydian dominant"},
		{"C major", "F7", "F", "lydian dominant"},
		{"C major", "Gb7", "Gb", "lydian dominant"},
		{"C major", "Ab7", "Ab", "lydian dominant"},
		{"C major", "Bb7", "Bb", "lydian dominant"},
		{"C major", "Fm", "F", "melodic minor"},
		{"C major", "Fm6", "F", "melodic minor"},
		{"C major", "Fm7", "F", "dorian"},
		{"C major", "Dm7b5", "D", "locrian 2"},
		{"C major", "Abmaj7", "Ab", "lydian"},
		{"C major", "Bbmaj7", "Bb", "lydian"},
		{"C major", "Ebmaj7", "Eb", "lydian"},
		{"C major", "Dbmaj7", "Db", "lydian"},
		{"C major", "Cm7", "C", "dorian"},
		{"C major", "Gm7", "G", "dorian"},
		{"C major", "Ebm7", "Eb", "dorian"},
		{"C major", "Abm7", "Ab", "dorian"},
		{"C major", "Em7b5", "E", "locrian"},
		{"C major", "F#m7b5", "F#", "locrian"},
		{"C major", "Cdim7", "G", "harmonic major"},
		{"C major", "Ebdim7", "G", "harmonic major"},
		{"C major", "F#dim7", "G", "harmonic major"},
		{"C major", "C#dim7", "D", "harmonic minor"},
		{"C major", "D#dim7", "E", "harmonic minor"},
		{"C major", "G#dim7", "A", "harmonic minor"},
		{"C major", "Cmaj7#5", "C", "ionian #5"},
		{"F major", "Abdim7", "C", "harmonic major"},
		{"A minor", "Am7", "A", "aeolian"},
		{"A minor", "E7", "E", "phrygian dominant"},
		{"A minor", "E7#9", "E", "phrygian dominant"},
		{"A minor", "E7alt", "E", "altered"},
		{"A minor", "E7#9b13", "E", "altered with 5"},
		{"A minor", "E7b9b13", "E", "phrygian dominant"},
		{"A minor", "G#dim7", "A", "harmonic minor"},
		{"A minor", "AmMaj7", "A", "melodic minor"},
		{"A minor", "Am6", "A", "dorian"},
		{"A minor", "D7", "D", "mixolydian"},
		{"A minor", "B7", "B", "phrygian dominant"},
		{"A minor", "Bb", "Bb", "lydian"},
		{"A minor", "Bb7", "Bb", "lydian dominant"},
		{"A minor", "F7", "F", "lydian dominant"},
		{"A harmonic minor", "Am", "A", "harmonic minor"},
		{"A harmonic minor", "G7", "G", "mixolydian"},
		{"A melodic minor", "F", "F", "lydian"},
		{"D dorian", "A7", "A", "mixolydian b6"},
		{"G mixolydian", "D7", "D", "mixolydian"},
		{"E phrygian", "B7", "B", "phrygian dominant"},
		{"F lydian", "Bb", "Bb", "lydian"},
	} {
		scale := chordscale.Over(theorytest.Key(t, c.key), theorytest.Chord(t, c.chord))
		assertScale(t, c.tonic, c.scale, scale, c.chord+" in "+c.key)
	}
}

// Common practice, as blues and jazz handbooks teach it (from memory): in a blues, I7 and
// IV7 have their mixolydian, whose tones but one they share; ♯IV°7 raises the root of IV7
// and keeps the rest; the ii–V and what leads to it are the major key's.
func TestChordsOfABluesHaveTheScalesOfHandbooks(t *testing.T) {
	for _, c := range []struct{ key, chord, tonic, scale string }{
		{"A major", "A7", "A", "mixolydian"},
		{"A major", "A13", "A", "mixolydian"},
		{"A major", "A7#9", "A", "mixolydian"},
		{"A major", "A6", "A", "mixolydian"},
		{"A major", "D7", "D", "mixolydian"},
		{"A major", "D9", "D", "mixolydian"},
		{"A major", "D7/A", "D", "mixolydian"},
		{"A major", "D", "D", "ionian"},
		{"A major", "D6", "D", "ionian"},
		{"A major", "Dm", "D", "melodic minor"},
		{"A major", "Dm6", "D", "melodic minor"},
		{"A major", "D#dim7", "E", "harmonic minor"},
		{"A major", "D#dim", "E", "melodic minor"},
		{"A major", "D#m7b5", "D#", "locrian"},
		{"A major", "A#dim7", "B", "harmonic minor"},
		{"A major", "D7#11", "D", "lydian dominant"},
		{"A major", "E7", "E", "mixolydian"},
		{"A major", "Em7", "E", "dorian"},
		{"A major", "Bm7", "B", "dorian"},
		{"A major", "C#m7", "C#", "phrygian"},
		{"A major", "F#m7", "F#", "aeolian"},
		{"A major", "F#7", "F#", "mixolydian b6"},
		{"A major", "B7", "B", "mixolydian"},
		{"A major", "F7", "F", "lydian dominant"},
		{"A major", "C7", "C", "lydian dominant"},
		{"A major", "Amaj7", "A", "ionian"},
		{"C major", "F7", "F", "mixolydian"},
		{"C major", "F#dim7", "G", "harmonic minor"},
		{"Gb major", "Cb7", "Cb", "mixolydian"},
		{"Cb major", "Fb7", "Fb", "mixolydian"},
		{"C# major", "F#7", "F#", "mixolydian"},
	} {
		scale := chordscale.InBlues(theorytest.Key(t, c.key), theorytest.Chord(t, c.chord))
		assertScale(t, c.tonic, c.scale, scale, c.chord+" in a blues in "+c.key)
	}
}

// assertScale asserts that a scale sounds as handbooks name it.
func assertScale(t *testing.T, tonic, name string, scale theory.Scale, where string) {
	t.Helper()
	from, err := theory.ParseTone(tonic)
	assert.NoError(t, err)
	var want []int
	for _, semitones := range handbookScales[name] {
		want = append(want, (from.Class()+semitones)%12)
	}
	assert.ElementsMatch(t, want, classes(scale), "%s: %s", where, spelled(scale, from.Letter))
}

// Where the chord's own letters would give a degree twice or a third that is
// none, others do; everywhere else the chord keeps its letters.
func TestScalesOverChordsAreSpelledByTheChordAndTheKey(t *testing.T) {
	for _, c := range []struct{ key, chord, scale string }{
		{"A minor", "E7", "E F G# A B C D"},
		{"C major", "D7", "D E F# G A B C"},
		{"C major", "Fm", "F G Ab Bb C D E"},
		{"C major", "C/Bb", "C D E F G A Bb"},
		{"C major", "Am/F#", "A B C D E F# G"},
		{"C major", "Db7", "Db Eb F G Ab Bb Cb"},
		{"C major", "G7#5", "G A B C D Eb F"},
		{"C major", "Cdim7", "C D Eb F# G A B"},
		{"C major", "Ebdim7", "Eb F# G A B C D"},
		{"F major", "Abdim7", "Ab B C D E F G"},
		{"C# major", "D7", "D E F# G# A B C"},
	} {
		chord := theorytest.Chord(t, c.chord)
		assert.Equal(t, c.scale, spelled(chordscale.Over(theorytest.Key(t, c.key), chord), chord.Root.Letter), "%s in %s", c.chord, c.key)
	}
}

func TestAScaleOverAChordHasSevenThirdsAndHoldsTheChord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, c := theorytest.AnyKey().Draw(t, "key"), anyChord().Draw(t, "chord")
		scale := chordscale.Over(k, c)
		for staff := range 7 {
			third := scale.Third(staff)
			assert.Contains(t, []int{3, 4}, third.Upper.MIDI()-third.Lower.MIDI(), "%v over %v in %v", third, c, k)
		}
		sounding := classes(scale)
		assert.Len(t, slices.Compact(slices.Sorted(slices.Values(sounding))), 7, "%v over %v", scale, c)
		for i, tone := range c.Tones() {
			step := c.Quality.Intervals()[i]
			blue := step == theory.SharpNinth
			crowded := step == theory.PerfectFifth && slices.Contains([]theory.Quality{
				theory.SeventhFlatNinthSharpEleventh, theory.SeventhSharpNinthSharpEleventh, theory.SeventhSharpNinthFlatThirteenth,
			}, c.Quality)
			assert.True(t, blue || crowded || slices.Contains(sounding, tone.Class()), "%v of %v in %v", tone, c, k)
		}
		if k.Owns(c) && !strings.HasSuffix(k.Mode.String(), "minor") {
			assert.Equal(t, k.Scale(), scale, "%v in %v", c, k)
		}
	})
}

// Where the chord lies far from the key, as B♯maj7♯5 in C♯ major, the scale is spelled
// otherwise rather than with three sharps or flats.
func TestNoScaleHasThreeSharpsOrFlats(t *testing.T) {
	for _, name := range []string{"C# major", "D# minor", "Cb major"} {
		for _, root := range []string{"B#", "E#", "Fb", "Cb"} {
			for _, q := range theory.Qualities() {
				chord := theorytest.Chord(t, root+q.String())
				for _, alter := range chordscale.Over(theorytest.Key(t, name), chord) {
					assert.LessOrEqual(t, max(alter, -alter), 2, "%s in %s", chord, name)
				}
			}
		}
	}
}

func TestAScaleOverAChordMovesWithTheKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := theory.Key{Mode: rapid.SampledFrom(theory.Modes()).Draw(t, "mode")}
		degree := rapid.IntRange(0, 6).Draw(t, "degree")
		root := theory.Tone{Letter: theory.Letter(degree), Alter: rapid.IntRange(-1, 1).Draw(t, "alter")}
		c := theory.Chord{Root: root, Quality: rapid.SampledFrom(theory.Qualities()).Draw(t, "quality"), Bass: root}
		scale := chordscale.Over(k, c)
		for _, tonic := range []string{"D", "F", "G", "Bb"} {
			moved := theorytest.Key(t, tonic+" "+k.Mode.String())
			up := theory.Between(theory.Pitch{Tone: k.Tonic, Octave: 4}, theory.Pitch{Tone: moved.Tonic, Octave: 4})
			got := chordscale.Over(moved, c.Transpose(up))
			if !spellable(scale, theory.Tone.Up, up) || !spellable(got, theory.Tone.Down, up) {
				continue // there another scale stands: TestNoScaleHasThreeSharpsOrFlats
			}
			var want []int
			for _, class := range classes(scale) {
				want = append(want, (class+up.Semitones)%12)
			}
			assert.ElementsMatch(t, want, classes(got), "%v in %v: %v; in C: %v", c.Transpose(up), moved, got, scale)
		}
	})
}

// spellable reports whether a scale that is moved has no more than two sharps or flats on
// a letter.
func spellable(s theory.Scale, move func(theory.Tone, theory.Interval) theory.Tone, by theory.Interval) bool {
	for l := theory.C; l <= theory.B; l++ {
		if alter := move(s.Tone(l), by).Alter; max(alter, -alter) > 2 {
			return false
		}
	}
	return true
}

func BenchmarkOver(b *testing.B) {
	k, c := theorytest.Key(b, "C major"), theorytest.Chord(b, "Db7")
	for b.Loop() {
		chordscale.Over(k, c)
	}
}

func ExampleOver() {
	k, _ := theory.ParseKey("A minor")
	dominant, _ := theory.ParseChord("E7")
	fmt.Println(k.Scale().Tone(theory.G), chordscale.Over(k, dominant).Tone(theory.G))
	// Output: G G♯
}

func classes(s theory.Scale) []int {
	var list []int
	for l := theory.C; l <= theory.B; l++ {
		list = append(list, s.Tone(l).Class())
	}
	return list
}

// spelled prints a scale from a letter up.
func spelled(s theory.Scale, from theory.Letter) string {
	var names []string
	for step := range 7 {
		names = append(names, s.Tone(from.Up(step)).ASCII())
	}
	return strings.Join(names, " ")
}

// anyChord draws a chord over its root.
func anyChord() *rapid.Generator[theory.Chord] {
	return rapid.Custom(func(t *rapid.T) theory.Chord {
		root := theorytest.AnyTone().Draw(t, "root")
		return theory.Chord{Root: root, Quality: rapid.SampledFrom(theory.Qualities()).Draw(t, "quality"), Bass: root}
	})
}
