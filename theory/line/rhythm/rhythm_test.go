package rhythm_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
)

const bar, eighth = 1920, 240

// spansOf lays out bars of so many equal chords each, which lead from one to the
// next and round.
func spansOf(bars, chords, length int) []rhythm.Span {
	var spans []rhythm.Span
	for b := range bars {
		for i := range chords {
			start := b*length + i*length/chords
			spans = append(spans, rhythm.Span{Start: start, End: start + length/chords, Bar: b, Leads: true})
		}
	}
	return spans
}

// phrasesOf divides bars of so many chords into phrases of four.
func phrasesOf(bars, chords int) []rhythm.Phrase {
	var phrases []rhythm.Phrase
	for b := 0; b < bars; b += 4 {
		n := min(4, bars-b)
		phrases = append(phrases, rhythm.Phrase{First: b * chords, Spans: n * chords, Bars: n, Index: b / 4})
	}
	return phrases
}

// draw writes notes down as an exercise does: one sign a slot.
func draw(m rhythm.Maker, notes []rhythm.Note, bars int) string {
	var b strings.Builder
	for tick := 0; tick < bars*m.Meter.Bar(); tick += m.Grid {
		if tick > 0 && tick%m.Meter.Bar() == 0 {
			b.WriteString("| ")
		}
		sign := rhythm.Rest
		for _, n := range notes {
			switch {
			case n.Tick == tick:
				sign = rhythm.Begin
			case n.Tick < tick && tick < n.Tick+n.Length:
				sign = rhythm.Hold
			}
		}
		fmt.Fprintf(&b, "%c ", sign)
	}
	return strings.TrimSpace(b.String())
}

func maker(density int) rhythm.Maker {
	return rhythm.Maker{Meter: meter.Meter{Beats: 4, Unit: 4}, Grid: eighth, Density: density}
}

// Stated, stated again, driven on, and a breath: a question, and an answer that
// begins like it (common practice). Looked at and clapped.
func TestRhythmOfTwoPhrases(t *testing.T) {
	for density, want := range map[int]string{
		0:   "x - - - - - - - | x - - - - - - - | x - - - - - - - | x - - - - - - - | x - - - - - - - | x - - - - - - - | x - - - - - - - | x - - - - - - -",
		25:  "x - - . . x x - | x - - . . x x - | x - - . . x x - | x - - - - . . x | x - - . . x x - | x - - x - - x - | x - - . . x x - | x - - - - . . x",
		50:  "x - - . x x x x | x - - . x x x x | x - - . x x x x | x - - - . . x x | x - - . x x x x | x - - x - x x x | x - - . x x x x | x - - - . . x x",
		75:  "x - x x x x x x | x - - x x x x x | x x x x x x x x | x - - . . x x x | x - x x x x x x | x - - x x x x x | x x x x x x x x | x - - . . x x x",
		100: "x x x x x x x x | x x x x x x x x | x x x x x x x x | x x x x x x x x | x x x x x x x x | x x x x x x x x | x x x x x x x x | x x x x x x x x",
	} {
		m := maker(density)
		assert.Equal(t, want, draw(m, m.Notes(spansOf(8, 1, bar), phrasesOf(8, 1)), 8), "%d %%", density)
	}
}

// anyChart draws a maker, spans of equal bars and their phrases.
func anyChart(t *rapid.T) (rhythm.Maker, []rhythm.Span, []rhythm.Phrase) {
	m := rhythm.Maker{
		Meter: rapid.SampledFrom(meter.Meters()).Draw(t, "meter"),
		Grid:  rapid.SampledFrom([]int{480, 240, 160, 120}).Draw(t, "grid"),
		Style: rapid.IntRange(0, 8).Draw(t, "style"),
	}
	bars := rapid.IntRange(1, 13).Draw(t, "bars")
	chords := rapid.SampledFrom([]int{1, 2, 3}).Draw(t, "chords")
	return m, spansOf(bars, chords, m.Meter.Bar()), phrasesOf(bars, chords)
}

// Of the slots between a phrase's arrivals density says how many move, to the
// nearest; and more density only ever adds to them.
func TestDensityHoldsOverThePhrase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, spans, phrases := anyChart(t)
		var before map[int]bool
		for density := 0; density <= 100; density += 7 {
			m.Density = density
			notes := m.Notes(spans, phrases)
			ticks := map[int]bool{}
			for _, n := range notes {
				ticks[n.Tick] = true
			}
			for tick := range before {
				require.Contains(t, ticks, tick, "from a lower density")
			}
			before = ticks
			for _, p := range phrases {
				slots, moving := 0, 0
				for i := p.First; i < p.First+p.Spans; i++ {
					slots += len(m.Slots(spans[i]))
					for _, n := range notes {
						if n.Span == i && !n.Arrival {
							moving++
						}
					}
				}
				require.Equal(t, (density*slots+50)/100, moving)
			}
		}
	})
}

// A line has one third at a time, and each chord begins with its arrival.
func TestNotesFollowOneAnother(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, spans, phrases := anyChart(t)
		m.Density = rapid.IntRange(0, 100).Draw(t, "density")
		m.Push = rapid.Bool().Draw(t, "push")
		if rapid.Bool().Draw(t, "written") {
			signs := rapid.SliceOfN(rapid.SampledFrom([]rhythm.Sign{rhythm.Begin, rhythm.Hold, rhythm.Rest}), 6, 6).Draw(t, "signs")
			m.Written = map[int][]rhythm.Sign{0: signs, 2: signs}
		}
		notes := m.Notes(spans, phrases)
		for i, n := range notes {
			require.Positive(t, n.Length)
			if i > 0 {
				require.Less(t, notes[i-1].Tick, n.Tick)
				require.LessOrEqual(t, notes[i-1].Tick+notes[i-1].Length, n.Tick)
				require.Equal(t, notes[i-1].Span != n.Span, n.Arrival)
			}
		}
	})
}

// At the end of a phrase the line breathes: more than half of its last bar is held
// or silent, up to a density of 60 %.
func TestPhrasesBreathe(t *testing.T) {
	for density := 0; density <= 60; density += 5 {
		m := maker(density)
		notes := m.Notes(spansOf(8, 1, bar), phrasesOf(8, 1))
		for _, last := range []int{3, 7} {
			begun := 0
			for _, n := range notes {
				if n.Tick/bar == last {
					begun++
				}
			}
			assert.Less(t, 2*begun, bar/eighth, "bar %d at %d %%", last+1, density)
		}
	}
}

func TestWrittenRhythmIsFollowedToTheLetter(t *testing.T) {
	const text = "x - - - - x x x | x - . x x - x - | . x - x . . x -"
	m := maker(50)
	m.Written = map[int][]rhythm.Sign{}
	for i, signs := range strings.Split(text, "|") {
		m.Written[i] = []rhythm.Sign(strings.ReplaceAll(signs, " ", ""))
	}
	notes := m.Notes(spansOf(3, 1, bar), phrasesOf(3, 1))
	assert.Equal(t, text, draw(m, notes, 3))
	for _, n := range notes {
		assert.Equal(t, n.Tick == 0 || n.Tick == bar || n.Tick == 2*bar+eighth, n.Arrival)
	}
}

// A third in the last slot that is held over the bar line is the next chord's
// arrival, an eighth early.
func TestAThirdTiedOverIsAnArrivalPushed(t *testing.T) {
	m := maker(50)
	signs := []rhythm.Sign("x---x--x")
	m.Written = map[int][]rhythm.Sign{0: signs, 1: []rhythm.Sign("---x-xx-"), 2: []rhythm.Sign("--xx--x-")}
	notes := m.Notes(spansOf(3, 1, bar), phrasesOf(3, 1))
	assert.Equal(t, "x - - - x - - x | - - - x - x x - | x - x x - - x -", draw(m, notes, 3),
		"behind a longer note the chord begins on its first tick all the same")
	for _, n := range notes {
		if n.Tick == bar-eighth {
			assert.True(t, n.Arrival)
			assert.Equal(t, 1, n.Span)
		}
	}
}

func TestPushedArrivalsComeAnEighthEarly(t *testing.T) {
	m := maker(50)
	m.Push = true
	assert.Equal(t, "x - - . x x x x | - - . . x x x x | x - - . x x x x | - - - - . . x x",
		draw(m, m.Notes(spansOf(4, 1, bar), phrasesOf(4, 1)), 4))
}

// Three equal chords in a bar of 4/4 are half-note triplets, which the grid of
// eighths does not meet; the slots then divide the chord's own length.
func TestSlotsOfChordsOffTheGrid(t *testing.T) {
	third := rhythm.Span{Start: 640, End: 1280}
	assert.Equal(t, []int{960}, maker(100).Slots(third))
	m := maker(100)
	m.Grid = 120
	assert.Equal(t, []int{800, 960, 1120}, m.Slots(third))
}

// A part of two spans that comes three times, the first two with an ending.
func TestARepeatedPartEndsBehindItsLastEnding(t *testing.T) {
	part := rhythm.RepeatedPart{First: 5, Length: 2, Times: 3, Endings: []int{1, 2}}
	assert.Equal(t, []int{1, 2, 0}, []int{part.Ending(0), part.Ending(1), part.Ending(2)})
	assert.Equal(t, 5+2+1+2+2+2, part.End())
}
