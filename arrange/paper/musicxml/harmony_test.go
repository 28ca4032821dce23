package musicxml

import (
	"encoding/xml"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/paper"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

func TestFramesShowTheGrips(t *testing.T) {
	for name, s := range exerciseScores(t) {
		var want, got []string
		for _, m := range repeating(paper.Notate(s), Slashes).Measures {
			for _, span := range m.Chords {
				if !span.None {
					want = append(want, span.Grip.String())
				}
			}
		}
		for _, m := range read(t, s, Slashes).part(t, "Guide").Measures {
			for _, c := range m.Content {
				if f := c.Frame; f != nil {
					grip := slices.Repeat(neck.Grip{neck.NotPlayed}, f.Strings)
					for _, n := range f.Notes {
						grip[f.Strings-n.String] = n.Fret
						first := max(1, f.First)
						require.True(t, n.Fret == 0 || n.Fret >= first && n.Fret < first+f.Frets, "%s: fret %d is shown from fret %d on", name, n.Fret, first)
					}
					got = append(got, grip.String())
				}
			}
		}
		assert.Equal(t, want, got, name)
	}
}

// MusicXML 4.0, kind-value: what each kind is made of, in the schema's words.
const kindsInTheSchema = `
	major (major third, perfect fifth)
	minor (minor third, perfect fifth)
	augmented (major third, augmented fifth)
	diminished (minor third, diminished fifth)
	dominant (major triad, minor seventh)
	major-seventh (major triad, major seventh)
	minor-seventh (minor triad, minor seventh)
	diminished-seventh (diminished triad, diminished seventh)
	augmented-seventh (augmented triad, minor seventh)
	half-diminished (diminished triad, minor seventh)
	major-minor (minor triad, major seventh)
	major-sixth (major triad, added sixth)
	minor-sixth (minor triad, added sixth)
	dominant-ninth (dominant-seventh, major ninth)
	major-ninth (major-seventh, major ninth)
	minor-ninth (minor-seventh, major ninth)
	dominant-11th (dominant-ninth, perfect 11th)
	major-11th (major-ninth, perfect 11th)
	minor-11th (minor-ninth, perfect 11th)
	dominant-13th (dominant-11th, major 13th)
	major-13th (major-11th, major 13th)
	minor-13th (minor-11th, major 13th)
	suspended-second (major second, perfect fifth)
	suspended-fourth (perfect fourth, perfect fifth)
	power (perfect fifth)`

// semitonesInWords holds the intervals of the schema's descriptions.
var semitonesInWords = map[string][2]int{ // degree, semitones
	"major second": {2, 2}, "minor third": {3, 3}, "major third": {3, 4}, "perfect fourth": {4, 5},
	"diminished fifth": {5, 6}, "perfect fifth": {5, 7}, "augmented fifth": {5, 8}, "added sixth": {6, 9},
	"diminished seventh": {7, 9}, "minor seventh": {7, 10}, "major seventh": {7, 11},
	"major ninth": {9, 14}, "perfect 11th": {11, 17}, "major 13th": {13, 21},
}

func TestHarmonyKindAndDegreesAreTheChordsTones(t *testing.T) {
	kinds := map[string]map[int]int{} // semitones by degree
	for _, row := range strings.Split(strings.TrimSpace(kindsInTheSchema), "\n") {
		name, made, _ := strings.Cut(strings.TrimSuffix(strings.TrimSpace(row), ")"), " (")
		tones := map[int]int{1: 0}
		for _, words := range strings.Split(made, ", ") {
			base := strings.TrimSuffix(words, " triad")
			if base == "dominant-seventh" {
				base = "dominant"
			}
			if tone, ok := semitonesInWords[words]; ok {
				tones[tone[0]] = tone[1]
				continue
			}
			require.Contains(t, kinds, base, row)
			for degree, semitones := range kinds[base] {
				tones[degree] = semitones
			}
		}
		kinds[name] = tones
	}
	dominant := map[int]int{2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 10, 9: 14, 11: 17, 13: 21} // MusicXML 4.0, degree-alter

	for _, q := range theory.Qualities() {
		chord := theory.Chord{Quality: q}
		d := document{}
		d.begin("harmony")
		d.chordSymbol(chord)
		d.end()
		var harmony xmlHarmony
		require.NoError(t, xml.Unmarshal(d.Bytes(), &harmony))

		require.Contains(t, kinds, harmony.Kind.Name)
		tones := map[int]int{}
		for degree, semitones := range kinds[harmony.Kind.Name] {
			tones[degree] = semitones
		}
		for _, change := range harmony.Degrees {
			switch change.Type {
			case "add":
				require.NotContains(t, tones, change.Value)
				tones[change.Value] = dominant[change.Value] + change.Alter
			case "alter":
				require.Contains(t, tones, change.Value)
				tones[change.Value] += change.Alter
			case "subtract":
				require.Contains(t, tones, change.Value)
				delete(tones, change.Value)
			}
		}
		want := map[int]int{}
		for _, step := range q.Intervals() {
			want[step.Steps+1] = step.Semitones
		}
		assert.Equal(t, want, tones, "%s as %s %v", chord, harmony.Kind.Name, harmony.Degrees)
		assert.Equal(t, q.String(), harmony.Kind.Text)
	}
}
