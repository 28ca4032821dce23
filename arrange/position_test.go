package arrange_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory/neck"
)

// inKey is an exercise over a chart in a key, in a position, or none for the one that
// is found.
func inKey(key, chart string, density int, position string) string {
	text := fmt.Sprintf("title: Any\nkey: %s\nchart: '%s'\nline: {density: %d%%}\n", key, chart, density)
	if position != "" {
		text += "guitar: {position: " + position + "}\n"
	}
	return text
}

// Common practice: keys with up to six sharps lie well among the open strings, as
// their thirds there have no hole; with flats the hand moves up a fret.
func TestTheLowestPositionWithRoomForTheLineIsFound(t *testing.T) {
	for position, keys := range map[neck.Position]string{
		neck.Open:  "C major,G major,D major,A major,E major,B major,A minor,E minor,B minor,C# minor,G# minor",
		neck.At(1): "F major,Bb major,Eb major,Ab major,Db major,D minor,G minor,C minor,F minor,Bb minor",
	} {
		for key := range strings.SplitSeq(keys, ",") {
			for _, density := range []int{50, 100} {
				s := arrangetest.Score(t, inKey(key, "| 1 | 4 | 5 | 1 |", density, ""))
				assert.Equal(t, position, s.Position, "%s at %d %%", key, density)
			}
		}
	}
}

// In B flat major the open position has neither D3–F3 nor G3–B♭3 nor C4–E♭4: a line
// there runs to and fro between the holes. In the position that is found it does not;
// in each below it, it does.
func TestALineDoesNotGoToAndFroForWantOfThirds(t *testing.T) {
	for _, key := range []string{"C major", "G major", "F# major", "Bb major", "F major", "D minor", "F# minor", "Eb minor"} {
		for _, chart := range []string{"| 1 | 6 | 4 | 5 |", "| 2 | 5 | 1 | 6 |", "| 1 | 1 | 4 | 4 | 5 | 4 | 1 | 5 |"} {
			for _, density := range []int{25, 50, 75, 100} {
				found := arrangetest.Score(t, inKey(key, chart, density, ""))
				assert.LessOrEqual(t, 7*hemmedIn(found), len(found.Line), "%s over %s at %d %%, position %s", key, chart, density, found.Position)
				for _, below := range found.Neck.Candidates() {
					if below == found.Position {
						break
					}
					s := arrangetest.Score(t, inKey(key, chart, density, below.String()))
					assert.Greater(t, 7*hemmedIn(s), len(s.Line), "%s over %s at %d %%, position %s", key, chart, density, below)
				}
			}
		}
	}
}

// hemmedIn counts the thirds of a line in a key's own chords behind which it steps
// straight back, or leaps, where the key's next third cannot be played.
func hemmedIn(s *score.Score) int {
	count := 0
	for i := 0; i+1 < len(s.Line); i++ {
		at, next := s.Line[i].Notes.Staff(), s.Line[i+1].Notes.Staff()
		var missed []int
		for between := min(at, next) + 1; between < max(at, next); between++ {
			missed = append(missed, between)
		}
		if i > 0 && s.Line[i-1].Notes.Staff() == next && max(at-next, next-at) == 1 {
			missed = append(missed, 2*at-next)
		}
		for _, staff := range missed {
			if _, ok := s.Neck.Effort(s.Key.Scale().Third(staff), s.Position); !ok {
				count++
			}
		}
	}
	return count
}

// Over the tonic triad a line may begin on its root or its third, so nearly every
// position has one of them at hand.
func TestALineDoesNotOpenWithAStretch(t *testing.T) {
	s := arrangetest.Score(t, inKey("C major", "| C | Am | Dm | G |", 50, "7"))
	assert.Equal(t, "E4–G4", s.Line[0].Notes.String(), "and not E3–G3, at frets 12 and 10")
	for _, key := range []string{"C major", "Db major", "D major", "Eb major", "E major", "F major", "F# major", "G major", "Ab major", "A major", "Bb major", "B major", "A minor", "C minor"} {
		for fret := 1; fret <= 12; fret++ {
			for _, density := range []int{0, 50, 100} {
				s := arrangetest.Score(t, inKey(key, "| 1 | 6 | 2 | 5 |", density, fmt.Sprint(fret)))
				if stretched(s.Line[0].Places, fret) {
					assert.Empty(t, atHand(s, fret), "%s in position %d opens on %s", key, fret, s.Line[0].Notes)
				}
			}
		}
	}
}

// stretched reports whether a third lies outside a position's frets.
func stretched(pair neck.Pair, fret int) bool {
	low, high := min(pair.Lower.Fret, pair.Upper.Fret), max(pair.Lower.Fret, pair.Upper.Fret)
	return low < fret || high > fret+neck.Span
}

// atHand lists the thirds of the compass with which a line can begin its first chord
// in a position without a stretch.
func atHand(s *score.Score, fret int) (names []string) {
	low, high, _ := s.Neck.Compass(s.Key.Scale(), s.Position)
	chord := s.Bars[0].Chords[0].Chord
	for staff := low.Staff(); staff <= high.Staff(); staff++ {
		third := s.Key.Scale().Third(staff)
		if !chord.Contains(third.Lower.Tone) || !chord.Contains(third.Upper.Tone) {
			continue
		}
		for _, pair := range s.Neck.Pairs(third) {
			if !stretched(pair, fret) {
				names = append(names, third.String())
			}
		}
	}
	return names
}
