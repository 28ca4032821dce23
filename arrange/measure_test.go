package arrange_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/score"
	"thirdwise/theory"
)

// measuredCharts are progressions over which lines are measured, one exercise a
// row: key, chart, and what else it says.
var measuredCharts = []struct{ key, chart, settings string }{
	{"C major", "| C | F | Am | G | C | Em | F G | C |", ""},
	{"G major", "| G | D | Em | C | G | Bm | C D | G |", ""},
	{"D major", "| D | G | Em | A7 | Bm | G | A7 | D |", ""},
	{"A major", "| A | D | E7 | F#m | D | Bm | E7 | A |", ""},
	{"E major", "| E | A | C#m | B7 | A | F#m | B7 | E |", ""},
	{"F major", "| F | Gm | C7 | F | Bb | Dm | Gm C7 | F |", ""},
	{"Bb major", "| Bb | Eb | Cm7 | F7 | Gm7 | Eb | F7 | Bb |", ""},
	{"Eb major", "| Ebmaj7 | Cm7 | Fm7 | Bb7 | Ebmaj7 | Abmaj7 | Bb7 | Eb |", ""},
	{"A minor", "| Am | Dm | G | C | F | Dm | E7 | Am |", ""},
	{"E minor", "| Em | C | Am | B7 | Em | G | Am B7 | Em |", ""},
	{"D minor", "| Dm | Gm | C | F | Bb | Gm | A7 | Dm |", ""},
	{"C minor", "| Cm | Ab | Fm | G7 | Cm | Eb | Fm G7 | Cm |", ""},
	{"B harmonic minor", "| Bm | Em | F#7 | Bm | G | Em | F#7 | Bm |", ""},
	{"D dorian", "| Dm7 | Em7 | Dm7 | G | Dm7 | C | G | Dm7 |", ""},
	{"A mixolydian", "| A | G | D | A | Em | G | D | A |", ""},
	{"E phrygian", "| Em | F | Em | Dm | F | G | F | Em |", ""},
	{"F lydian", "| F | G | F | Em | Am | G | F | F |", ""},
	{"C major", "| C | A7 | Dm7 | G7 | Em7 | Ebdim7 | Dm7 G7 | C |", ""},
	{"C major", "| Cmaj7 | Dm7 | Db7 | Cmaj7 | Fmaj7 | Fm6 | Dm7b5 G7 | Cmaj7 |", ""},
	{"F major", "| F | Abdim7 | Gm7 | C7 | F | F7 | Bb Bbm | F |", ""},
	{"C major", "| C | Ab7 | G7 | C | C | Caug | F Fm | C |", ""},
	{"G major", "| G | B7 | Em | G7 | C | Cm | G D7 | G |", ""},
	{"G major", "| G | C | D7 | G | Em | Am | D7 | G |", "meter: 3/4"},
	{"D major", "| D | Bm | G | A | D | Em | G A | D |", "meter: 6/8"},
	{"A minor", "| Am | F | C | G | Dm | Am | E7 | Am |", "meter: 12/8"},
	{"E minor", "| Em | D | C | B7 | Am | Em | B7 | Em |", "meter: 5/4"},
	{"F major", "| F | Dm7 | Gm7 | C7 | Am7 | Dm7 | Gm7 C7 | F |", "feel: swing"},
	{"Bb major", "| Cm7 | F7 | Bbmaj7 | Gm7 | Cm7 | F7 | Bb6 | Bb6 |", "feel: swing"},
	{"A mixolydian", "| A7 | D7 | A7 | A7 | D7 | D7 | A7 | A7 | E7 | D7 | A7 | E7 |", "feel: swing"},
	{"E mixolydian", "| E7 | A7 | E7 | E7 | A7 | A7 | E7 | E7 | B7 | A7 | E7 | E7 |", ""},
}

// measures counts what a listener would wince at, and what pleases.
type measures struct {
	thirds, noThirds        int
	movers, repeats         int
	onStrong, foreignStrong int
	onBeat, foreignBeat     int
	altered, unaltered      int
	augmented               int
	homes, notHome          int
	bars, distinct, never   int // one-chord bars; distinct rhythms among them; charts where none comes twice
	phrases, breaths, peaks int
}

func (m *measures) add(o measures) {
	m.thirds += o.thirds
	m.noThirds += o.noThirds
	m.movers += o.movers
	m.repeats += o.repeats
	m.onStrong += o.onStrong
	m.foreignStrong += o.foreignStrong
	m.onBeat += o.onBeat
	m.foreignBeat += o.foreignBeat
	m.altered += o.altered
	m.unaltered += o.unaltered
	m.augmented += o.augmented
	m.homes += o.homes
	m.notHome += o.notHome
	m.bars += o.bars
	m.distinct += o.distinct
	m.never += o.never
	m.phrases += o.phrases
	m.breaths += o.breaths
	m.peaks += o.peaks
}

func perCent(part, all int) string {
	if all == 0 {
		return "–"
	}
	return fmt.Sprintf("%d %%", (100*part+all/2)/all)
}

func (m measures) String() string {
	return fmt.Sprintf("no third %d, foreign %d, %s; unaltered %s; augmented %d; repeats %s; not home %d of %d; rhythms %s; breath %s; high point %s",
		m.noThirds, m.foreignStrong, perCent(m.foreignBeat, m.onBeat), perCent(m.unaltered, m.altered), m.augmented,
		perCent(m.repeats, m.movers), m.notHome, m.homes, perCent(m.distinct, m.bars), perCent(m.breaths, m.phrases), perCent(m.peaks, m.phrases))
}

// measure measures a score's line. Phrases are four bars long.
func measure(s *score.Score) measures {
	var m measures
	bar := s.Meter.Bar()
	strong, beats := s.Meter.Strong(), s.Meter.BeatStarts()
	key := s.Key.Scale()
	var spans []score.ChordSpan
	for _, b := range s.Bars {
		for _, c := range b.Chords {
			if !c.None {
				spans = append(spans, c)
			}
		}
	}
	span := 0
	rhythms := map[string]int{}
	onsets := map[int][]int{}
	for i, step := range s.Line {
		m.thirds++
		if d := step.Notes.Upper.MIDI() - step.Notes.Lower.MIDI(); d != 3 && d != 4 {
			m.noThirds++
		}
		for span+1 < len(spans) && step.Tick >= spans[span+1].Tick {
			span++
		}
		c := spans[span].Chord
		if step.Role == score.Arrival && step.Tick < spans[span].Tick+spans[span].Length && step.Tick > spans[span].Tick {
			c = spans[span+1].Chord // pushed
		}
		lower, upper := c.Contains(step.Notes.Lower.Tone), c.Contains(step.Notes.Upper.Tone)
		in := step.Tick % bar
		onsets[step.Tick/bar] = append(onsets[step.Tick/bar], in)
		if step.Role != score.Arrival {
			m.movers++
			foreign := !lower && !upper
			if slices.Contains(strong, in) {
				m.onStrong++
				if foreign {
					m.foreignStrong++
				}
			}
			if slices.Contains(beats, in) {
				m.onBeat++
				if foreign {
					m.foreignBeat++
				}
			}
			if i > 0 && step.Notes == s.Line[i-1].Notes && step.Tick == s.Line[i-1].Tick+s.Line[i-1].Length {
				m.repeats++ // and no breath before it
			}
		} else {
			altered, heard := false, false
			for _, tone := range c.Tones() {
				if !key.Sounds(tone) {
					altered = true
					heard = heard || step.Notes.Has(tone)
				}
			}
			if altered {
				m.altered++
				if !heard {
					m.unaltered++
				}
			}
		}
		if i > 0 && s.Key.Mode != theory.HarmonicMinor {
			before := s.Line[i-1]
			for _, v := range [2][2]theory.Pitch{{before.Notes.Lower, step.Notes.Lower}, {before.Notes.Upper, step.Notes.Upper}} {
				d, steps := v[1].MIDI()-v[0].MIDI(), v[1].Staff()-v[0].Staff()
				if max(d, -d) == 3 && max(steps, -steps) == 1 {
					m.augmented++
				}
			}
		}
	}
	last := spans[len(spans)-1]
	if last.Chord.Root.Class() == s.Key.Tonic.Class() {
		m.homes++
		for i := len(s.Line) - 1; i >= 0; i-- {
			if step := s.Line[i]; step.Role == score.Arrival {
				if !step.Notes.Has(s.Key.Tonic) {
					m.notHome++
				}
				break
			}
		}
	}
	for i, b := range s.Bars {
		if len(b.Chords) > 1 {
			continue
		}
		m.bars++
		rhythms[fmt.Sprint(onsets[i])]++
	}
	m.distinct = len(rhythms)
	m.never = 1
	for _, n := range rhythms {
		if n > 1 {
			m.never = 0
		}
	}
	for first := 0; first < len(s.Bars); first += 4 {
		m.phrases++
		end := min(first+4, len(s.Bars))
		grid := s.Grid.Ticks()
		if 2*len(onsets[end-1])*grid < bar {
			m.breaths++
		}
		highest, times := 0, 0
		for i, step := range s.Line {
			if step.Tick < first*bar || step.Tick >= end*bar {
				continue
			}
			switch n := step.Notes.Staff(); {
			case n > highest:
				highest, times = n, 1
			case n == highest && step.Notes != s.Line[i-1].Notes:
				times++
			}
		}
		if times == 1 {
			m.peaks++
		}
	}
	return m
}

// The bounds are those that a teacher would hold a line to; common practice.
func TestMeasures(t *testing.T) {
	var all measures
	t.Log("  foreign thirds on strong beats, on any beat; arrivals without the altered tone; augmented seconds; repeats;")
	t.Log("  ends that are not at home; distinct rhythms; phrases that breathe; phrases with one high point")
	for _, c := range measuredCharts {
		text := fmt.Sprintf("title: Measured\nkey: %s\nchart: '%s'\n%s\n", c.key, c.chart, c.settings)
		m := measure(arrangetest.Score(t, text))
		t.Logf("%s  %s %s %s", m, c.key, c.settings, c.chart)
		require.GreaterOrEqual(t, 3*m.distinct, m.bars, "distinct rhythms: %s", c.chart)
		require.Zero(t, m.never, "a rhythm comes twice: %s", c.chart)
		all.add(m)
	}
	t.Log(all)
	require.Zero(t, all.noThirds, "thirds that are none")
	require.Zero(t, all.foreignStrong, "thirds foreign to the chord on a strong beat")
	require.LessOrEqual(t, 100*all.foreignBeat, 5*all.onBeat, "on any beat")
	require.LessOrEqual(t, 100*all.unaltered, 10*all.altered, "arrivals without the altered tone")
	require.Zero(t, all.augmented, "augmented seconds")
	require.LessOrEqual(t, 100*all.repeats, 5*all.movers, "repeats")
	require.Zero(t, all.notHome, "ends on the tonic's chord without the tonic")
	require.GreaterOrEqual(t, 100*all.breaths, 75*all.phrases, "phrases that breathe")
	require.GreaterOrEqual(t, 100*all.peaks, 75*all.phrases, "phrases with one high point")
}

// The ninth variant is still a good line.
func TestTheLastVariantKeepsTheMeasures(t *testing.T) {
	var all measures
	for _, c := range measuredCharts {
		text := fmt.Sprintf("title: Measured\nkey: %s\nchart: '%s'\nline: {variant: 9}\n%s\n", c.key, c.chart, c.settings)
		all.add(measure(arrangetest.Score(t, text)))
	}
	t.Log(all)
	require.Zero(t, all.foreignStrong, "thirds foreign to the chord on a strong beat")
	require.LessOrEqual(t, 100*all.foreignBeat, 5*all.onBeat, "on any beat")
	require.LessOrEqual(t, 100*all.unaltered, 10*all.altered, "arrivals without the altered tone")
	require.Zero(t, all.augmented, "augmented seconds")
	require.Zero(t, all.notHome, "ends on the tonic's chord without the tonic")
	require.GreaterOrEqual(t, 100*all.breaths, 75*all.phrases, "phrases that breathe")
}

// Four bars of one chord do not begin four times alike (common practice).
func TestAChordThatGoesOnArrivesAnew(t *testing.T) {
	for key, chart := range map[string]string{
		"C major": "| C | C | C | C | C | C | F | G |",
		"G major": "| G | G | G | G | C | C | G | G | D7 | D7 | G | G |",
		"A major": "| A | A | A | A | D | D | E | E |",
	} {
		s := arrangetest.Score(t, fmt.Sprintf("title: Vamp\nkey: %s\nchart: '%s'\n", key, chart))
		arrivals := map[theory.Third]bool{}
		for _, third := range s.Line {
			if third.Role == score.Arrival && third.Tick < 4*s.Meter.Bar() {
				arrivals[third.Notes] = true
			}
		}
		assert.Greater(t, len(arrivals), 1, chart)
	}
}

// Two chords that take turns are told apart even by arrivals alone, though one third
// would suit both (common practice).
func TestArrivalsAloneTakeTurnsWithTheChords(t *testing.T) {
	for key, chart := range map[string]string{
		"C major": "| C | Am | C | Am |",
		"A minor": "| Am | C | Am | C |",
		"G major": "| G | Em | G | Em |",
		"F major": "| F | Dm | F | Dm |",
	} {
		line := arrangetest.Score(t, fmt.Sprintf("title: Turns\nkey: %s\nchart: '%s'\nline: {density: 0%%}\n", key, chart)).Line
		require.Len(t, line, 4, chart)
		for i := 1; i < len(line); i++ {
			assert.NotEqual(t, line[i-1].Notes, line[i].Notes, chart)
		}
	}
}
